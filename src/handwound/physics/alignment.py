"""Which box for a driver: how large, tuned where, what it gives, and which boards to cut."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from handwound.quantities import Num

HALVINGS = 60  # of a factor of 10: to the last digit
WIDE, DEEP = 0.618, 0.618**2
"""Inner width and depth of a box over its height, so that no two sides are alike: common practice, no source."""
LEAST = 1e-3
"""No side is narrower where nothing is said of it. [m]"""


class Vented(NamedTuple):
    """A vented box whose response is flat: tuning over fs, Vas over the volume, f_3 over fs; nan for none.

    ``kind`` is "B4" or "QB3" by the response's name, or "none".
    """

    h: Num
    alpha: Num
    k_3: Num
    kind: str | np.typing.NDArray[np.str_]


class Panels(NamedTuple):
    """Inner width, height and depth of a box, outer width and height: all that its six boards are cut by."""

    W_in: Num
    H_in: Num
    D_in: Num
    W_out: Num
    H_out: Num


def closed_box(fs: Num, Qts: Num, Vas: Num, Qtc: Num) -> tuple[Num, Num, Num]:
    r"""Closed box that gives a driver the quality factor wanted.

    .. math:: \alpha = (Q_{tc} / Q_{ts})^2 - 1, \quad V_b = V_{as} / \alpha, \quad f_c = f_s \, Q_{tc} / Q_{ts}

    Parameters
    ----------
    fs : float
        Resonance frequency. [Hz]
    Qts : float
        Total quality factor, with what is in series with the voice coil. [1]
    Vas : float
        Volume of air as stiff as the suspension. [m³]
    Qtc : float
        Total quality factor wanted: 0.707 for the flattest, 1 for the least that is called warm. [1]

    Returns
    -------
    alpha : float
        Vas over the box's volume. [1]
    V_box : float
        Volume of air in the box; nan where Qts is not below Qtc and no box is large enough. [m³]
    f_c : float
        Resonance frequency in the box; nan likewise. [Hz]

    Notes
    -----
    For a tight box whose air loses nothing. A smaller box raises Qtc and f_c together: from 0.71 on it booms, at 1 by
    1.2 dB.

    References
    ----------
    .. [1] R. H. Small, Closed-box loudspeaker systems, J. Audio Eng. Soc. 20 (1972) 798 (from memory).

    Examples
    --------
    >>> alpha, V_box, f_c = closed_box(40.0, 0.35, 0.060, 2**-0.5)
    >>> round(float(alpha), 4), round(float(V_box) * 1000, 2), round(float(f_c), 2)
    (3.0816, 19.47, 80.81)
    """
    alpha = (Qtc / Qts) ** 2 - 1
    possible = alpha > 0
    V_box = Vas / np.where(possible, alpha, np.nan)
    return alpha, V_box, np.where(possible, fs * Qtc / Qts, np.nan)


def vented_polynomial(h: Num, alpha: Num, Q_leak: Num, Qts: Num) -> tuple[Num, Num, Num]:
    r"""Coefficients of a vented box's response, a high-pass of fourth order.

    .. math:: G(s) = \frac{s^4}{s^4 + a_1 s^3 + a_2 s^2 + a_3 s + 1}, \quad s = \frac{j f}{f_s \sqrt h}

    Parameters
    ----------
    h : float
        Tuning of the box over the driver's resonance. [1]
    alpha : float
        Vas over the box's volume. [1]
    Q_leak : float
        Quality factor of the box at its tuning by its leaks; inf for a tight one. [1]
    Qts : float
        Total quality factor of the driver, with what is in series with the voice coil. [1]

    Returns
    -------
    a_1 : float
        Coefficient of the third power. [1]
    a_2 : float
        Coefficient of the second power. [1]
    a_3 : float
        Coefficient of the first power. [1]

    Notes
    -----
    The air outside counts as a fixed mass, friction in the port as none: all that the box loses is in Q_leak.

    References
    ----------
    .. [1] R. H. Small, Vented-box loudspeaker systems, J. Audio Eng. Soc. 21 (1973) 363 (from memory).

    Examples
    --------
    >>> [round(float(a), 3) for a in vented_polynomial(1.0, 2**0.5, np.inf, 0.38268)]
    [2.613, 3.414, 2.613]
    """
    root, lost = np.sqrt(h), 1 / Q_leak
    a_1 = 1 / (root * Qts) + root * lost
    a_2 = lost / Qts + (alpha + 1) / h + h
    return a_1, a_2, root / Qts + lost / root


def vented_alignment(Q_leak: Num, Qts: Num) -> Vented:
    r"""Vented box with the flattest response that a driver can have in one.

    .. math:: a_1^2 = 2 a_2, \quad a_2^2 + 2 = 2 a_1 a_3, \quad
        x^8 - (a_3^2 - 2 a_2) \, x^2 = 1, \; x = \frac{f_3}{f_s \sqrt h}

    Parameters
    ----------
    Q_leak : float
        Quality factor of the box at its tuning by its leaks; inf for a tight one. [1]
    Qts : float
        Total quality factor of the driver, with what is in series with the voice coil. [1]

    Returns
    -------
    h : float
        Tuning over the driver's resonance; nan where there is none. [1]
    alpha : float
        Vas over the box's volume; nan likewise. [1]
    k_3 : float
        Frequency 3 dB down over the driver's resonance; nan likewise. [1]
    kind : str
        B4, the flattest of all, at one quality factor: 0.383 in a tight box, 0.405 in a usual one; QB3, quasi-flat of
        third order, below it; none above. [-]

    Notes
    -----
    Above B4 a port makes a driver boom, and a closed box or an open board serves it better. A weak hand-made motor is
    mostly there. Qts off by a tenth is 1 dB at the low end: measure it before cutting the port.

    References
    ----------
    .. [1] A. N. Thiele 1961 and R. H. Small, J. Audio Eng. Soc. 21 (1973) 363 and 438 (from memory).

    Examples
    --------
    >>> box = vented_alignment(7.0, 0.30)
    >>> round(float(box.h), 4), round(float(box.alpha), 4), round(float(box.k_3), 4), str(box.kind)
    (1.3145, 2.8452, 1.5732, 'QB3')
    """
    Q_leak, Qts = np.broadcast_arrays(np.asarray(Q_leak, float), np.asarray(Qts, float))
    # near to what a tight box wants: h² = 1 / (8 Q² (1 - Q²)); a leaky one wants a little more
    guess = np.sqrt(1 / (8 * Qts**2 * np.maximum(1 - Qts**2, 0.1)))
    low, high = guess / 10**0.5, guess * 10**0.5
    for _ in range(HALVINGS):
        h = np.sqrt(low * high)
        a_1, _, a_3 = vented_polynomial(h, 0.0, Q_leak, Qts)
        more = a_1**4 / 4 + 2 > 2 * a_1 * a_3  # a_2 = a_1²/2 put in; the difference falls as h rises
        low, high = np.where(more, h, low), np.where(more, high, h)
    a_1, rest, a_3 = vented_polynomial(h, 0.0, Q_leak, Qts)
    alpha = h * (a_1**2 / 2 - rest)
    extra = a_3**2 - a_1**2
    kind = np.where(np.abs(h - 1) < 1e-3, "B4", np.where(h > 1, "QB3", "none"))
    there = kind != "none"
    k_3 = _third_order_edge(extra) * np.sqrt(h)
    return Vented(np.where(there, h, np.nan), np.where(there, alpha, np.nan), np.where(there, k_3, np.nan), kind)


def lowest(f: Num, L_p: Num, L_ref: Num, dL_fall: Num) -> Num:
    r"""Lowest frequency at which a level is within a fall from its reference.

    .. math:: f_x = \min \{ f : L(f) \ge L_{ref} - \Delta L \}

    Parameters
    ----------
    f : float
        Frequencies, rising. [Hz]
    L_p : float
        Level at each; frequencies along the first axis. [dB]
    L_ref : float
        Level it is compared to. [dB]
    dL_fall : float
        Fall that is allowed: 3 or 10. [dB]

    Returns
    -------
    f_edge : float
        Frequency; the first one where the level does not fall there, nan where it is never within. [Hz]

    Notes
    -----
    Straight over lg f between two frequencies. A dip further up does not count: look at the curve.

    References
    ----------
    .. [1] IEC 60268-5 (from memory): the effective range ends 10 dB down.

    Examples
    --------
    >>> f = np.array([20.0, 40.0, 80.0, 160.0])
    >>> round(float(lowest(f, np.array([60.0, 72.0, 84.0, 84.0]), 84.0, 6.0)), 2)
    56.57
    """
    f, over = np.asarray(f, float), np.asarray(L_p, float) - (L_ref - dL_fall)
    above = np.maximum(np.argmax(over >= 0, axis=0), 1)
    l_0, l_1 = (np.take_along_axis(over, k[None], axis=0)[0] for k in (above - 1, above))
    falls = (l_0 < 0) & (l_1 >= 0)
    part = np.where(falls, -l_0, 0.0) / np.where(falls, l_1 - l_0, 1.0)
    edge = f[above - 1] * (f[above] / f[above - 1]) ** part
    return np.where(np.any(over >= 0, axis=0), edge, np.nan)


def panels(
    V_box: Num, t_box: Num, V_more: Num, k_W: Num = WIDE, k_D: Num = DEEP, W_least: Num = LEAST, D_least: Num = LEAST
) -> Panels:
    r"""Boards of a box, butt-jointed: front and back over all, top and bottom between them, the sides between all.

    .. math:: W_i H_i D_i = V_b + V_+, \quad W_i = \max(k_W H_i, W_0), \quad D_i = \max(k_D H_i, D_0)

    Parameters
    ----------
    V_box : float
        Volume of air wanted. [m³]
    t_box : float
        Thickness of the boards. [m]
    V_more : float
        What driver, ports and struts take of it. [m³]
    k_W : float
        Inner width over inner height. [1]
    k_D : float
        Inner depth over inner height. [1]
    W_least : float
        Least inner width and height: the driver's outer diameter. [m]
    D_least : float
        Least inner depth: the driver's, with air behind it. [m]

    Returns
    -------
    W_in : float
        Inner width; nan, as all others, where so little room cannot hold the driver. [m]
    H_in : float
        Inner height. [m]
    D_in : float
        Inner depth. [m]
    W_out : float
        Outer width. [m]
    H_out : float
        Outer height. [m]

    Notes
    -----
    Two boards W_out x H_out for front and back, two W_out x D_in for top and bottom, two D_in x H_in for the sides.
    Sides of the golden ratio, unless the driver wants them wider or deeper; then the height gives. The saw takes its
    own width besides. Wood that is sawn or sanded makes dust that harms the lungs: a mask, and the saw's guard in its
    place.

    References
    ----------
    .. [1] Plane geometry; the proportions are common practice, no source.

    Examples
    --------
    >>> box = panels(0.010, 0.012, 0.0005)
    >>> [round(float(side) * 1000) for side in box]
    [219, 354, 135, 243, 378]
    """
    V = V_box + V_more
    # the room grows with the height, and is the largest of four: as high as the lowest of them
    H_in = np.minimum(
        np.minimum((V / (k_W * k_D)) ** (1 / 3), (V / (W_least * k_D)) ** (1 / 2)),
        np.minimum((V / (k_W * D_least)) ** (1 / 2), V / (W_least * D_least)),
    )
    H_in = np.where(H_in < W_least, np.nan, H_in)
    W_in, D_in = np.maximum(k_W * H_in, W_least), np.maximum(k_D * H_in, D_least)
    return Panels(W_in, H_in, D_in, W_in + 2 * t_box, H_in + 2 * t_box)


def _third_order_edge(extra: Num) -> Num:
    """Root of x⁸ - extra x² = 1, by Newton's method from above."""
    x = 1.0 + np.sqrt(np.abs(extra)) ** (1 / 3) + 0 * extra
    for _ in range(HALVINGS):
        x = x - (x**8 - extra * x**2 - 1) / (8 * x**7 - 2 * extra * x)
    return x
