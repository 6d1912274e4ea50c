"""Shell elements of three nodes: strains, elasticity and mass for motions that go round as cos nθ.

Displacement (U cos nθ, V sin nθ, W cos nθ) along r, θ, z; turned by the vector (Ω_r sin nθ, Ω_θ cos nθ, Ω_z sin nθ).
Both follow the directions of the axis, not of the sheet, so that sheets meet at any angle. Strains come from the slopes
of the two alone, hence a rigid motion strains nothing, to round-off.
"""

from __future__ import annotations

import numpy as np
from numpy.polynomial import legendre
from scipy.sparse import coo_array, csc_array

from handwound.physics.moving import KAPPA
from handwound.physics.shell.meridian import Array, Shell

COMPONENTS = {True: [0, 2, 4], False: [0, 1, 2, 3, 4, 5]}
"""Which of U, V, W, Ω_r, Ω_θ, Ω_z move: all of them only where the motion changes round the circle."""
STRAINS = 9  # along, round, in-plane shear; shear along, shear round; bending along, round, twist; turn in the plane
IN_PLANE = (
    0.01  # stiffness against turning in the plane otherwise than the sheet does, over G t: its size hardly matters
)


class Places:
    """Where an integral over the elements looks, [e, q]: radius, slopes of the line, shape functions, weights."""

    def __init__(self, shell: Shell, points: int, n: int) -> None:
        xi, weight = legendre.leggauss(points)
        self.value = np.stack([xi * (xi - 1) / 2, 1 - xi**2, xi * (xi + 1) / 2], axis=1)
        slope = np.stack([xi - 0.5, -2 * xi, xi + 0.5], axis=1)
        self.r = shell.r[shell.elements] @ self.value.T
        r_xi, z_xi = (nodes[shell.elements] @ slope.T for nodes in (shell.r, shell.z))
        s_xi = np.hypot(r_xi, z_xi)
        self.r_s, self.z_s = r_xi / s_xi, z_xi / s_xi
        self.along = slope / s_xi[:, :, None]  # slopes of the shape functions along the line
        self.weight = weight * s_xi * self.r * (2 * np.pi if n == 0 else np.pi)


class Harmonic:
    """A shell that moves as cos nθ: its stiffness and mass, over the components of all nodes, node by node."""

    def __init__(self, shell: Shell, n: int) -> None:
        self.shell, self.n = shell, n
        self.moving = COMPONENTS[n == 0]
        self.size = len(self.moving)  # components of a node
        columns = shell.elements[:, :, None] * self.size + np.arange(self.size)
        self.columns = columns.reshape(len(columns), -1)

    def stiffness(self, factor: Array | float = 1.0) -> csc_array:
        """Of all elements, each times its factor."""
        # Strains are looked at in one point less than full, so that thin sheets do not lock; the turn in the plane in
        # all, or it would be free to go to and fro between them.
        sums = 0.0
        for points, rows in ((2, slice(0, 8)), (3, slice(8, 9))):
            at = Places(self.shell, points, self.n)
            B, C = self._strains(at)[:, :, rows], self._elasticity(at)[:, :, rows, rows]
            stress = (C * at.weight[:, :, None, None]) @ B
            sums = sums + np.einsum("eqij,eqik->ejk", B, stress)
        return self._assemble(sums * np.reshape(factor, (-1, 1, 1)))

    def mass(self) -> csc_array:
        """Of the sheet with its thickness, and of the ribs where they stand."""
        shell, at = self.shell, Places(self.shell, 3, self.n)
        t, h, of_ribs = shell.t[:, None], shell.ribs[:, 1, None], shell.ribs[:, 2, None] / at.r
        whole = shell.rho_A[:, None] + of_ribs * h
        first = of_ribs * h * (t + h) / 2
        second = shell.rho_A[:, None] * t**2 / 12 + of_ribs * ((t / 2 + h) ** 3 - (t / 2) ** 3) / 3
        density = np.zeros((*at.r.shape, 6, 6))
        for i in range(3):
            density[..., i, i], density[..., i + 3, i + 3] = whole, second
        for i, j, square in ((3, 3, at.z_s**2), (3, 5, -at.z_s * at.r_s), (5, 3, -at.z_s * at.r_s), (5, 5, at.r_s**2)):
            density[..., i, j] -= second * square  # none about the normal: there the sheet has no thickness to turn
        # at a height over the sheet the turning adds (r' Ω_θ, -r' Ω_r - z' Ω_z, z' Ω_θ) to the displacement
        for i, j, lever in ((0, 4, at.r_s), (1, 3, -at.r_s), (1, 5, -at.z_s), (2, 4, at.z_s)):
            density[..., i, j] = density[..., j, i] = first * lever
        density = density[..., self.moving, :][..., self.moving] * at.weight[..., None, None]
        m = np.einsum("qa,qb,eqij->eaibj", at.value, at.value, density)
        return self._assemble(m.reshape(len(m), *2 * self.columns.shape[1:]))

    def _strains(self, at: Places) -> Array:
        """What each component of an element's nodes adds to the strains, [e, q, strain, component of a node]."""
        n, r, r_s, z_s = self.n, at.r[:, :, None], at.r_s[:, :, None], at.z_s[:, :, None]
        N, d = np.broadcast_to(at.value, at.along.shape), at.along
        over = N / r
        B = np.zeros((*at.r.shape, STRAINS, 3, 6))
        U, V, W, O_r, O_t, O_z = np.moveaxis(B, -1, 0)  # views
        U[:, :, 0], W[:, :, 0] = r_s * d, z_s * d
        U[:, :, 1], V[:, :, 1] = over, n * over
        U[:, :, 2], V[:, :, 2], W[:, :, 2] = -n * r_s * over, d - r_s * over, -n * z_s * over
        U[:, :, 3], W[:, :, 3], O_t[:, :, 3] = -z_s * d, r_s * d, N
        U[:, :, 4], V[:, :, 4], W[:, :, 4] = n * z_s * over, z_s * over, -n * r_s * over
        O_r[:, :, 4], O_z[:, :, 4] = -r_s * N, -z_s * N
        O_t[:, :, 5] = d
        O_r[:, :, 6], O_t[:, :, 6], O_z[:, :, 6] = -n * r_s * over, r_s * over, -n * z_s * over
        O_r[:, :, 7], O_t[:, :, 7], O_z[:, :, 7] = over - r_s * d, -n * over, -z_s * d
        U[:, :, 8], V[:, :, 8], W[:, :, 8] = -n * r_s * over / 2, -(d + r_s * over) / 2, -n * z_s * over / 2
        O_r[:, :, 8], O_z[:, :, 8] = -z_s * N, r_s * N
        return B[..., self.moving].reshape(*at.r.shape, STRAINS, -1)

    def _elasticity(self, at: Places) -> Array:
        """Forces and moments per strain, [e, q, strain, strain]."""
        shell = self.shell
        G = shell.E / (2 * (1 + shell.nu))
        C = shell.E * shell.t / (1 - shell.nu**2)
        D = C * shell.t**2 / 12
        out = np.zeros((*at.r.shape, STRAINS, STRAINS))
        for i, value in enumerate((C, C, G * shell.t, KAPPA * G * shell.t, KAPPA * G * shell.t, D, D)):
            out[:, :, i, i] = value[:, None]
        out[:, :, 0, 1] = out[:, :, 1, 0] = (shell.nu * C)[:, None]
        out[:, :, 5, 6] = out[:, :, 6, 5] = (shell.nu * D)[:, None]
        out[:, :, 7, 7] = (G * shell.t**3 / 12)[:, None]
        out[:, :, 8, 8] = (IN_PLANE * G * shell.t)[:, None]
        t, h, k = shell.t[:, None], shell.ribs[:, 1, None], shell.ribs[:, 0, None] / at.r
        out[:, :, 0, 0] += k * h
        out[:, :, 3, 3] += KAPPA * k * h / (2 * (1 + shell.nu[:, None]))
        out[:, :, 0, 5] += k * h * (t + h) / 2
        out[:, :, 5, 0] += k * h * (t + h) / 2
        out[:, :, 5, 5] += k * ((t / 2 + h) ** 3 - (t / 2) ** 3) / 3
        return out

    def _assemble(self, of_elements: Array) -> csc_array:
        """One sparse matrix of small ones, [e, j, k]."""
        i = np.broadcast_to(self.columns[:, :, None], of_elements.shape)
        j = np.broadcast_to(self.columns[:, None, :], of_elements.shape)
        count = len(self.shell.r) * self.size
        return csc_array(coo_array((of_elements.ravel(), (i.ravel(), j.ravel())), shape=(count, count)))

    def rigid(self, nodes: Array, z: float) -> Array:
        """Motions of nodes as one rigid body, [motion, node, component]: none but for n = 0, along the axis, and n = 1.

        There one shifts it sideways, one turns it about the level ``z``, so that what lies above goes the same way.
        """
        height, none, one = self.shell.z[nodes] - z, np.zeros(len(nodes)), np.ones(len(nodes))
        if self.n == 0:
            motions = [[none, none, one, none, none, none]]
        elif self.n == 1:
            motions = [[one, -one, none, none, none, none], [height, -height, -self.shell.r[nodes], one, one, none]]
        else:
            return np.zeros((0, len(nodes), self.size))
        return np.moveaxis(np.array(motions), 1, 2)[..., self.moving]

    def space(self, held: Array, hinged: Array, rigid: Array) -> csc_array:
        """What can move, [component of a node, motion]: ``rigid`` nodes first, as one body; then all that is free.

        On the axis only what leaves no crack there is free. Held nodes do nothing, hinged ones only turn.
        """
        free = np.ones((len(self.shell.r), self.size), dtype=bool)
        free[held] = free[rigid] = False
        free[hinged, : sum(component < 3 for component in self.moving)] = False
        axis = np.flatnonzero(self.shell.r == 0)
        tied = [(0, 1, -1.0), (3, 4, 1.0)] if self.n == 1 else []  # there V = -U and Ω_θ = Ω_r
        keeps = {0: [1], 1: [0, 3]}.get(self.n, [])
        free[np.ix_(axis, np.setdiff1d(np.arange(self.size), keeps))] = False
        number = np.flatnonzero(free.ravel())
        body = self.rigid(rigid, self.shell.z[rigid[0]]) if len(rigid) else np.zeros((0, 0, self.size))
        rows, columns, values = [number], [np.arange(len(number)) + len(body)], [np.ones(len(number))]
        for k, motion in enumerate(body):
            rows.append((rigid[:, None] * self.size + np.arange(self.size)).ravel())
            columns.append(np.full(motion.size, k))
            values.append(motion.ravel())
        for one, other, sign in tied:
            both = axis[free[axis, one]]
            rows.append(both * self.size + other)
            columns.append(np.searchsorted(number, both * self.size + one) + len(body))
            values.append(np.full(len(both), sign))
        entries = np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))
        return csc_array(coo_array(entries, shape=(free.size, len(number) + len(body))))
