"""Will it rub: the least air on both sides of the voice coil, how often there is none, what takes it and what helps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations
from math import floor, log10

from handwound.parts.design import Design
from handwound.parts.rub import Rub, Side
from handwound.parts.sheet import Sheet
from handwound.quantities import Num, shown
from handwound.sheet.motor import Table
from handwound.spread import DRAWS

HAIR = 5e-6
"""Half of the last digit that is told. [m]"""
FEW = 50
"""Of fewer draws a share is not known to a seventh of itself, one standard deviation: 1/sqrt(n)."""
STACK = 6
"""So many sheets on each other still make a shim."""
LOOSE = 0.04e-3
"""A shim that is thinner than wanted by more than this no longer centres. [m] Common practice, no source."""
OFTEN, NEARLY = 0.2, 0.995
"""From the first on odds are told of a hundred builds, from the second on as nearly all. [1]"""
CAUSES = {
    "sizes": ("sizes not known better", "measure the parts again"),
    "shims": ("the coil off its shims", "three equal shims until the glue is hard"),
    "pole": ("the pole off the middle of its bore", "a centring ring while the iron is put together"),
    "oval": ("a former that is not round", "let it cure on the mandrel"),
    "tilt": ("a coil that leans", "shims as long as the coil"),
    "rocking": ("rocking at full stroke", "a spider at the far end of the former"),
    "glue": ("glue outside", "a thinner coat, wiped while wet"),
    "crossings": ("crossings and splices of the wire", "press them flat while the glue is soft"),
    "warmth": ("growing when hot", "fewer watts"),
}
"""What takes the air, and what helps against it: common practice, no source."""
HELD = "a stiffer spider, and no weight that hangs on one side"
"""What helps against rocking where there is a spider. Common practice, no source."""


def table(design: Design, sheets: Iterable[Sheet], found: Rub) -> Table:
    """Both sides of the coil, with what to do; shims are cut from one of the ``sheets``."""
    there = {"inside": found.inside, "outside": found.outside}
    sides = {name: side for name, side in there.items() if side}
    taken = [{cause.name: float(cause.c_taken) for cause in side.causes} for side in sides.values()]
    names = sorted(set().union(*taken), key=lambda name: -max(each.get(name, 0.0) for each in taken))
    rows = [
        ("", *sides),
        ("air as drawn: centred, round, straight, cold", *(_mm(side.c_drawn) for side in sides.values())),
        ("least air over the stroke, half of such builds", *(_mm(side.c_usual) for side in sides.values())),
        ("the same, 19 of 20 such builds", *(_mm(side.c_low) for side in sides.values())),
        ("rubs", *(odds(float(side.P_rub)) for side in sides.values())),
    ]
    for name in names:
        cells = (_mm(each[name]) if name in each else "" for each in taken)
        rows.append((f"taken in 1 of 20 by {CAUSES[name][0]}", *cells))
    note = " ".join([_verdict(design, sides, found), *_room(found), *_shims(sheets, found), *_left_out(design)])
    return Table("Will it rub?", tuple(rows), note, right=tuple(range(1, len(sides) + 1)))


def _mm(c: Num) -> str:
    return f"{shown('c_drawn', float(c)):.2f} mm"


def odds(P: float) -> str:
    """``"1 in 44"``, in one figure where few draws rubbed; where none did, what is sure to 95 %: less than 3 of all.
    Often is ``"40 in 100"``."""
    if P <= 0:
        most = DRAWS // 3
        step = 10 ** floor(log10(most))
        return f"less than 1 in {most // step * step}"
    if P >= OFTEN:
        return "nearly all" if P >= NEARLY else f"{100 * P:.0f} in 100"
    figures = 2 if P * DRAWS >= FEW else 1
    return f"1 in {float(f'{1 / P:.{figures}g}'):.0f}"


def _verdict(design: Design, sides: dict[str, Side], found: Rub) -> str:
    P, P_ok = float(found.P_rub), float(found.P_ok)
    said = f"Rubs on one side or the other: {odds(P)} such builds, where {odds(P_ok)} may."
    if P <= P_ok:
        return said
    name, side = max(sides.items(), key=lambda each: each[1].P_rub)
    most = side.causes[0].name
    words, cure = CAUSES[most]
    if most == "rocking" and design.spider:
        cure = HELD
    more = f", or {_mm(side.c_more)} more air {name}" if side.c_more >= HAIR else ""
    return f"{said} {name.capitalize()} most is taken by {words}: {cure}{more}."


def _room(found: Rub) -> list[str]:
    """Formers and layers that would do."""
    low, high = found.D_fi_lo, found.D_fi_hi
    if low is None and high is None:
        return ["No former does with this wall and these layers: fewer layers, or a wider bore."]
    ends = [f"{word} {_mm(d)}" for word, d in (("from", low), ("to", high)) if d is not None]
    said = [f"Formers {' '.join(ends)} inside do, wall and layers as they are."] if ends else []
    if found.n_most is not None:
        layers = "1 layer" if found.n_most == 1 else f"{found.n_most} layers"
        said.append(f"Outside there is room for {layers} on this one.")
    return said


def _shims(sheets: Iterable[Sheet], found: Rub) -> list[str]:
    """Three shims of the stack that comes nearest and still goes in, the simplest of those that are as near."""
    if found.t_shim is None or found.inside is None:
        return []
    wanted, most = float(found.t_shim), float(found.inside.c_drawn)
    fit = [each for each in _stacks(sheets) if wanted - LOOSE - HAIR < each[0] < most - HAIR]
    said = f"Shims: three equal ones, {_mm(wanted)}"
    if not fit:
        return [f"{said}; nothing at hand comes near."]
    t, _, of = min(fit, key=lambda each: (round(abs(each[0] - wanted) / (2 * HAIR)), each[1]))
    return [f"{said}; nearest is {of}, {_mm(t)}."]


def _stacks(sheets: Iterable[Sheet]) -> Iterator[tuple[float, int, str]]:
    """Thickness, how many sheets, and words of each stack of one or two kinds."""
    # cloth, which has no modulus of its own, gives way
    one = [(n * float(sheet.t), n, f"{n} times {sheet.name}" if n > 1 else sheet.name)
           for sheet in sheets if sheet.E for n in range(1, STACK + 1)]  # fmt: skip
    yield from one
    for (t, n, words), (t_2, n_2, more) in combinations(one, 2):
        if n + n_2 <= STACK:
            yield t + t_2, n + n_2, f"{words} with {more}"


def _left_out(design: Design) -> list[str]:
    """What the field does to a pole that stands off the middle is told by the study of the motor."""
    if not design.field_coil:
        return []
    return ["The field draws a pole that is off the middle further aside: try with the field off, then on."]
