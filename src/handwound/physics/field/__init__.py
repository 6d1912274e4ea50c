"""The motor's magnetic field: nonlinear magnetostatics in axial symmetry with nothing around it."""

from handwound.physics.field.bh import Curve, saturation
from handwound.physics.field.grid import FULL, SEARCH, Fineness
from handwound.physics.field.problem import Magnet, Problem, Ring, Winding
from handwound.physics.field.sensitivity import Response, sensitivity
from handwound.physics.field.solution import RingFlux, Solution
from handwound.physics.field.solver import solve, sweep

__all__ = [
    "FULL", "SEARCH", "Curve", "Fineness", "Magnet", "Problem", "Response", "Ring", "RingFlux", "Solution", "Winding",
    "saturation", "sensitivity", "solve", "sweep",
]  # fmt: skip
