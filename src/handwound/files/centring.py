"""How straight the voice coil stands in its gap, and how round its former is: what was read with dial and caliper."""

from __future__ import annotations

from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row
from handwound.files.tables import row
from handwound.files.toml import Document
from handwound.parts.rub import Centring
from handwound.physics.rub import roundness
from handwound.quantities import Measured, show

FEW, MANY = 3, 6
"""Three diameters tell an ellipse; more than six nobody reads."""


class CentringRow(Row):
    """``[centring]``"""

    e_pole: Number | None = None
    e_vc: Number | None = None
    tilt: Number | None = None
    rock: Number | None = None
    t_glue: Number | None = None
    P_ok: Number | None = None


def read_centring(document: Document) -> Centring | None:
    """How well the coil stands in its gap, as usual where nothing is told; None where something in it is at fault."""
    key: Key = ("centring",)
    each = row(document, key, CentringRow) if key[0] in document.data else CentringRow()
    if each is None:
        return None
    names = ("e_pole", "e_vc", "tilt", "rock", "t_glue")
    return Centring(spread=each.spread(*names), **each.numbers(*names, "P_ok"))


def read_former(
    document: Document, key: Key, D_read: tuple[Measured, ...], D_fi: Measured, t_f: Measured
) -> dict[str, Measured]:
    """Outer diameter and ovality of a bare former from its readings; nothing where they are at fault."""
    if not FEW <= len(D_read) <= MANY:
        must = f"a list of {FEW} to {MANY} diameters, at equal steps round half a turn"
        document.fault((*key, "D_read"), must, f"{len(D_read)} of them")
        return {}
    found = roundness([each.value for each in D_read])
    most = D_fi.value + 4 * t_f.value
    if not D_fi.value < found.D_f <= most:
        must = f"in the mean between {show('D_fi', D_fi.value, 4)} and {show('D_read', most, 4)}, by D_fi and the wall"
        do = "It is the bare former that is read, before it is wound."
        document.fault((*key, "D_read"), must, show("D_read", float(found.D_f), 4), do)
        return {}
    # a caliper's error is the same at all angles for the mean, and another at each for what is not round
    half = (sum(each.spread**2 for each in D_read) / len(D_read)) ** 0.5
    return {
        "D_f": Measured(float(found.D_f), half),
        "oval": Measured(float(found.oval), half * (2 / len(D_read)) ** 0.5),
    }
