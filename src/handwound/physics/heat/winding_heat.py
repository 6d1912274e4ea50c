"""A winding as one material: how much of it is metal, how well heat crosses it, how much heat it stores."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from handwound.physics.wire import RHO_ENAMEL

if TYPE_CHECKING:
    from handwound.quantities import Num

K_ENAMEL = 0.2
"""Thermal conductivity of enamel. [W/(m·K)] Polyurethane and polyester resins, 0.17 to 0.25 (from memory)."""
C_ENAMEL = 1500.0
"""Specific heat of enamel. [J/(kg·K)] Polyurethane and polyester resins, 1200 to 1800 (from memory)."""
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
PLACES, SHARES = (1 + _NODES) / 2, _WEIGHTS / 2
"""Places across half a wire, and what share of it each stands for (Gauss and Legendre)."""


def fill_factor(d_cu: Num, d_o: Num, k_p: Num, k_lay: Num) -> tuple[Num, Num, Num]:
    r"""Shares of the cross-section of a winding: metal, enamel, and what is between the wires.

    .. math:: f_{cu} = \frac{\pi}{4} \frac{k_p}{k_{lay}} \left( \frac{d_{cu}}{d_o} \right)^2, \quad
        f_{enamel} = \frac{\pi}{4} \frac{k_p}{k_{lay}} - f_{cu}, \quad f_{rest} = 1 - f_{cu} - f_{enamel}

    Parameters
    ----------
    d_cu : float
        Bare conductor diameter. [m]
    d_o : float
        Overall diameter with the enamel. [m]
    k_p : float
        Packing factor: turns laid per turns that would fit ideally. [1]
    k_lay : float
        Layer pitch in overall diameters: 1 stacked, 0.866 nested. [1]

    Returns
    -------
    f_cu : float
        Share of the metal. [1]
    f_enamel : float
        Share of the enamel. [1]
    f_rest : float
        Share of air, or of what fills its place. [1]

    Notes
    -----
    Each wire has the room of d_o/k_p along the axis and k_lay d_o along the radius. Tape between layers is not in it.

    References
    ----------
    .. [1] Plane geometry.

    Examples
    --------
    >>> [round(share, 3) for share in fill_factor(0.00050, 0.00055, 0.92, 1.0)]
    [0.597, 0.125, 0.277]
    """
    wires = np.pi / 4 * k_p / k_lay
    f_cu = wires * (d_cu / d_o) ** 2
    return f_cu, wires - f_cu, 1 - wires


def mixture_conductivity(k_i: Num, k_m: Num, f_i: Num) -> Num:
    r"""Thermal conductivity across round rods that are evenly spread in something else.

    .. math:: k = k_m \frac{k_i (1 + f) + k_m (1 - f)}{k_i (1 - f) + k_m (1 + f)}

    Parameters
    ----------
    k_i : float
        Thermal conductivity of the rods. [W/(m·K)]
    k_m : float
        Thermal conductivity of what is between them. [W/(m·K)]
    f_i : float
        Share of the rods in the cross-section. [1]

    Returns
    -------
    k_across : float
        Thermal conductivity across the rods. [W/(m·K)]

    Notes
    -----
    Exact for a wire in its own enamel; of many rods it is the least that can be where they conduct better than their
    surroundings. Rods that touch in poor air conduct up to three times as much.

    References
    ----------
    .. [1] F. Ollendorff's mixture of cylinders, the lower bound of Z. Hashin and S. Shtrikman (both from memory).

    Examples
    --------
    >>> round(mixture_conductivity(390.0, 0.2, 0.6), 4), round(mixture_conductivity(390.0, 0.026, 0.6), 4)
    (0.7985, 0.104)
    """
    return k_m * (k_i * (1 + f_i) + k_m * (1 - f_i)) / (k_i * (1 - f_i) + k_m * (1 + f_i))


def touching_conductivity(d_cu: Num, d_o: Num, k_p: Num, k_cu: Num, k_enamel: Num, k_fill: Num) -> Num:
    r"""Thermal conductivity across layers of wire that lie on each other, heat taken on straight ways.

    .. math:: k = k_p \int_0^1 \frac{d_o \, dy}{c_{cu} / k_{cu} + (c_o - c_{cu}) / k_{enamel} + (d_o - c_o) / k_{fill}}
        + (1 - k_p) \, k_{fill}, \quad c = \sqrt{d^2 - y^2 d_o^2}

    Parameters
    ----------
    d_cu : float
        Bare conductor diameter. [m]
    d_o : float
        Overall diameter with the enamel. [m]
    k_p : float
        Packing factor: turns laid per turns that would fit ideally. [1]
    k_cu : float
        Thermal conductivity of the metal. [W/(m·K)]
    k_enamel : float
        Thermal conductivity of the enamel. [W/(m·K)]
    k_fill : float
        Thermal conductivity of what is between the wires. [W/(m·K)]

    Returns
    -------
    k_across : float
        Thermal conductivity along the radius of the coil. [W/(m·K)]

    Notes
    -----
    Heat crosses where two wires meet and the wedge of air beside that place is thin. It also spreads on its way: a
    solution on a grid gives 4 to 9 % more.

    References
    ----------
    .. [1] Heat in parallel on straight ways is a lower bound of conduction, a textbook result (from memory).

    Examples
    --------
    >>> round(float(touching_conductivity(0.00050, 0.00055, 0.92, 390.0, 0.2, 0.027)), 3)
    0.437
    """
    cu, o, leads = (np.asarray(each)[..., None] for each in (d_cu, d_o, k_cu))
    enamel, fill = (np.asarray(each)[..., None] for each in (k_enamel, k_fill))
    c_o = o * np.sqrt(1 - PLACES**2)
    c_cu = np.sqrt(np.maximum(cu**2 - (o * PLACES) ** 2, 0.0))
    under_wires = np.sum(SHARES * o / (c_cu / leads + (c_o - c_cu) / enamel + (o - c_o) / fill), axis=-1)
    return k_p * under_wires + (1 - k_p) * k_fill


def winding_conductivity(d_cu: Num, d_o: Num, k_p: Num, k_lay: Num, k_cu: Num, k_enamel: Num, k_fill: Num) -> Num:
    r"""Thermal conductivity of a winding across its wires.

    .. math:: k = \max \left( k_{touching}, \; k_{mixture}(k_{wire}, k_{fill}, f_{cu} + f_{enamel}) \right), \quad
        k_{wire} = k_{mixture}(k_{cu}, k_{enamel}, (d_{cu} / d_o)^2)

    Parameters
    ----------
    d_cu : float
        Bare conductor diameter. [m]
    d_o : float
        Overall diameter with the enamel. [m]
    k_p : float
        Packing factor: turns laid per turns that would fit ideally. [1]
    k_lay : float
        Layer pitch in overall diameters: 1 stacked, 0.866 nested. [1]
    k_cu : float
        Thermal conductivity of the metal. [W/(m·K)]
    k_enamel : float
        Thermal conductivity of the enamel. [W/(m·K)]
    k_fill : float
        Thermal conductivity of what is between the wires. [W/(m·K)]

    Returns
    -------
    k_across : float
        Thermal conductivity across the wires. [W/(m·K)]

    Notes
    -----
    The better of two estimates that are both low: wires that touch from layer to layer, which counts in air, and wires
    spread evenly, which counts in varnish. Stacked it is within 10 % of solutions on a grid. Nested wires in air that
    sink until they touch two others conduct up to 1.6 times as much, loose or dusty ones less than either: ±30 %.
    Along the axis wires stand apart, and in air the winding conducts less there, the mixture at the least. Tape between
    layers is not in it.

    References
    ----------
    .. [1] :func:`touching_conductivity` and :func:`mixture_conductivity`.

    Examples
    --------
    >>> round(float(winding_conductivity(0.00050, 0.00055, 0.92, 1.0, 390.0, 0.2, 0.027)), 3)
    0.437
    >>> round(float(winding_conductivity(0.00050, 0.00055, 0.92, 0.866, 390.0, 0.2, 0.2)), 3)
    1.086
    """
    f_cu, f_enamel, _ = fill_factor(d_cu, d_o, k_p, k_lay)
    spread = mixture_conductivity(mixture_conductivity(k_cu, k_enamel, (d_cu / d_o) ** 2), k_fill, f_cu + f_enamel)
    return np.maximum(touching_conductivity(d_cu, d_o, k_p, k_cu, k_enamel, k_fill), spread)


def winding_capacity(d_cu: Num, d_o: Num, k_p: Num, k_lay: Num, c_cu: Num, c_fill: Num = 0.0) -> Num:
    r"""Heat that a winding stores in its volume for a kelvin.

    .. math:: c_v = f_{cu} c_{cu} + f_{enamel} \rho_{enamel} c_{p,enamel} + f_{rest} c_{fill}

    Parameters
    ----------
    d_cu : float
        Bare conductor diameter. [m]
    d_o : float
        Overall diameter with the enamel. [m]
    k_p : float
        Packing factor: turns laid per turns that would fit ideally. [1]
    k_lay : float
        Layer pitch in overall diameters: 1 stacked, 0.866 nested. [1]
    c_cu : float
        Heat stored by the metal: density times specific heat. [J/(m³·K)]
    c_fill : float
        Heat stored by what is between the wires; air stores nothing that counts. [J/(m³·K)]

    Returns
    -------
    c_v : float
        Heat stored by the winding. [J/(m³·K)]

    Notes
    -----
    As good as the shares, about 3 %.

    References
    ----------
    .. [1] The definition of specific heat; enamel: RHO_ENAMEL and C_ENAMEL (from memory).

    Examples
    --------
    >>> round(winding_capacity(0.00050, 0.00055, 0.92, 1.0, 3.42e6) / 1e6, 2)
    2.29
    """
    f_cu, f_enamel, f_rest = fill_factor(d_cu, d_o, k_p, k_lay)
    return f_cu * c_cu + f_enamel * RHO_ENAMEL * C_ENAMEL + f_rest * c_fill
