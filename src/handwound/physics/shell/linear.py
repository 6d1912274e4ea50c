"""Small motions of a shell of revolution: its stiffness, its mass, its notes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.sparse import csc_array, diags_array
from scipy.sparse.linalg import eigsh, splu

from handwound.physics.shell.element import Harmonic
from handwound.physics.shell.meridian import Array, Shell
from handwound.quantities import Num

SHIFT = -((2 * np.pi) ** 2)
"""Below the square of any note, so that a shell that nothing holds can be solved too. [1/s²]"""


def stiffness(shell: Shell, n_dia: int, lossy: bool = False) -> csc_array:
    r"""Stiffness of a shell that moves as the cosine of ``n_dia`` times the angle.

    .. math:: K_{ij} = \frac{\partial^2}{\partial q_i \partial q_j} \int \left[ \tfrac{1}{2} \epsilon^T C \epsilon
        + \tfrac{1}{2} \kappa^T D \kappa + \tfrac{1}{2} k_s G t \, \gamma^2 \right] r \, d\theta \, ds

    Parameters
    ----------
    shell : Shell
        The shell. [-]
    n_dia : int
        Nodal diameters: 0 moves evenly all round, 1 sideways and in a tilt. [1]
    lossy : bool
        With each sheet's loss: E (1 + j eta). [-]

    Returns
    -------
    K : array
        Sparse, over the components of all nodes. With no nodal diameter they are (u_r, w, turn about the circle), else
        (u_r, v, w) and the turns about (r, circle, z), node by node. [-]

    Notes
    -----
    Thick sheet of one material through (Mindlin's, strains that fall in a straight line through the thickness), small
    strokes. Sheet thicker than a tenth of its radius of bend: some per cent.

    References
    ----------
    .. [1] Mindlin 1951, Reissner 1945; three-node elements looked at in two points: Zienkiewicz and Taylor (all from
       memory).

    Examples
    --------
    >>> from handwound.physics.shell.meridian import line, piece
    >>> stiffness(piece(*line(0.02, 0.0, 0.05, 0.0, 3), 0.0002, 3e9, 0.3, 0.14), 0).shape
    (21, 21)
    """
    return Harmonic(shell, n_dia).stiffness(1 + 1j * shell.eta if lossy else 1.0)


def mass(shell: Shell, n_dia: int) -> csc_array:
    r"""Mass of a shell that moves as the cosine of ``n_dia`` times the angle.

    .. math:: M_{ij} = \frac{\partial^2}{\partial \dot q_i \partial \dot q_j} \int \tfrac{1}{2} \rho_A
        \left[ \dot u^2 + \tfrac{1}{12} t^2 \dot \omega^2 \right] r \, d\theta \, ds

    Parameters
    ----------
    shell : Shell
        The shell. [-]
    n_dia : int
        Nodal diameters. [1]

    Returns
    -------
    M : array
        Sparse, as ``stiffness``. [-]

    Notes
    -----
    Ribs count where they stand. Air is not in it.

    References
    ----------
    .. [1] Kinetic energy, with that of turning (Mindlin 1951, from memory).

    Examples
    --------
    >>> from handwound.physics.shell.meridian import line, piece
    >>> M = mass(piece(*line(0.0, 0.0, 0.05, 0.0, 3), 0.0002, 3e9, 0.3, 0.14), 0).toarray()
    >>> round(float(M[1::3, 1::3].sum()) * 1000, 4)  # all of it rises: area times mass per area
    1.0996
    """
    return Harmonic(shell, n_dia).mass()


def frequencies(
    shell: Shell,
    n_dia: int,
    held: Sequence[int],
    n_mode: int,
    m_ring: float = 0.0,
    at: int | None = None,
    K_ring: float = 0.0,
    hinged: Sequence[int] = (),
) -> tuple[Array, Array]:
    r"""Lowest notes of a shell by itself, in no air, and how it moves in each.

    .. math:: \det \left[ K - (2 \pi f)^2 M \right] = 0

    Parameters
    ----------
    shell : Shell
        The shell. [-]
    n_dia : int
        Nodal diameters. [1]
    held : sequence
        Nodes that nothing moves or turns. [-]
    n_mode : int
        How many notes. [1]
    m_ring : float
        Mass of a rigid ring at the node ``at``. [kg]
    at : int
        The node that carries the ring, or none. [-]
    K_ring : float
        Stiffness that holds the ring along the axis. [N/m]
    hinged : sequence
        Nodes that may turn but not move. All others are free. [-]

    Returns
    -------
    f_mode : array
        The notes, rising; 0 for each way in which nothing holds the shell. [Hz]
    shapes : array
        [note, node, component]: components as in ``stiffness``. [-]

    Notes
    -----
    The node with the ring keeps round and moves as the ring does: along the axis, or sideways and tilting, or, with two
    nodal diameters and more, not at all. The ring turns about a diameter as a thin one, half of m r².
    Three elements a half wave give a note to 0.3 %, six to 0.03 %.

    References
    ----------
    .. [1] Textbook matter.

    Examples
    --------
    >>> from handwound.physics.shell.meridian import line, piece
    >>> card = piece(*line(0.0, 0.0, 0.05, 0.0, 10), 0.00025, 3e9, 0.3, 0.175)
    >>> frequencies(card, 0, [20], 1)[0].round(1)
    array([101.9])
    """
    body = Harmonic(shell, n_dia)
    ring = np.array([] if at is None else [at], dtype=int)
    space = body.space(np.array(held, dtype=int), np.array(hinged, dtype=int), ring)
    K, M = (csc_array(space.T @ matrix @ space) for matrix in (body.stiffness(), body.mass()))
    if at is not None and n_dia < 2:
        M = _with_corner(M, [m_ring] if n_dia == 0 else [m_ring, m_ring * shell.r[at] ** 2 / 2])
        K = _with_corner(K, [K_ring] if n_dia == 0 else [])
    squares, motions = eigsh(K, n_mode, M, sigma=SHIFT, v0=np.ones(K.shape[0]))
    rising = np.argsort(squares)
    shapes = (space @ motions[:, rising]).T.reshape(n_mode, len(shell.r), body.size)
    return np.sqrt(np.maximum(squares[rising], 0)) / (2 * np.pi), shapes


def _with_corner(matrix: csc_array, values: Sequence[float]) -> csc_array:
    """A matrix with something added to the first places of its diagonal."""
    return csc_array(matrix + diags_array(np.pad(np.array(values, dtype=float), (0, matrix.shape[0] - len(values)))))


def _bent_by(shell: Shell, n_dia: int, held: Sequence[int], moved: Sequence[int]) -> tuple[Array, Harmonic]:
    """How the shell stands for each rigid motion of the moved nodes by 1, [component of a node, motion]."""
    body = Harmonic(shell, n_dia)
    ring = np.array(moved, dtype=int)
    space = body.space(np.array(held, dtype=int), np.array([], dtype=int), ring)
    count = len(body.rigid(ring, 0.0))
    K = csc_array(space.T @ body.stiffness() @ space)
    free = -splu(csc_array(K[count:, count:])).solve(K[count:, :count].toarray())
    return space @ np.vstack([np.eye(count), free]), body


def axial_stiffness(shell: Shell, held: Sequence[int], moved: Sequence[int]) -> float:
    r"""Stiffness along the axis of a shell between what holds it and what moves it.

    .. math:: K_{ms} = \min_{u \, : \, u(moved) = 1} u^T K u

    Parameters
    ----------
    shell : Shell
        The shell: a surround, a spider. [-]
    held : sequence
        Nodes that nothing moves or turns. [-]
    moved : sequence
        Nodes that move along the axis as one rigid body. [-]

    Returns
    -------
    Kms : float
        Stiffness. [N/m]

    Notes
    -----
    Small strokes. The moved edge keeps its slope: it is glued to something stiff.

    References
    ----------
    .. [1] Least energy of the bent shell.

    Examples
    --------
    >>> from handwound.physics.shell.meridian import line, piece
    >>> ring = piece(*line(0.050, 0.0, 0.060, 0.0, 8), 0.002, 0.4e6, 0.3, 0.3)
    >>> round(axial_stiffness(ring, [16], [0]))  # as ring_stiffness
    1069
    """
    bent, body = _bent_by(shell, 0, held, moved)
    return float((bent.T @ body.stiffness() @ bent)[0, 0])


def axial_share(shell: Shell, held: Sequence[int], moved: Sequence[int]) -> float:
    r"""Moving share of a suspension's mass, by its kinetic energy where it bends as slowly as under a weight.

    .. math:: m_s = u^T M u

    Parameters
    ----------
    shell : Shell
        The shell: a surround, a spider. [-]
    held : sequence
        Nodes that nothing moves or turns. [-]
    moved : sequence
        Nodes that move along the axis as one rigid body. [-]

    Returns
    -------
    m_s : float
        Mass that moves as the moved edge does. [kg]

    Notes
    -----
    Good far below the first note of the suspension by itself.

    References
    ----------
    .. [1] Rayleigh's method: equal kinetic energy.

    Examples
    --------
    >>> from handwound.physics.shell.meridian import line, piece
    >>> ring = piece(*line(0.050, 0.0, 0.060, 0.0, 8), 0.002, 0.4e6, 0.3, 0.3)
    >>> round(axial_share(ring, [16], [0]) * 1000, 3)  # moving_share, of a straight fall, says 0.33
    0.357
    """
    bent, body = _bent_by(shell, 0, held, moved)
    return float((bent.T @ body.mass() @ bent)[0, 0])


def rocking_stiffness(shell: Shell, held: Sequence[int], moved: Sequence[int]) -> Array:
    r"""Stiffness of a suspension against being shifted sideways and tilted.

    .. math:: \begin{pmatrix} F \\ M \end{pmatrix} =
        \begin{pmatrix} K_y & K_{y \theta} \\ K_{y \theta} & K_\theta \end{pmatrix}
        \begin{pmatrix} y \\ \theta \end{pmatrix}

    Parameters
    ----------
    shell : Shell
        The shell: a surround, a spider. [-]
    held : sequence
        Nodes that nothing moves or turns. [-]
    moved : sequence
        Nodes that move as one rigid body, which tilts about the level of the first of them. [-]

    Returns
    -------
    K_y : float
        First of the matrix: sideways force for a shift. [N/m]
    K_yt : float
        Beside the diagonal: sideways force for a tilt, and as much moment for a shift. [N]
    K_t : float
        Last: moment for a tilt. [N·m]

    Notes
    -----
    A tilt is positive where what stands above that level goes the way of a positive shift. What is flat has nothing
    beside the diagonal. Small angles; weight and the pull of the magnet are not in it.

    References
    ----------
    .. [1] Least energy of the bent shell, one nodal diameter.

    Examples
    --------
    >>> from handwound.physics.shell.meridian import line, piece
    >>> ring = piece(*line(0.050, 0.0, 0.060, 0.0, 8), 0.002, 0.4e6, 0.3, 0.3)
    >>> K = rocking_stiffness(ring, [16], [0])
    >>> round(float(K[1, 1]), 2)  # a little more than half of K r²
    1.62
    """
    bent, body = _bent_by(shell, 1, held, moved)
    return np.asarray(bent.T @ body.stiffness() @ bent)


def ring_frequency(E: Num, rho_m: Num, a: Num, alpha_c: Num) -> Num:
    r"""The note at which a cone's rim would grow and shrink as a ring, by its stretch alone.

    .. math:: f_r = \frac{\sin \alpha}{2 \pi a} \sqrt{E / \rho}

    Parameters
    ----------
    E : float
        Modulus of elasticity. [Pa]
    rho_m : float
        Density of the sheet. [kg/m³]
    a : float
        Radius of the rim. [m]
    alpha_c : float
        Angle of the side against the plane of the rim: 0 for a flat card. [rad]

    Returns
    -------
    f_ring : float
        The note. [Hz]

    Notes
    -----
    Below it a cone that is held at its rim is a piston as far as its sheet goes; above it, bending waves run inwards
    from the rim as far as the circle whose own ring note is the one played. A thin cone's first note with its rim held
    lies 4 % above for 2 µm of paper and 25 % for 0.2 mm; a rim that is free swings already at 0.87 of it (35°). A card
    has none: it bends as a plate.

    References
    ----------
    .. [1] A ring's stretch against its mass, the part of it that is square to the side; the lower end of the notes
       that a membrane of this form has without end (thin shells, from memory).

    Examples
    --------
    >>> round(float(ring_frequency(3e9, 700.0, 0.096, 0.611)))
    1969
    """
    return np.sin(alpha_c) / (2 * np.pi * a) * np.sqrt(E / rho_m)
