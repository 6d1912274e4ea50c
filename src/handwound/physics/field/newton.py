"""Newton's method for the field on one system of equations."""

from __future__ import annotations

import numpy as np

from handwound.errors import FieldError
from handwound.physics.field.bh import Array
from handwound.physics.field.reduced import Step
from handwound.physics.field.system import State, System

ENOUGH = 1e-8  # residual over load at which the field counts as found; 1e-10 is below round-off on fine grids
ROUND_OFF = 1e-6  # below this, a residual that no longer falls is round-off
KEEP = 0.25  # a factored step is kept while each use shrinks the residual at least to this share (measured)
MOST = 60  # steps


class Newton:
    """Newton's method with a factored step that is kept as long as it still shrinks the residual well."""

    def __init__(self, system: System) -> None:
        self.system = system
        self.step: Step | None = None
        self.steps = self.factored = 0

    def solve(self, A: Array, NI: float, enough: float = ENOUGH) -> State:
        """The state at NI ampere-turns, beginning from A; says so in words when it cannot be reached."""
        scale = self.system.scale(NI)
        if scale == 0:
            return self.system.state(np.zeros_like(A), NI)
        state = self.system.state(A, NI)
        left = _size(state)
        fresh = False
        for _ in range(MOST):
            if left <= enough * scale:
                return state
            if self.step is None:
                self.step, fresh = self.system.tangent(state), True
                self.factored += 1
            self.steps += 1
            moved = self._along(state, -self.step.solve(state.residual), NI, fresh)
            fell = _size(moved) / left
            if fresh and fell > 0.5 and left < ROUND_OFF * scale:
                return state if fell > 1 else moved
            if fell < 1 or fresh:
                state, left = moved, _size(moved)
            if fell > KEEP:
                self.step = None
            fresh = False
        raise FieldError(
            f"magnetic field: must settle within {MOST} steps; found {left / scale:.1e} of the load "
            f"unbalanced at {NI:g} ampere-turns. Look for a B-H table with kinks, or a ring that is extremely thin."
        )

    def _along(self, state: State, dA: Array, NI: float, fresh: bool) -> State:
        """A full step; a fresh one is shortened until residual or slope of the energy has fallen."""
        length = 1.0
        slope, left = abs(state.residual @ dA), _size(state)
        while True:
            moved = self.system.state(state.A + length * dA, NI)
            good = _size(moved) < (1 - 0.1 * length) * left or abs(moved.residual @ dA) < 0.7 * slope
            if good or not fresh or length < 0.02:
                return moved
            length /= 2


def _size(state: State) -> float:
    size = float(np.linalg.norm(state.residual))
    if not np.isfinite(size):
        raise FieldError("magnetic field: must be finite; found a number that is not. Check the rings.")
    return size
