"""Will it rub: the least air on both sides of the voice coil, how often there is none, what takes it and what helps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations
from math import floor, log10

from handwound.parts.design import Design
from handwound.parts.rub import Rub, Side
from handwound.parts.sheet import Sheet
from handwound.quantities import Num
from handwound.sheet.digits import to_place
from handwound.sheet.motor import Row, Table
from handwound.sheet.said import Said, counted, joined, printed, say
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
    rows: list[Row] = [("", *(say(SIDES[name]) for name in sides))]
    for name in ("c_drawn", "c_usual", "c_low"):
        rows.append((say(AIR[name]), *(_mm(name, getattr(side, name)) for side in sides.values())))
    rows.append((say("rubs"), *(odds(float(side.P_rub)) for side in sides.values())))
    for name in names:
        cells = (_mm("c_taken", each[name]) if name in each else "" for each in taken)
        rows.append((say("taken in 1 of 20 by {cause}", cause=say(CAUSES[name][0])), *cells))
    note = joined(" ", [*_verdict(design, sides, found), *_room(found), *_shims(sheets, found), *_left_out(design)])
    return Table(say("Will it rub?"), tuple(rows), note, right=tuple(range(1, len(sides) + 1)))


SIDES = {"inside": "inside", "outside": "outside"}
AIR = {
    "c_drawn": "air as drawn: centred, round, straight, cold",
    "c_usual": "least air over the stroke, half of such builds",
    "c_low": "the same, 19 of 20 such builds",
}
"""What is told of a side, by quantity."""


def _mm(name: str, c: Num) -> Said:
    return say("{c} mm", c=to_place(name, float(c), 2))


def odds(P: float, name: str = "P_rub") -> Said:
    """``"1 in 44"``, in one figure where few draws rubbed; where none did, what is sure to 95 %: less than 3 of all.
    Often is ``"40 in 100"``."""
    if P <= 0:
        most = DRAWS // 3
        step = 10 ** floor(log10(most))
        return say("less than 1 in {n}", n=printed(name, P, f"{most // step * step}"))
    if P >= NEARLY:
        return say("nearly all")
    if P >= OFTEN:
        return say("{n} in 100", n=printed(name, P, f"{100 * P:.0f}"))
    digits = 2 if P * DRAWS >= FEW else 1
    return say("1 in {n}", n=printed(name, P, f"{float(f'{1 / P:.{digits}g}'):.0f}"))


def _verdict(design: Design, sides: dict[str, Side], found: Rub) -> Iterator[Said]:
    P, P_ok = float(found.P_rub), float(found.P_ok)
    yield say(
        "Rubs on one side or the other: {odds} such builds, where {may} may.", odds=odds(P), may=odds(P_ok, "P_ok")
    )
    if P <= P_ok:
        return
    name, side = max(sides.items(), key=lambda each: each[1].P_rub)
    most = side.causes[0].name
    held = most == "rocking" and design.spider
    cause, cure = say(CAUSES[most][0]), say(HELD) if held else say(CAUSES[most][1])
    if side.c_more >= HAIR:
        yield say(MOST_TAKEN_OR[name], cause=cause, cure=cure, c_more=_mm("c_more", side.c_more))
    else:
        yield say(MOST_TAKEN[name], cause=cause, cure=cure)


MOST_TAKEN = {
    "inside": "Inside most is taken by {cause}: {cure}.",
    "outside": "Outside most is taken by {cause}: {cure}.",
}
MOST_TAKEN_OR = {
    "inside": "Inside most is taken by {cause}: {cure}, or {c_more} more air inside.",
    "outside": "Outside most is taken by {cause}: {cure}, or {c_more} more air outside.",
}
"""What helps where it may rub, without and with a size."""


def _room(found: Rub) -> Iterator[Said]:
    """Formers and layers that would do."""
    low, high = found.D_fi_lo, found.D_fi_hi
    if low is None and high is None:
        yield say("No former does with this wall and these layers: fewer layers, or a wider bore.")
        return
    if low is not None and high is not None:
        yield say(
            "Formers from {low} to {high} inside do, wall and layers as they are.",
            low=_mm("D_fi_lo", low), high=_mm("D_fi_hi", high),
        )  # fmt: skip
    elif low is not None:
        yield say("Formers from {low} inside do, wall and layers as they are.", low=_mm("D_fi_lo", low))
    elif high is not None:
        yield say("Formers to {high} inside do, wall and layers as they are.", high=_mm("D_fi_hi", high))
    if found.n_most == 1:
        yield say("Outside there is room for 1 layer on this one.")
    elif found.n_most is not None:
        yield say("Outside there is room for {n_most} layers on this one.", n_most=counted("n_most", found.n_most))


def _shims(sheets: Iterable[Sheet], found: Rub) -> list[Said]:
    """Three shims of the stack that comes nearest and still goes in, the simplest of those that are as near."""
    if found.t_shim is None or found.inside is None:
        return []
    wanted, most = float(found.t_shim), float(found.inside.c_drawn)
    fit = [each for each in _stacks(sheets) if wanted - LOOSE - HAIR < each[0] < most - HAIR]
    t_shim = _mm("t_shim", wanted)
    if not fit:
        return [say("Shims: three equal ones, {t_shim}; nothing at hand comes near.", t_shim=t_shim)]
    t, _, of = min(fit, key=lambda each: (round(abs(each[0] - wanted) / (2 * HAIR)), each[1]))
    return [say(
        "Shims: three equal ones, {t_shim}; nearest is {of}, {t}.", t_shim=t_shim, of=of, t=_mm("t_shim", t)
    )]  # fmt: skip


def _stacks(sheets: Iterable[Sheet]) -> Iterator[tuple[float, int, Said]]:
    """Thickness, how many sheets, and words of each stack of one or two kinds."""
    # cloth, which has no modulus of its own, gives way
    one = [(n * float(sheet.t), n, _times(n, sheet.name)) for sheet in sheets if sheet.E for n in range(1, STACK + 1)]
    yield from one
    for (t, n, words), (t_2, n_2, more) in combinations(one, 2):
        if n + n_2 <= STACK:
            yield t + t_2, n + n_2, say("{some} with {more}", some=words, more=more)


def _times(n: int, sheet: str) -> Said:
    return say("{n} times {sheet}", n=counted("n_sheet", n), sheet=sheet) if n > 1 else Said(sheet)


def _left_out(design: Design) -> list[Said]:
    """What the field does to a pole that stands off the middle is told by the study of the motor."""
    if not design.field_coil:
        return []
    return [say("The field draws a pole that is off the middle further aside: try with the field off, then on.")]
