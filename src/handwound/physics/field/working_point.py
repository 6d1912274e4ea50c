"""Where a magnet works on its recoil line, and how far that is from the knee below which it loses strength for good."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from handwound.physics.field.bh import MU_0, Array
from handwound.physics.field.problem import DIRECTIONS, Magnet
from handwound.physics.field.solution import Solution
from handwound.quantities import Num

T_REF = 20.0
"""Temperature for which makers state coercivity and remanence. [°C]"""
K_KNEE = 0.9
"""Field strength at the knee over the coercivity of J in ferrite and neodymium: 0.9, the low end (from memory)."""
WORST = 0.01  # of a magnet's volume counts as its worst place: a corner alone has no field that a grid could find


@dataclass(frozen=True)
class WorkingPoint:
    """Flux density [T] and field strength [A/m] in a magnet along its direction; a negative H demagnetises.

    ``B`` and ``H`` are at places ``r`` and ``z`` [m] all over the magnet, each with its ``share`` of the volume; the
    worst is the place with the most negative H, a hundredth of the volume taken off.
    """

    name: str
    B_mean: float
    H_mean: float
    H_worst: float
    B: Array
    H: Array
    r: Array
    z: Array
    share: Array


def working_points(solution: Solution) -> list[WorkingPoint]:
    r"""Flux density and field strength along the magnetisation in every magnet of a motor.

    .. math:: H = \frac{B - B_{rem}}{\mu_0 \mu_{rec}}

    Parameters
    ----------
    solution : Solution
        The field. [-]

    Returns
    -------
    points : list
        One :class:`WorkingPoint` for each magnet ring: at many places, in the mean, and at the worst place. [-]

    Notes
    -----
    The recoil line is straight: below the knee (:func:`knee_field`) a real magnet has less than this. In the very edge
    the field strength has no bound in a sharp-edged model; real edges are round, so the worst hundredth of the volume
    is left out. On the grid FULL that place is within 0.7 % of a finest grid's, on SEARCH within 4 %, and too strong;
    the mean is within 0.1 % on either (a ferrite ring, and a neodymium disc of 25 x 5 mm in a cup).

    References
    ----------
    .. [1] The recoil line: IEC 60404-8-1 (from memory).
    """
    system = solution.system
    found = []
    for k, ring in enumerate(solution.problem.rings):
        if ring.magnet is None:
            continue
        elements = np.flatnonzero(system.owner == k)
        B_r, B_z = system.B(elements, solution.A.ravel())
        along_r, along_z = DIRECTIONS[ring.magnet.direction]
        B, weight = (along_r * B_r + along_z * B_z).ravel(), system.curl_at(elements)[1].ravel()
        r, z = (places.ravel() for places in system.places(elements))
        found.append(_point(ring.name, ring.magnet, B, r, z, weight / weight.sum()))
    return found


def _point(name: str, magnet: Magnet, B: Array, r: Array, z: Array, share: Array) -> WorkingPoint:
    H = (B - magnet.B_rem) / (MU_0 * magnet.mu_rec)
    rising = np.argsort(H)
    worst = rising[np.searchsorted(np.cumsum(share[rising]), WORST)]
    return WorkingPoint(name, float(share @ B), float(share @ H), float(H[worst]), B, H, r, z, share)


def knee_field(HcJ: Num, alpha_H: Num, k_knee: Num, T: Num) -> Num:
    r"""Field strength at the knee of a magnet's line at a temperature.

    .. math:: H_k = -k \, H_{cJ} \left( 1 + \alpha_H (T - 20) \right)

    Parameters
    ----------
    HcJ : float
        Coercivity of the polarisation at 20 °C. [A/m]
    alpha_H : float
        Its temperature coefficient. [1/K]
    k_knee : float
        Field strength at the knee over the coercivity. [1]
    T : float
        Temperature of the magnet. [°C]

    Returns
    -------
    H_k : float
        Field strength at the knee; what is more negative costs strength for good. [A/m]

    Notes
    -----
    Makers state HcJ as a least value, so the knee is usually further away. The squareness of sintered magnets is 0.9
    to 0.98; 0.9, the value that its definition by 0.9 B_rem suggests, is careful. Bonded magnets and alnico bend all
    along: for them there is no knee to speak of. Where the coefficient would turn HcJ negative it is taken as nothing.

    References
    ----------
    .. [1] Squareness and coefficients: makers' data sheets and IEC 60404-8-1 (from memory).

    Examples
    --------
    >>> round(float(knee_field(955e3, -0.0076, 0.9, 80.0)))
    -467568
    """
    return -k_knee * HcJ * np.maximum(1 + alpha_H * (T - T_REF), 0.0)


def knee_margin(H_m: Num, T_0: Num, alpha_B: Num, HcJ: Num, alpha_H: Num, k_knee: Num, T: Num) -> Num:
    r"""How far a place in a magnet stays from the knee at a temperature.

    .. math:: \Delta H = H \frac{1 + \alpha_B (T - 20)}{1 + \alpha_B (T_0 - 20)} - H_k(T)

    Parameters
    ----------
    H_m : float
        Field strength there along the magnetisation, negative where it demagnetises. [A/m]
    T_0 : float
        Temperature for which it was computed. [°C]
    alpha_B : float
        Temperature coefficient of the remanence. [1/K]
    HcJ : float
        Coercivity of the polarisation at 20 °C. [A/m]
    alpha_H : float
        Its temperature coefficient. [1/K]
    k_knee : float
        Field strength at the knee over the coercivity. [1]
    T : float
        Temperature of the magnet. [°C]

    Returns
    -------
    dH : float
        Field strength left before the knee; below nothing the place has lost strength for good. [A/m]

    Notes
    -----
    The field strength in the magnet is taken to go with its remanence. That is exact where all steel is unsaturated
    and no other magnet or coil has a part in it; a saturated motor moves less.

    References
    ----------
    .. [1] :func:`knee_field`; the circuit is linear in the remanence.

    Examples
    --------
    >>> round(float(knee_margin(-150e3, 20.0, -0.002, 180e3, 0.003, 0.9, -20.0)))
    -19440
    """
    H = H_m * (1 + alpha_B * (T - T_REF)) / (1 + alpha_B * (T_0 - T_REF))
    return H - knee_field(HcJ, alpha_H, k_knee, T)


def knee_temperature(H_m: Num, T_0: Num, alpha_B: Num, HcJ: Num, alpha_H: Num, k_knee: Num) -> Num:
    r"""Temperature at which a place in a magnet meets the knee.

    .. math:: T = 20 + \frac{k H_{cJ} - |H_{20}|}{\alpha_B |H_{20}| - \alpha_H k H_{cJ}}, \quad
        H_{20} = \frac{H}{1 + \alpha_B (T_0 - 20)}

    Parameters
    ----------
    H_m : float
        Field strength there along the magnetisation, negative where it demagnetises. [A/m]
    T_0 : float
        Temperature for which it was computed. [°C]
    alpha_B : float
        Temperature coefficient of the remanence. [1/K]
    HcJ : float
        Coercivity of the polarisation at 20 °C. [A/m]
    alpha_H : float
        Its temperature coefficient. [1/K]
    k_knee : float
        Field strength at the knee over the coercivity. [1]

    Returns
    -------
    T_knee : float
        Temperature of the knee: ferrite meets it when cold, neodymium when hot. nan where nothing demagnetises. [°C]

    Notes
    -----
    Straight lines over the temperature, good to about 100 K from 20 °C; an answer below -273 °C means never. A place
    that is past the knee at 20 °C already gives a temperature on the other side: look at :func:`knee_margin` too.

    References
    ----------
    .. [1] The root of :func:`knee_margin`.

    Examples
    --------
    >>> round(float(knee_temperature(-400e3, 20.0, -0.0012, 955e3, -0.0076, 0.9)))
    96
    >>> round(float(knee_temperature(-150e3, 20.0, -0.002, 180e3, 0.003, 0.9)))
    5
    """
    against = -np.asarray(H_m, float) / (1 + alpha_B * (T_0 - T_REF))
    knee = k_knee * HcJ
    with np.errstate(divide="ignore", invalid="ignore"):
        T = T_REF + (knee - against) / (alpha_B * against - alpha_H * knee)
    return np.where(against > 0, T, np.nan)[()]
