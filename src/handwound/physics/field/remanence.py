"""What the steel keeps when the current is switched off."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy

import numpy as np

from handwound.errors import FieldError
from handwound.physics.field.newton import Newton
from handwound.physics.field.solution import Solution
from handwound.physics.field.system import System

H_C_MILD = 200.0
"""Coercivity of mild steel as bought: 80 annealed to 250 cold drawn, 800 in a hard bolt (from memory). [A/m]"""


def remanence(solution: Solution, H_c: float | Mapping[str, float]) -> Solution:
    r"""The field that is left when the current of a field coil is switched off.

    .. math:: H = H_{curve}(|B|) \frac{B}{|B|} - h \frac{B_0}{|B_0|}, \quad h = \min(H_c, H_0), \quad NI = 0

    Parameters
    ----------
    solution : Solution
        The field while the current was on. [-]
    H_c : float
        Coercivity of the steel, one for all or by the rings' names (those not named keep nothing). [A/m]

    Returns
    -------
    solution : Solution
        The field without current; with magnets in the motor, what these make is in it. [-]

    Notes
    -----
    On its way down the steel lags by its coercivity: the curve through zero, shifted against the last field B_0 by H_c.
    Steel that saw less than H_c keeps at most what it had. An estimate within a factor of two, as the coercivity of a
    piece is seldom known better: 80 to 250 A/m for mild steel, 800 and more for a hardened bolt (from memory). What is
    left acts with the gap it stands in: steel around a wide gap keeps H_c l / g, far less than a closed ring of it.
    Energies of this solution are no energies of steel with memory: read flux densities and force factors only.
    Nothing is solved on from it: it is refused for storing, for alternating current and for sensitivities.

    References
    ----------
    .. [1] A shifted curve for the descending branch: common practice, no source.
    """
    _refuse(solution, H_c)
    system = solution.system
    kept = copy(system)  # shares all that depends on grid and curves, and has a load of its own
    kept.load_magnets, kept.remembers = system.load_magnets + _load(solution, H_c), True
    state = Newton(kept).solve(np.zeros(solution.A.size), 0.0)
    return Solution.of(solution.problem, 0.0, solution.grid, kept, state.A)


def _refuse(solution: Solution, H_c: float | Mapping[str, float]) -> None:
    """Say everything that is wrong with the coercivities."""
    solution.refuse_memory("remanence")
    steel = [ring.name for ring in solution.problem.rings if ring.curve]
    each = H_c if isinstance(H_c, Mapping) else {"all steel": H_c}
    faults = [f"coercivity of {name}: must be 0 or more; found {h:g} A/m." for name, h in each.items() if not h >= 0]
    if isinstance(H_c, Mapping) and (unknown := sorted(set(H_c) - set(steel))):
        faults.append(
            f"coercivity: must be given for rings of steel; found {', '.join(unknown)}. "
            f"There are {', '.join(steel) or 'none'}."
        )
    if faults:
        raise FieldError("\n".join(faults))


def _load(solution: Solution, H_c: float | Mapping[str, float]) -> np.ndarray:
    """The right-hand side of steel that would keep its last field, as that of magnets."""
    system: System = solution.system
    state, rings = solution.state, solution.problem.rings
    each = np.array([H_c.get(ring.name, 0.0) if isinstance(H_c, Mapping) else H_c for ring in rings])
    h = np.minimum(each[system.owner[system.steel], None], state.nu * state.B_abs)
    return system.load_of(system.steel, system.curl, np.tile(system.weight * h / state.B_abs, 2) * state.B)
