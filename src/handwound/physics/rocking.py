"""What keeps the moving parts upright: suspensions at their levels against a tilt, and the note at which it rocks."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from handwound.physics.moving import G_N
from handwound.quantities import Num


class Against(NamedTuple):
    """What a suspension sets against a sideways shift and a tilt: their stiffnesses, and what couples the two."""

    K_y: Num
    K_yt: Num
    K_t: Num


def tilt_of_springs(Kms: Num, r: Num) -> Num:
    r"""Stiffness against tilting of springs that stand evenly round a circle, at its own level.

    .. math:: K_\theta = \oint \frac{K}{2 \pi} (r \cos \varphi)^2 \, d\varphi = K r^2 / 2

    Parameters
    ----------
    Kms : float
        Stiffness of all of them along the axis. [N/m]
    r : float
        Radius of the circle. [m]

    Returns
    -------
    K_t : float
        Moment for a tilt of 1 rad. [N·m]

    Notes
    -----
    The least that a suspension does. A sheet that hangs together round the circle also twists: a ring of foam 10 mm
    wide at 50 mm is a fifth stiffer.

    References
    ----------
    .. [1] The mean of cos² round the circle is one half.

    Examples
    --------
    >>> round(tilt_of_springs(1069.0, 0.050), 2)
    1.34
    """
    return Kms * r**2 / 2


def hung_together(K_y: Num, K_yt: Num, K_t: Num, z: Num) -> Against:
    r"""What several suspensions at their levels set together against a shift and a tilt of what they hold.

    .. math:: K_y = \sum_i K_{y,i}, \quad K_{y\theta} = \sum_i (K_{y\theta,i} + z_i K_{y,i}), \quad
        K_\theta = \sum_i (K_{\theta,i} + 2 z_i K_{y\theta,i} + z_i^2 K_{y,i})

    Parameters
    ----------
    K_y : float
        Stiffness of each against a shift. [N/m]
    K_yt : float
        What couples shift and tilt in each. [N]
    K_t : float
        Stiffness of each against a tilt at its own level. [N·m]
    z : float
        Its level above the neck. [m]

    Returns
    -------
    K_y : float
        Stiffness of all against a shift at the neck. [N/m]
    K_yt : float
        What couples the two there. [N]
    K_t : float
        Stiffness of all against a tilt about a line across the neck. [N·m]

    Notes
    -----
    The suspensions stand on the first axis. What they hold is rigid. A tilt moves a level above the neck by z times it,
    the way of a positive shift.

    References
    ----------
    .. [1] Energies add.

    Examples
    --------
    >>> [round(float(each), 3) for each in hung_together(np.array([900.0, 5000.0]), 0.0, 1.5, np.array([0.015, -0.01]))]
    [5900.0, -36.5, 3.702]
    """
    K_y, K_yt, K_t = np.asarray(K_y), np.asarray(K_yt), np.asarray(K_t)
    about = K_y, K_yt + z * K_y, K_t + 2 * z * K_yt + z**2 * K_y
    return Against(*(each.sum(axis=0) for each in np.broadcast_arrays(*about)))


def tilt_stiffness(K_y: Num, K_yt: Num, K_t: Num) -> Num:
    r"""Stiffness against a tilt about whichever line across gives way most.

    .. math:: K_{rock} = \min_y \left( K_\theta + 2 K_{y\theta} \, y + K_y y^2 \right)
        = K_\theta - K_{y\theta}^2 / K_y

    Parameters
    ----------
    K_y : float
        Stiffness against a sideways shift. [N/m]
    K_yt : float
        What couples shift and tilt. [N]
    K_t : float
        Stiffness against a tilt. [N·m]

    Returns
    -------
    K_rock : float
        Moment for a tilt of 1 rad. [N·m]

    Notes
    -----
    Two suspensions apart by s hold each other: where both are stiff sideways, by K_1 K_2/(K_1 + K_2) s² more than their
    own tilts. The same at every level for which the three are told.

    References
    ----------
    .. [1] Least energy.

    Examples
    --------
    >>> round(tilt_stiffness(5900.0, -36.5, 3.7025), 3)
    3.477
    """
    return K_t - K_yt**2 / K_y


def tilt_inertia(m: Num, r: Num, z: Num) -> Num:
    r"""Moment of inertia of thin rings about a line across the axis.

    .. math:: I = \sum_i m_i \left( r_i^2 / 2 + z_i^2 \right)

    Parameters
    ----------
    m : float
        Mass of each ring. [kg]
    r : float
        Its radius. [m]
    z : float
        Its level above that line. [m]

    Returns
    -------
    I_rock : float
        Moment of inertia. [kg·m²]

    Notes
    -----
    The rings stand on the first axis. A cone cut in 10 rings is right to 1 %. The air adds up to a tenth.

    References
    ----------
    .. [1] Definition.

    Examples
    --------
    >>> round(float(tilt_inertia(np.array([0.002, 0.001]), np.array([0.040, 0.013]), np.array([0.01, -0.02]))) * 1e6, 2)
    2.28
    """
    return np.sum(np.asarray(m * (r**2 / 2 + z**2)), axis=0)[()]


def rocking_frequency(K_y: Num, K_yt: Num, K_t: Num, Mmd: Num, z: Num, I_rock: Num) -> Num:
    r"""The note at which all that moves rocks by itself, sideways and tilting at once.

    .. math:: \det \left[ \begin{pmatrix} K_y & K_{y\theta} \\ K_{y\theta} & K_\theta \end{pmatrix}
        - (2 \pi f)^2 \begin{pmatrix} M & M z \\ M z & I \end{pmatrix} \right] = 0

    Parameters
    ----------
    K_y : float
        Stiffness against a shift at the neck. [N/m]
    K_yt : float
        What couples shift and tilt there. [N]
    K_t : float
        Stiffness against a tilt about a line across the neck. [N·m]
    Mmd : float
        Moving mass. [kg]
    z : float
        Level of its centre above the neck. [m]
    I_rock : float
        Moment of inertia about the line across the neck. [kg·m²]

    Returns
    -------
    f_rock : float
        The lower of the two notes. [Hz]

    Notes
    -----
    Nothing but an uneven pull or an uneven mass starts it, but little of that is enough: it is hardly damped. Keep it
    away from the resonance fs, where the stroke is widest.

    References
    ----------
    .. [1] Two masses on springs: any book on vibration.

    Examples
    --------
    >>> round(rocking_frequency(5900.0, -36.5, 3.7025, 0.0065, -0.004, 3e-6))
    149
    """
    a, b, c = Mmd * I_rock - (Mmd * z) ** 2, Mmd * K_t + I_rock * K_y - 2 * Mmd * z * K_yt, K_y * K_t - K_yt**2
    return np.sqrt(2 * c / (b + np.sqrt(b**2 - 4 * a * c))) / (2 * np.pi)


def lean(K_y: Num, K_yt: Num, K_t: Num, Mmd: Num, z: Num) -> Num:
    r"""How far all that moves leans by its weight where the axis is level.

    .. math:: \begin{pmatrix} K_y & K_{y\theta} \\ K_{y\theta} & K_\theta \end{pmatrix}
        \begin{pmatrix} y \\ \theta \end{pmatrix} = g M \begin{pmatrix} 1 \\ z \end{pmatrix}

    Parameters
    ----------
    K_y : float
        Stiffness against a shift at the neck. [N/m]
    K_yt : float
        What couples shift and tilt there. [N]
    K_t : float
        Stiffness against a tilt about a line across the neck. [N·m]
    Mmd : float
        Moving mass. [kg]
    z : float
        Level of its centre above the neck. [m]

    Returns
    -------
    tilt : float
        Angle, whichever way. [rad]

    Notes
    -----
    A coil that hangs down in its gap rubs on one side when it is played loud. Foam that has hung for a month leans
    further.

    References
    ----------
    .. [1] Balance.

    Examples
    --------
    >>> round(float(lean(5900.0, -36.5, 3.7025, 0.0065, -0.004)) * 1000, 4)
    0.0401
    """
    return np.abs(G_N * Mmd * (z * K_y - K_yt) / (K_y * K_t - K_yt**2))


def tilt_by_mass(K_rock: Num, m_off: Num, r_off: Num, a_pk: Num = G_N) -> Num:
    r"""How far a mass off the axis tilts what it sits on, while that is shaken along the axis.

    .. math:: \tau = \frac{m \, r \, \ddot{x}}{K_{rock}}

    Parameters
    ----------
    K_rock : float
        Stiffness against tilting. [N·m]
    m_off : float
        The mass. [kg]
    r_off : float
        Its distance from the axis. [m]
    a_pk : float
        Peak acceleration along the axis; gravity where it only lies there, face up. [m/s²]

    Returns
    -------
    tilt : float
        Angle. [rad]

    Notes
    -----
    Below the rocking note; near it more. At a stroke of 3 mm at 95 Hz the acceleration is 100 times gravity.

    References
    ----------
    .. [1] Balance of moments.

    Examples
    --------
    >>> round(tilt_by_mass(1.5, 0.0003, 0.048) * 1000, 3)
    0.094
    """
    return m_off * r_off * a_pk / K_rock
