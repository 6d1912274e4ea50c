"""What fills the room between the wires of a winding, by name."""

from __future__ import annotations

from functools import cache

from handwound.materials.tables import number, table
from handwound.parts.heat import Filler


@cache
def _index() -> dict[str, Filler]:
    return {
        str(line["kind"]): Filler(
            name=str(line["kind"]),
            k_th=number(line, "k_th"),
            c_v=number(line, "rho_m") * number(line, "c_p"),
            spread=(("k_th", number(line, "k_th_spread")),),
        )
        for line in table("fillers")
    }


def fillers() -> dict[str, Filler]:
    """Every kind; the first is the one to take when nothing is said."""
    return dict(_index())


def filler(name: str) -> Filler:
    """The kind of this name."""
    return _index()[name]
