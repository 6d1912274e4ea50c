"""The sheet goods and the glue of stock.toml: by a material of the table, what was measured counting before it."""

from __future__ import annotations

from collections.abc import Mapping

from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Whole, Word, as_part, following
from handwound.files.tables import find, rows
from handwound.files.toml import Document
from handwound.materials.insulators import c_p, insulators
from handwound.materials.tables import Cell, table
from handwound.parts.sheet import Adhesive, Sheet
from handwound.physics.suspension import droop_modulus, strip_modulus
from handwound.quantities import Measured, show

OF_STUFFS = "what a sheet is made of", "Known"
OF_A_SHEET = ("t", "rho_A", "E", "nu", "eta_s")
PULLED, DROOPED = ("l_strip", "w_strip", "stretch", "load"), ("l_strip", "droop")
"""What a strip tells only together: one that a weight stretched, one that sank by its own."""
OF_A_PIECE = ("width", "length")
OF_A_STRIP = tuple(dict.fromkeys(PULLED + DROOPED))
LEAST_STIFF = 5
"""A strip that droops is longer than its droop by this: beyond, its weight pulls along it, too."""
ALIKE = Measured(1.0, 0.0)
"""The sheet of which nobody knows that it is stiffer when it vibrates."""
WAITS = "t_set", "t_cure"
Numbers = dict[str, Measured]


class SheetRow(Row):
    """``[[sheet]]``: paper, card, foam, film, cloth."""

    name: Word
    material: Word | None = None
    t: Number | None = None
    rho_A: Number | None = None
    E: Number | None = None
    nu: Number | None = None
    eta_s: Number | None = None
    k_dyn: Number | None = None
    l_strip: Number | None = None
    w_strip: Number | None = None
    stretch: Number | None = None
    load: Number | None = None
    droop: Number | None = None
    insulator: Word | None = None
    T_max: Number | None = None
    width: Number | None = None
    length: Number | None = None
    count: Whole = 1


class AdhesiveRow(Row):
    """``[[adhesive]]``"""

    name: Word
    kind: Word
    T_max: Number | None = None
    rho_m: Number | None = None
    E: Number | None = None
    t_set: Number | None = None
    t_cure: Number | None = None


def read_sheets(document: Document) -> tuple[Sheet, ...]:
    """Every sound sheet on the shelf."""
    found = [_sheet(document, key, each) for key, each in rows(document, ("sheet",), SheetRow)]
    return tuple(sheet for sheet in found if sheet)


def read_adhesives(document: Document) -> tuple[Adhesive, ...]:
    """Glues; the temperature of a kind is the lowest at which any of that kind gives way."""
    known = {str(line["kind"]): line for line in table("adhesives")}
    found = []
    for key, each in rows(document, ("adhesive",), AdhesiveRow):
        line = find(document, (*key, "kind"), each.kind, known, "a kind of the table", "Known")
        if line is not None:
            _patient(document, key, each)
            numbers = {"T_max": each.T_max or Measured(_float(line["T_max_low"]), 0.0)}
            for name in ("rho_m", "E"):
                numbers[name] = getattr(each, name) or Measured(_float(line[name]), _float(line[f"{name}_spread"]))
            t_set, t_cure = (_wait(document, (*key, name), getattr(each, name), line) for name in WAITS)
            glue = Adhesive(name=each.name, kind=each.kind, t_set=t_set, t_cure=t_cure, **as_part(numbers))
            found.append(glue)
    return tuple(found)


def _wait(document: Document, key: Key, told: Measured | None, line: Mapping[str, Cell]) -> float | None:
    """How long a glue needs, to the patient end of what is known; None where heat cures it."""
    longest = line[f"{key[-1]}_high"]
    if told is None:
        return longest if isinstance(longest, float) else None
    if longest is None:
        document.fault(key, "left out where heat cures the glue", show(str(key[-1]), told.value), "Its label says how.")
    return told.value + told.spread


def _patient(document: Document, key: Key, each: AdhesiveRow) -> None:
    """Note a glue that would bear a load before it holds by itself."""
    if each.t_set is not None and each.t_cure is not None and each.t_cure.value < each.t_set.value:
        must, found = (show(name, getattr(each, name).value) for name in WAITS)
        document.fault((*key, "t_cure"), f"at least t_set, {must}", found)


def _sheet(document: Document, key: Key, each: SheetRow) -> Sheet | None:
    usual, kind = _material(document, key, each)
    stuff = find(document, (*key, "insulator"), each.insulator or kind, insulators(), *OF_STUFFS) if kind else None
    given = {name: number for name in (*OF_A_SHEET, "k_dyn") if (number := getattr(each, name)) is not None}
    numbers = {"k_dyn": ALIKE, **usual, **given}
    pieces = _pieces(document, key, each)
    tried = _by_strip(document, key, each, numbers)
    if tried:
        numbers["E"] = tried
    lacking = [name for name in OF_A_SHEET if name not in numbers and not (name == "E" and _told_of_strip(each))]
    if lacking and kind:
        do = f"Or give material, one of: {', '.join(_known())}."
        must = "given with all its numbers, or with a material of the table"
        document.fault(key, must, f"no {', no '.join(lacking)}", do)
    if stuff is None or not numbers.keys() >= {*OF_A_SHEET}:
        return None
    if not numbers["eta_s"].value:
        document.fault((*key, "eta_s"), "more than 0", "0", "Whatever bends loses something.")
    numbers |= {"k_th": Measured(float(stuff.k_th), dict(stuff.spread)["k_th"]), "c_p": Measured(c_p(stuff.name), 0.0)}
    numbers["T_max"] = each.T_max or Measured(float(stuff.T_max), 0.0)
    return Sheet(name=each.name, count=each.count, **as_part(numbers | pieces))


def _pieces(document: Document, key: Key, each: SheetRow) -> Numbers:
    """How large one piece is, where that is told: both ways, or the templates would not know what fits."""
    given = {name: side for name in OF_A_PIECE if (side := getattr(each, name)) is not None}
    if len(given) == 1:
        (lacks,) = set(OF_A_PIECE) - given.keys()
        document.fault((*key, lacks), f"given with {next(iter(given))}", f"only {next(iter(given))}", "Give both.")
    if not each.count:
        document.fault((*key, "count"), "at least 1", "0", "Leave out what is used up.")
    return given


def _known() -> dict[str, Mapping[str, str | float | None]]:
    return {str(line["name"]): line for line in table("sheets")}


def _material(document: Document, key: Key, each: SheetRow) -> tuple[Numbers, str]:
    """The numbers of the material, and what it is made of; no word for that where the material is not known."""
    if each.material is None:
        return {}, next(iter(insulators()))
    line = find(document, (*key, "material"), each.material, _known(), "a material of the table", "Known")
    if line is None:
        return {}, ""
    # a cloth has no modulus, which is written as zero
    halves = {name: _float(line.get(f"{name}_spread")) for name in (*OF_A_SHEET, "k_dyn")}
    return {name: Measured(_float(line[name]), half) for name, half in halves.items()}, str(line["insulator"])


def _told_of_strip(each: SheetRow) -> list[str]:
    """What is told of a strip of it; a weight by itself says nothing else."""
    return [name for name in OF_A_STRIP if getattr(each, name) is not None]


def _by_strip(document: Document, key: Key, each: SheetRow, numbers: Numbers) -> Measured | None:
    """The modulus by a strip of it, as it is when the sheet vibrates; None where there was none."""
    given = _told_of_strip(each)
    asked = PULLED if each.droop is None else DROOPED
    lacking, astray = ([n for n in names if n not in but] for names, but in ((asked, given), (given, asked)))
    for name in lacking if given else ():
        document.fault((*key, name), f"given with {', '.join(given)}", f"only {', '.join(given)}")
    for name in astray:
        document.fault(
            (*key, name), "left out where a strip droops", name, "A weight pulls, or its own does: one test."
        )
    if lacking or astray:
        return None
    if each.E is not None:
        document.fault((*key, "E"), "left out where a strip was tried", "both", "Keep the one you trust.")
    l_strip, w_strip, stretch, load, droop = (getattr(each, name) for name in OF_A_STRIP)
    _within(document, key, "stretch", stretch, l_strip, 1, "It is how much longer the strip became.")
    _within(document, key, "droop", droop, l_strip, LEAST_STIFF, "Take a shorter strip.")
    if each.E is not None or not numbers.keys() >= {"t", "rho_A"}:
        return None
    t, rho_A, k_dyn = numbers["t"], numbers["rho_A"], numbers["k_dyn"]
    if droop is None:
        E = k_dyn.value * strip_modulus(l_strip.value, w_strip.value, t.value, stretch.value, load.value)
        return following(float(E), k_dyn, l_strip, w_strip, t, stretch, load)
    E = k_dyn.value * droop_modulus(l_strip.value, t.value, rho_A.value, droop.value)
    return following(float(E), k_dyn, rho_A, droop, _to_the(4, l_strip), _to_the(3, t))


def _within(
    document: Document, key: Key, name: str, moved: Measured | None, l_strip: Measured, least: int, do: str
) -> None:
    """Note a strip that moved further than it can, or may."""
    if moved is not None and least * moved.value >= l_strip.value:
        found = f"{show(name, moved.value)} on {show('l_strip', l_strip.value)}"
        document.fault((*key, name), f"less than {'' if least == 1 else 'a fifth of '}l_strip", found, do)


def _to_the(power: int, number: Measured) -> Measured:
    """A number as doubtful as its power is."""
    return Measured(number.value, power * number.spread)


def _float(cell: str | float | None) -> float:
    return cell if isinstance(cell, float) else 0.0
