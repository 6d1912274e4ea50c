"""Whether pieces fit the sheets that they are cut from, vents their circle and a spider the frame; if not, which
operation stops."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from handwound.errors import Fault
from handwound.parts.design import Brief, Design
from handwound.parts.mounting import Back
from handwound.parts.sheet import Sheet
from handwound.sheet.said import Said, counted, mm, say, show
from handwound.sheet.template.frame import CODE, WEB, motor_across, vents
from handwound.sheet.template.outline import Template
from handwound.sheet.template.rings import LEAST_LAP, SPIDER, arms_fit, ring_of_arms, spider_reach, widest_arm
from handwound.sheet.template.room import least_box, lie_together, lies_on
from handwound.sheet.template.shape import piece_area

TOUCH = 1e-6
"""What is larger by no more than this is as large. [m]"""
DRILL = 0.5e-3
"""Drills come in steps of so much. [m] Common practice, no source."""


def faults(templates: Sequence[Template], design: Design, brief: Brief, titles: Mapping[str, str]) -> list[Fault]:
    """All that cannot be cut; nothing where sizes of sheets are not known. ``titles`` are those of the operations."""
    found = [
        *_larger(templates, design, titles), *_too_many(templates, design, titles), *_vents(design, titles),
        *_spider(design, brief, titles),
    ]  # fmt: skip
    return found


def _sheets(design: Design) -> dict[str, Sheet]:
    """The sheets of the design whose size was told, by name."""
    spider, cap, ribs = design.spider, design.cap, design.diaphragm.ribs
    found = [
        design.voice_coil.former, design.diaphragm.sheet, design.surround.sheet, ribs.sheet if ribs else None,
        cap.sheet if cap else None, spider.sheet if spider else None,
    ]  # fmt: skip
    return {each.name: each for each in found if each and each.width is not None and each.length is not None}


def _size(sheet: Sheet) -> tuple[float, float]:
    """Width and length, the less first. [m]"""
    assert sheet.width is not None and sheet.length is not None
    wide, long = sorted((float(sheet.width), float(sheet.length)))
    return wide, long


def _larger(templates: Sequence[Template], design: Design, titles: Mapping[str, str]) -> Iterator[Fault]:
    """Pieces larger than one piece of their sheet, however they are turned."""
    sheets = _sheets(design)
    for template in templates:
        sheet = sheets.get(template.of)
        if sheet is None or lies_on(template, *_size(sheet)):
            continue
        wide, long = least_box(template)
        yield Fault(
            _where(template.operation, titles),
            say("cut from {sheet}, {wide} × {long} mm", sheet=sheet.name, wide=mm("width", _size(sheet)[0]),
                long=mm("length", _size(sheet)[1])),
            say("{name}, a piece of {wide} × {long} mm", name=template.name, wide=mm("width", wide),
                long=mm("length", long)),
            say("Take a sheet of {wide} × {long} mm or more, or make the part smaller.",
                wide=mm("width", _whole(wide)), long=mm("length", _whole(long))),
        )  # fmt: skip


def _whole(size: float) -> float:
    """Up to the next whole millimetre. [m]"""
    return math.ceil(size * 1e3 - 1e-3) / 1e3


def _tenth(size: float) -> float:
    """Down to the tenth of a millimetre below. [m]"""
    return math.floor(size * 1e4 - 1e-3) / 1e4


def _too_many(templates: Sequence[Template], design: Design, titles: Mapping[str, str]) -> Iterator[Fault]:
    """Pieces of one sheet of which two do not lie on it together, or that are larger together than all of it."""
    for name, sheet in _sheets(design).items():
        cut = [template for template in templates if template.of == name]
        wide, long = _size(sheet)
        whole, needed = wide * long * int(sheet.count), sum(each.count * piece_area(each) for each in cut)
        if needed > whole:
            yield Fault(
                _where(cut[0].operation, titles),
                say("cut from {area} of {sheet}, all its pieces together", area=show("A_sheet", whole), sheet=name),
                say("pieces of {area}, without what falls off", area=show("A_sheet", needed)),
                say("Find {area} more of it, or another sheet for one of the parts.",
                    area=show("A_sheet", needed - whole)),
            )  # fmt: skip
        elif int(sheet.count) == 1:
            yield from _apart(cut, sheet, titles)


def _apart(cut: Sequence[Template], sheet: Sheet, titles: Mapping[str, str]) -> Iterator[Fault]:
    """The two largest pieces of a single sheet, each of which lies on it, but not both."""
    wide, long = _size(sheet)
    pieces = sorted((each for each in cut for _ in range(min(each.count, 2))), key=piece_area, reverse=True)[:2]
    if (
        len(pieces) < 2
        or not all(lies_on(each, wide, long) for each in pieces)
        or lie_together(pieces[0], pieces[1], wide, long)
    ):
        return
    (a, b), (c, d) = (least_box(each) for each in pieces)
    yield Fault(
        _where(pieces[0].operation, titles),
        say("cut from one piece of {sheet}, {wide} × {long} mm, with all that is of it", sheet=sheet.name,
            wide=mm("width", wide), long=mm("length", long)),
        say("{name}, {a} × {b} mm, and {other}, {c} × {d} mm, which do not lie on it together", name=pieces[0].name,
            other=pieces[1].name, a=mm("width", a), b=mm("length", b), c=mm("width", c), d=mm("length", d)),
        say("Find a second sheet of it, {wide} × {long} mm or more.", wide=mm("width", _whole(c)),
            long=mm("length", _whole(d))),
    )  # fmt: skip


def _vents(design: Design, titles: Mapping[str, str]) -> Iterator[Fault]:
    """Vents that leave no room for each other, or none between motor and surround."""
    back = design.back
    if back is None or vents(design) is not None:
        return
    yield Fault(
        _where(CODE, titles),
        say(
            "vents between the motor, ⌀{motor} mm, and the surround, ⌀{edge} mm, with {web} mm left beside each",
            motor=mm("d_out", motor_across(design)), edge=mm("d_out", design.surround.d_out), web=mm("width", WEB),
        ),
        say("{n} holes of ⌀{d} mm", n=counted("n_vent", back.n_vent), d=mm("d_vent", back.d_vent))
        if back.D_vent is None
        else say(
            "{n} holes of ⌀{d} mm on a circle of ⌀{D} mm", n=counted("n_vent", back.n_vent),
            d=mm("d_vent", back.d_vent), D=mm("D_vent", back.D_vent),
        ),
        _smaller(design, back),
    )  # fmt: skip


def _smaller(design: Design, back: Back) -> Said:
    """The widest drill with which as many vents fit."""
    for k in range(math.ceil(float(back.d_vent) / DRILL) - 1, 0, -1):
        if vents(replace(design, back=replace(back, d_vent=k * DRILL))):
            n, d = counted("n_vent", back.n_vent), mm("d_vent", k * DRILL)
            return say("Holes of at most ⌀{d} mm, or fewer than {n}.", d=d, n=n)
    return say("No drill is small enough there: fewer holes, or another circle.")


def _spider(design: Design, brief: Brief, titles: Mapping[str, str]) -> Iterator[Fault]:
    """A spider whose arms lie on each other, or that is wider than what holds the driver."""
    reach, most, part = spider_reach(design, LEAST_LAP), float(brief.D_outline), design.spider
    if reach is None or part is None:
        return
    if part.form == "arms" and not arms_fit(*ring_of_arms(design)):
        r_ring, w_arm, n_arm = ring_of_arms(design)
        yield Fault(
            _where(SPIDER, titles),
            say("a spider of {n} arms side by side round a ring of ⌀{D} mm, former and glue",
                n=counted("n_arm", n_arm), D=mm("d_out", 2 * r_ring)),
            say("arms {w} mm wide", w=mm("w_arm", w_arm)),
            say("Arms of at most {w} mm, or fewer of them.", w=mm("w_arm", _tenth(widest_arm(r_ring, n_arm)))),
        )  # fmt: skip
    elif reach > most + TOUCH:
        yield Fault(
            _where(SPIDER, titles),
            say("a spider within the outline of the driver, ⌀{most} mm, glued on the frame for {lap} mm",
                most=mm("D_outline", most), lap=mm("w_bond", LEAST_LAP)),
            say("one that reaches ⌀{reach} mm", reach=mm("d_out", reach)),
            say("Make it smaller by {less} mm across.", less=mm("d_out", _whole(reach - most))),
        )  # fmt: skip


def _where(code: str, titles: Mapping[str, str]) -> Said:
    return say("operation {code}, {title}", code=code, title=titles[code])
