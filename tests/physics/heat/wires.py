"""A cell of a winding on a grid: how much heat crosses it, by finite differences."""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

ACROSS = 100
"""Squares along the pitch of the turns."""


def grid_conductivity(
    d_cu: float,
    d_o: float,
    pitch: float,
    layer: float,
    k_cu: float,
    k_enamel: float,
    k_fill: float,
    nested: bool = False,
) -> float:
    """Thermal conductivity along the layer pitch of wires in a lattice; the sides of the cell are lines of symmetry.

    Each square has the mean conductivity of nine points in it; between squares the harmonic mean counts.
    """
    k, length = _squares(d_cu, d_o, pitch, (2 if nested else 1) * layer, (k_cu, k_enamel, k_fill), nested)
    n, m = k.shape
    dz, dr = pitch / n, length / m
    at = np.arange(n * m).reshape(n, m)
    along = 2 * k[:, 1:] * k[:, :-1] / (k[:, 1:] + k[:, :-1]) * dz / dr
    beside = 2 * k[1:] * k[:-1] / (k[1:] + k[:-1]) * dr / dz
    i = np.concatenate([at[:, 1:].ravel(), at[1:].ravel()])
    j = np.concatenate([at[:, :-1].ravel(), at[:-1].ravel()])
    G = np.concatenate([along.ravel(), beside.ravel()])
    first, last = 2 * k[:, 0] * dz / dr, 2 * k[:, -1] * dz / dr
    whole = np.bincount(i, G, n * m) + np.bincount(j, G, n * m)
    whole[at[:, 0]] += first
    whole[at[:, -1]] += last
    rows = np.concatenate([i, j, at.ravel()])
    columns = np.concatenate([j, i, at.ravel()])
    heat = np.zeros(n * m)
    heat[at[:, 0]] = first
    T = spsolve(coo_matrix((np.concatenate([-G, -G, whole]), (rows, columns))).tocsc(), heat)
    return float(np.sum(first * (1 - T[at[:, 0]])) * length / pitch)


def _squares(d_cu: float, d_o: float, pitch: float, length: float, k: tuple[float, ...], nested: bool):
    """Conductivity of the squares of a cell, and the cell's length: one wire, or one and quarters of four."""
    m = round(ACROSS * length / pitch)
    z = (np.arange(3 * ACROSS) + 0.5) / (3 * ACROSS) * pitch
    r = (np.arange(3 * m) + 0.5) / (3 * m) * length
    middles = [(pitch / 2, length / 2)]
    if nested:
        middles += [(a, b) for a in (0.0, pitch) for b in (0.0, length)]
    away = np.min([np.hypot(z[:, None] - a, r - b) for a, b in middles], axis=0)
    points = np.where(away < d_cu / 2, k[0], np.where(away < d_o / 2, k[1], k[2]))
    blocks = points.reshape(ACROSS, 3, m, 3)
    return 1 / (1 / blocks).mean(axis=(1, 3)), length
