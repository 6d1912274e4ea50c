"""The two coils of design.toml. Wire and number of layers may be left out: then the search chooses them."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, floor
from typing import Annotated, Any

from handwound.files.centring import read_former
from handwound.files.forms import of_stiff_sheet
from handwound.files.heat import USUAL_FILL, USUAL_SPOOL, filler_of, spool_of
from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Several, Whole, Wholes, Word, one_of
from handwound.files.tables import find, row, shelf
from handwound.files.toml import Document
from handwound.parts.coil import FieldCoil, VoiceCoil
from handwound.parts.design import Stock
from handwound.parts.sheet import Sheet
from handwound.parts.wire import Wire
from handwound.physics.as_wound import packing_from_layers
from handwound.physics.layers import ROUND_OFF, turns_per_layer
from handwound.quantities import Measured, quantities, show

NOT_CHOSEN = 0
"""The number of layers while the search has yet to choose it."""
BY_HAND = Measured(0.92, 0.05)
"""How tightly a hand lays a layer that nobody has counted: common practice 0.86 to 0.97, no source. [1]"""


class CoilRow(Row):
    """What both coils share."""

    wire: Word | None = None
    n_l: Whole | None = None
    h_w: Number
    k_p: Number | None = None
    N_1: Whole | None = None
    N_counted: Wholes | None = None
    lay: Annotated[str, one_of("stacked", "nested")] = "stacked"
    n_tape: Whole = 0
    t_tape: Number | None = None
    n_sec: Whole = 1
    connection: Annotated[str, one_of("series", "parallel")] = "series"
    fill: Word = USUAL_FILL


class FieldCoilRow(CoilRow):
    """``[field_coil]``"""

    D_f: Number
    z_w: Number
    t_f: Number
    t_fl: Number
    n_splice: Whole = 0
    spool: Word = USUAL_SPOOL


class VoiceCoilRow(CoilRow):
    """``[voice_coil]``"""

    former: Word
    D_fi: Number
    D_read: Several | None = None
    t_f: Number | None = None
    l_f: Number
    x_0: Number = Measured(0.0, 0.0)


def read_field_coil(document: Document, stock: Stock | None) -> FieldCoil | None:
    """The coil that makes the field; None where something in it is at fault."""
    key: Key = ("field_coil",)
    each = row(document, key, FieldCoilRow)
    if each is None:
        return None
    if each.D_f.value <= 2 * each.t_f.value:
        found = f"{show('t_f', each.t_f.value)} on {show('D_f', each.D_f.value)}"
        document.fault((*key, "t_f"), "less than half of D_f", found)
    _wall(document, key, each.t_f)
    shared = _shared(document, key, each, stock)
    spool = spool_of(document, (*key, "spool"), each.spool)
    if shared is None or spool is None:
        return None
    _splices(document, key, each.n_splice, shared)
    own = ("D_f", "z_w", "t_f", "t_fl")
    return FieldCoil(
        n_splice=each.n_splice, spool=spool, **_together(shared, {name: getattr(each, name) for name in own})
    )


def read_voice_coil(document: Document, stock: Stock | None) -> VoiceCoil | None:
    """The coil that moves, on its strip of former; None where something in it is at fault."""
    key: Key = ("voice_coil",)
    each = row(document, key, VoiceCoilRow)
    if each is None:
        return None
    former = of_stiff_sheet(document, (*key, "former"), each.former, stock)
    t_f = each.t_f or (_thickness(former) if former else None)
    if t_f:
        _wall(document, key, t_f)
    shared = _shared(document, key, each, stock)
    if former is None or t_f is None or shared is None:
        return None
    D_f = Measured(each.D_fi.value + 2 * t_f.value, (each.D_fi.spread**2 + (2 * t_f.spread) ** 2) ** 0.5)
    own = {"D_f": D_f, "D_fi": each.D_fi, "t_f": t_f, "l_f": each.l_f, "x_0": each.x_0}
    if each.D_read is not None:
        own |= read_former(document, key, each.D_read, each.D_fi, t_f)
    return VoiceCoil(former=former, **_together(shared, own))


def _thickness(sheet: Sheet) -> Measured:
    return Measured(float(sheet.t), dict(sheet.spread).get("t", 0.0))


def _shared(document: Document, key: Key, each: CoilRow, stock: Stock | None) -> dict[str, Any] | None:
    """The keys that both coils have; numbers still with their spreads."""
    _pairs(document, key, each)
    _sections(document, key, each)
    wire = None
    if each.wire is not None:
        wires = shelf(stock.wires if stock else None)
        wire = find(document, (*key, "wire"), each.wire, wires, "the name of a [[wire]] in stock.toml")
        if wire is None:
            return None
    k_p, filler = _packing(document, key, each, wire), filler_of(document, (*key, "fill"), each.fill)
    if k_p is None or filler is None:
        return None
    return {
        "wire": wire,
        "n_l": NOT_CHOSEN if each.n_l is None else each.n_l,
        "k_p": k_p,
        "lay": each.lay,
        "n_tape": each.n_tape,
        "t_tape": each.t_tape or Measured(0.0, 0.0),
        "n_sec": each.n_sec,
        "connection": each.connection,
        "filler": filler,
        "N_counted": each.N_counted or (),
        "h_w": each.h_w,
    }


def _pairs(document: Document, key: Key, each: CoilRow) -> None:
    """What only says something together."""
    choose = "Give both, or leave out both: then the search chooses."
    given = each.model_fields_set
    for has, lacks, do in (
        ("wire", "n_l", choose),
        ("n_l", "wire", choose),
        ("t_tape", "n_tape", "It is the number of layers between two layers of tape."),
    ):
        if has in given and lacks not in given:
            document.fault((*key, lacks), f"given with {has}", f"only {has}", do)
    if each.n_tape and each.t_tape is None:
        document.fault((*key, "t_tape"), "given with n_tape", "only n_tape", "It is the thickness of one tape layer.")


def _sections(document: Document, key: Key, each: CoilRow) -> None:
    """Equal sections have equally many whole layers."""
    if each.n_l is None or each.n_l % each.n_sec == 0:
        return
    fewer = each.n_l - each.n_l % each.n_sec
    near = " or ".join(str(n_l) for n_l in (fewer, fewer + each.n_sec) if n_l)
    found = f"{each.n_l} layers in {each.n_sec} sections"
    document.fault((*key, "n_l"), "a multiple of n_sec", found, f"Wind {near} layers.")


def _wall(document: Document, key: Key, t_f: Measured) -> None:
    """Note a wall that is nothing at the low end of its spread."""
    if t_f.value and t_f.spread >= t_f.value:
        found = f"{show('t_f', t_f.value)} ± {show('t_f', t_f.spread)}"
        do = "Measure better, or give a smaller spread."
        document.fault((*key, "t_f"), "thicker than its spread", found, do)


def _splices(document: Document, key: Key, n_splice: int, shared: Mapping[str, Any]) -> None:
    """Note more splices than turns: each costs one of the last layer."""
    wire, h_w, k_p = shared["wire"], shared["h_w"].value, shared["k_p"].value
    if wire is None or not n_splice:
        return
    N_l = int(turns_per_layer(h_w, wire.d_o, k_p))
    if 0 < N_l <= n_splice:
        document.fault((*key, "n_splice"), f"fewer than the {N_l} turns of a layer", str(n_splice), "Join less often.")


def _packing(document: Document, key: Key, each: CoilRow, wire: Wire | None) -> Measured | None:
    """The packing factor: given, from the turns counted in the first layers, or as hands usually do."""
    name, counted = _counted(each)
    if not counted:
        return each.k_p or BY_HAND
    at = (*key, name)
    if each.k_p is not None:
        document.fault(at, "given instead of k_p", "both", f"Keep {name}: what was counted is better.")
    elif each.N_1 is not None and each.N_counted is not None:
        document.fault(at, "given instead of N_1", "both", "N_1 is its first number.")
    elif wire is None:
        document.fault(at, "given with the wire that was counted", "no wire", "Give k_p, or wire and n_l.")
    elif len(counted) > (each.n_l or 0):
        document.fault(at, "the turns of at most n_l layers", f"{len(counted)} layers of {each.n_l}", "Look at both.")
    elif _each_fits(document, at, each, wire, counted):
        return Measured(*(float(number) for number in packing_from_layers(counted, wire.d_o, each.h_w.value)))
    return None


def _counted(each: CoilRow) -> tuple[str, tuple[int, ...]]:
    """The key that tells the counted layers, and their turns; none where nothing was counted."""
    if each.N_counted is not None:
        return "N_counted", each.N_counted
    return "N_1", () if each.N_1 is None else (each.N_1,)


def _each_fits(document: Document, at: Key, each: CoilRow, wire: Wire, counted: tuple[int, ...]) -> bool:
    """Note a count that no layer of this wire can have."""
    ideal, limits = each.h_w.value / float(wire.d_o), quantities()["k_p"]
    least, most = ceil(limits.low * ideal), floor(limits.high * ideal + ROUND_OFF)
    odd = [count for count in counted if not least <= count <= most]
    if odd:
        found = f'{odd[0]} turns of "{wire.name}" ({show("d_o", float(wire.d_o))}) on {show("h_w", each.h_w.value)}'
        document.fault(at, f"between {least} and {most}", found, "Count or measure again.")
    return not odd


def _together(shared: Mapping[str, Any], own: Mapping[str, Measured]) -> dict[str, Any]:
    """The arguments of a part: plain values, and the spreads in a row of their own."""
    every = {**shared, **own}
    numbers = {name: each for name, each in every.items() if isinstance(each, Measured)}
    values = {name: each.value if isinstance(each, Measured) else each for name, each in every.items()}
    return {**values, "spread": tuple((name, each.spread) for name, each in numbers.items() if each.spread)}
