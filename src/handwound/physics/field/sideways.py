"""The sideways pull on a pole that stands off the middle of its bore."""

from __future__ import annotations

import numpy as np

from handwound.errors import FieldError
from handwound.physics.field.bh import MU_0
from handwound.physics.field.solution import Solution

STEPS = 200  # levels at which the field is asked


def eccentric_pull(r_in: float, r_out: float, e_pole: float, U_m: float) -> float:
    r"""Sideways pull, per length, between two parallel cylinders one in the other and off its middle.

    .. math:: F / l = \frac{\pi \mu_0 U^2 e}{r_1 r_2 \sqrt{y^2 - 1} \, \operatorname{acosh}^2 y}, \quad
        y = \frac{r_1^2 + r_2^2 - e^2}{2 r_1 r_2}

    Parameters
    ----------
    r_in : float
        Outer radius of the inner cylinder. [m]
    r_out : float
        Inner radius of the outer one. [m]
    e_pole : float
        Distance of their axes. [m]
    U_m : float
        Difference of magnetic potential between them, the same all around. [A]

    Returns
    -------
    F_l : float
        Force per length on the inner cylinder towards the side where it is nearer. [N/m]

    Notes
    -----
    Exact for long cylinders of steel that takes no ampere-turns itself.

    References
    ----------
    .. [1] Half U² times the slope of the permeance 2 pi mu_0 / acosh(y) per length, which has the form of the
       capacitance of two eccentric cylinders: textbook matter (from memory).

    Examples
    --------
    >>> round(eccentric_pull(0.0125, 0.0140, 0.0003, 780.0), 1)
    3001.1
    """
    if not 0 <= e_pole < r_out - r_in:
        raise FieldError(
            f"offset of the pole: must be from 0 to less than the gap of {(r_out - r_in) * 1e3:.3g} mm; "
            f"found {e_pole * 1e3:.3g} mm."
        )
    y = (r_in**2 + r_out**2 - e_pole**2) / (2 * r_in * r_out)
    return float(np.pi * MU_0 * U_m**2 * e_pole / (r_in * r_out * np.sqrt(y**2 - 1) * np.arccosh(y) ** 2))


def sideways(solution: Solution, r_in: float, r_out: float, z_lo: float, z_hi: float, e_pole: float) -> float:
    r"""Sideways pull on a pole that stands off the middle of its bore.

    .. math:: F = \int \frac{F}{l}(U) \, dz, \quad U(z) = \frac{B_r r}{\mu_0} \ln \frac{r_2}{r_1}

    Parameters
    ----------
    solution : Solution
        The field of the centred motor. [-]
    r_in : float
        Outer radius of the pole. [m]
    r_out : float
        Radius of the bore around it. [m]
    z_lo : float
        Lower level at which pole and bore face each other. [m]
    z_hi : float
        Upper level. [m]
    e_pole : float
        Distance of the pole's axis from the bore's. [m]

    Returns
    -------
    F_side : float
        Force on the pole towards the side where it is nearer. [N]

    Notes
    -----
    The force grows with the offset: nothing draws the pole back to the middle, all draws it to where it already leans,
    as long as there is field. So what is centred without current can rub with it: use a centring ring of brass or
    aluminium. Steel that is full gives the near side less than its share, so saturation lowers the force; the field
    that bulges out above and below the faces adds to it. For a small offset in a narrow gap it is
    pi r B² e h / (mu_0 g): about 80 N e/g for a pole of 25 mm at 0.65 T in a plate of 6 mm.

    References
    ----------
    .. [1] :func:`eccentric_pull`, level by level, with the potential that the centred field tells.
    """
    levels = z_lo + (z_hi - z_lo) * (np.arange(STEPS) + 0.5) / STEPS
    middle = (r_in + r_out) / 2
    U = solution.B([middle], levels)[0][:, 0] * middle * np.log(r_out / r_in) / MU_0
    return eccentric_pull(r_in, r_out, e_pole, 1.0) * float(np.mean(U**2)) * (z_hi - z_lo)
