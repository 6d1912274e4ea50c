"""What the rear of the diaphragm works against: a closed box, one with ports, the driver's own back, the open air.

All are acoustic impedances: pressure behind the diaphragm over the flow it pushes there. Each may stand beyond another.
"""

from __future__ import annotations

import numpy as np

from handwound.physics.hum import Phasor
from handwound.physics.sound import radiation
from handwound.quantities import Num


def spring(f: Num, V_box: Num, rho_0: Num, c_0: Num, eta_box: Num = 0.0) -> Phasor:
    r"""Acoustic impedance of a volume of air that is squeezed.

    .. math:: Z_a = \frac{\rho_0 c_0^2 \, (1 + j \eta_b)}{j \omega V_b}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    V_box : float
        Volume. [m³]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]
    eta_box : float
        Loss factor of the air with what lines or fills the box. [1]

    Returns
    -------
    Z_a : complex
        Pressure over flow. [Pa·s/m³]

    Notes
    -----
    Holds while the box is small against the wave: to 5 % while the wall farthest from the driver is a sixteenth of a
    wave away, 21 cm at 100 Hz; its own notes begin at half a wave. An empty box loses some hundredths; one full of wool
    acts as if it were larger, by up to 1.4 times (heat that the wool takes; in practice 1.1 to 1.2).

    References
    ----------
    .. [1] Beranek, Acoustics (from memory).

    Examples
    --------
    >>> complex(spring(50.0, 0.010, 1.204, 343.2)).imag.__round__()
    -45141
    """
    return rho_0 * c_0**2 * (1 + 1j * eta_box) / (2j * np.pi * f * V_box)


def leak_resistance(V_box: Num, f_box: Num, Q_leak: Num, rho_0: Num, c_0: Num) -> Num:
    r"""Resistance of a box's leaks from its quality factor.

    .. math:: R_{AL} = \frac{Q_L \, \rho_0 c_0^2}{\omega_b V_b}

    Parameters
    ----------
    V_box : float
        Volume of air in the box. [m³]
    f_box : float
        Frequency at which the quality factor holds: the tuning of a vented box. [Hz]
    Q_leak : float
        Quality factor by leaks alone; inf for a tight box. [1]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    R_leak : float
        Pressure over flow. [Pa·s/m³]

    Notes
    -----
    7 is usual and stands for everything a box loses but in its tube, 3 is a box whose joints whistle (from memory).

    References
    ----------
    .. [1] R. H. Small, Vented-box loudspeaker systems, J. Audio Eng. Soc. 21 (1973) 363 (from memory).

    Examples
    --------
    >>> round(leak_resistance(0.010, 40.0, 7.0, 1.204, 343.2))
    394984
    """
    return Q_leak * rho_0 * c_0**2 / (2 * np.pi * f_box * V_box)


def closed(f: Num, V_box: Num, rho_0: Num, c_0: Num, R_leak: Num = np.inf, eta_box: Num = 0.0) -> Phasor:
    r"""A closed box behind the diaphragm.

    .. math:: \frac{1}{Z_a} = \frac{j \omega V_b}{\rho_0 c_0^2 (1 + j \eta_b)} + \frac{1}{R_{AL}}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    V_box : float
        Volume of air in the box. [m³]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]
    R_leak : float
        Resistance of its leaks; inf for a tight one. [Pa·s/m³]
    eta_box : float
        Loss factor of the air with what lines or fills the box. [1]

    Returns
    -------
    Z_a : complex
        Pressure over flow. [Pa·s/m³]

    Notes
    -----
    As :func:`spring`. The mass of the air that swings inside is left out: less than that of the open side.

    References
    ----------
    .. [1] R. H. Small, Closed-box loudspeaker systems, J. Audio Eng. Soc. 20 (1972) 798 (from memory).

    Examples
    --------
    >>> complex(closed(50.0, 0.010, 1.204, 343.2)).imag.__round__()
    -45141
    """
    return 1 / (1 / spring(f, V_box, rho_0, c_0, eta_box) + 1 / R_leak)


def vented(
    f: Num, V_box: Num, Z_port: Phasor, rho_0: Num, c_0: Num, R_leak: Num = np.inf, eta_box: Num = 0.0
) -> tuple[Phasor, Phasor, Phasor]:
    r"""A box with ports behind the diaphragm, and what comes out of it.

    .. math:: \frac{1}{Z_a} = \frac{1}{Z_V} + \frac{1}{Z_p} + \frac{1}{R_{AL}}, \quad
        k_p = \frac{Z_a}{Z_p}, \quad k_{out} = 1 - \frac{Z_a}{Z_p} - \frac{Z_a}{R_{AL}} = \frac{Z_a}{Z_V}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    V_box : float
        Volume of air in the box. [m³]
    Z_port : complex
        Impedance of all ports with the air outside, see :func:`handwound.physics.vents.ports`. [Pa·s/m³]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]
    R_leak : float
        Resistance of its leaks; inf for a tight one. [Pa·s/m³]
    eta_box : float
        Loss factor of the air with what lines or fills the box. [1]

    Returns
    -------
    Z_a : complex
        Pressure over flow. [Pa·s/m³]
    k_port : complex
        Share of what the diaphragm pushes to the rear that leaves by the ports. [1]
    k_out : complex
        Flow of diaphragm, ports and leaks together over that of the diaphragm: the far pressure goes with it. [1]

    Notes
    -----
    Diaphragm and ports sit close together against the wave. At the tuning k_port is large: there the ports play, the
    diaphragm hardly moves. Below it they undo each other and the diaphragm moves as if there were no box.

    References
    ----------
    .. [1] R. H. Small, Vented-box loudspeaker systems, J. Audio Eng. Soc. 21 (1973) 363 (from memory).

    Examples
    --------
    >>> Z_a, k_port, k_out = vented(20.0, 0.010, 2j * np.pi * 20 * 224.5, 1.204, 343.2)
    >>> round(float(k_port.real), 2), round(float(k_out.real), 2)
    (1.33, -0.33)
    """
    Z_V = spring(f, V_box, rho_0, c_0, eta_box)
    Z_a = 1 / (1 / Z_V + 1 / Z_port + 1 / R_leak)
    return Z_a, Z_a / Z_port, Z_a / Z_V


def frame_back(f: Num, V_back: Num, Z_vent: Phasor, Z_outer: Phasor, rho_0: Num, c_0: Num) -> tuple[Phasor, Phasor]:
    r"""The driver's own closed back: a small volume, its holes, and beyond them whatever the driver is built into.

    .. math:: \frac{1}{Z_a} = \frac{j \omega V}{\rho_0 c_0^2} + \frac{1}{Z_v + Z_o}, \quad
        k_v = \frac{Z_a}{Z_v + Z_o}

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    V_back : float
        Air between the diaphragm and the back. [m³]
    Z_vent : complex
        Impedance of the open holes, see :func:`handwound.physics.vents.vent_holes`. [Pa·s/m³]
    Z_outer : complex
        What lies beyond: :func:`closed`, :func:`vented` or :func:`open_rear`. [Pa·s/m³]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    Z_a : complex
        Pressure over flow behind the diaphragm. [Pa·s/m³]
    k_vent : complex
        Share of what the diaphragm pushes to the rear that passes the holes. [1]

    Notes
    -----
    With all holes taped it is a closed box of V_back. With holes it is a mass below its own resonance and shuts above:
    the rear falls silent there. Behind a box k_port goes with k_vent, and k_out is 1 - k_vent (1 - k_out of the box).

    References
    ----------
    .. [1] Continuity, and Helmholtz's resonator.

    Examples
    --------
    >>> Z_a, k_vent = frame_back(100.0, 0.0002, 2j * np.pi * 100 * 40.0, 0.0, 1.204, 343.2)
    >>> round(float(Z_a.imag)), round(float(k_vent.real), 2)
    (25705, 1.02)
    """
    beyond = Z_vent + Z_outer
    Z_a = 1 / (1 / spring(f, V_back, rho_0, c_0) + 1 / beyond)
    return Z_a, Z_a / beyond


def open_rear(f: Num, a: Num, Sd: Num, rho_0: Num, c_0: Num) -> Phasor:
    r"""The open air behind a diaphragm in a large baffle.

    .. math:: Z_a = \rho_0 c_0 (R_1 + j X_1) / S_d

    Parameters
    ----------
    f : float
        Frequency. [Hz]
    a : float
        Effective radius of the diaphragm. [m]
    Sd : float
        Effective area of the diaphragm. [m²]
    rho_0 : float
        Density of the air. [kg/m³]
    c_0 : float
        Speed of sound. [m/s]

    Returns
    -------
    Z_rear : complex
        Pressure over flow. [Pa·s/m³]

    Notes
    -----
    One side of :func:`handwound.physics.sound.radiation`. Beyond the holes of a frame it is a little too heavy: they
    carry the mass at their ends already.

    References
    ----------
    .. [1] Beranek, Acoustics, piston in an infinite baffle (from memory).

    Examples
    --------
    >>> complex(open_rear(100.0, 0.055, 0.0095, 1.204, 343.2)).imag.__round__()
    3708
    """
    return radiation(f, a, Sd, rho_0, c_0) / (2 * Sd**2)
