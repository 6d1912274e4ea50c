"""Whether pieces fit the sheets that they are cut from, and the vents their circle; if not, which operation stops."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from handwound.errors import Fault
from handwound.parts.design import Design
from handwound.parts.sheet import Sheet
from handwound.sheet.said import Said, counted, mm, say, show
from handwound.sheet.template.frame import CODE, WEB, motor_across, vents
from handwound.sheet.template.outline import Template
from handwound.sheet.template.shape import box, piece_area, points

STEP = math.pi / 180
"""Angles at which a piece is tried on its sheet are so far apart. [rad]"""
FINE = 2e-5
TOUCH = 1e-6
"""A piece that is wider than its sheet by no more than this is as wide. [m]"""


def faults(templates: Sequence[Template], design: Design) -> list[Fault]:
    """All that cannot be cut; nothing where sizes of sheets are not known."""
    return [*_larger(templates, design), *_too_many(templates, design), *_vents(design)]


def _sheets(design: Design) -> dict[str, Sheet]:
    """The sheets of the design whose size was told, by name."""
    spider, cap, ribs = design.spider, design.cap, design.diaphragm.ribs
    found = [
        design.voice_coil.former, design.diaphragm.sheet, design.surround.sheet, ribs.sheet if ribs else None,
        cap.sheet if cap else None, spider.sheet if spider else None,
    ]  # fmt: skip
    return {each.name: each for each in found if each and each.width is not None and each.length is not None}


def _larger(templates: Sequence[Template], design: Design) -> Iterator[Fault]:
    """Pieces larger than one piece of their sheet, however they are turned."""
    sheets = _sheets(design)
    for template in templates:
        sheet = sheets.get(template.of)
        if sheet is None or sheet.width is None or sheet.length is None:
            continue
        wide, long = sorted((float(sheet.width), float(sheet.length)))
        if not _lies_on(template, wide, long):
            x, y, x_2, y_2 = box(_outline(template))
            yield Fault(
                _where(template),
                say("cut from {sheet}, {wide} × {long} mm", sheet=sheet.name, wide=mm("width", wide),
                    long=mm("length", long)),
                say("a piece of {wide} × {long} mm", wide=mm("width", min(x_2 - x, y_2 - y)),
                    long=mm("length", max(x_2 - x, y_2 - y))),
                say("Take a larger sheet, or make the part smaller."),
            )  # fmt: skip


def _too_many(templates: Sequence[Template], design: Design) -> Iterator[Fault]:
    """Pieces of one sheet that are larger together than all there is of it: no way of laying them helps."""
    for name, sheet in _sheets(design).items():
        cut = [template for template in templates if template.of == name]
        if not cut or sheet.width is None or sheet.length is None:
            continue
        whole = float(sheet.width) * float(sheet.length) * int(sheet.count)
        needed = sum(template.count * piece_area(template) for template in cut)
        if needed > whole:
            yield Fault(
                _where(cut[0]),
                say("cut from {area} of {sheet}, all its pieces together", area=show("A_sheet", whole), sheet=name),
                say("pieces of {area}, without what falls off", area=show("A_sheet", needed)),
                say("Find more of it, or another sheet for one of the parts."),
            )


def _lies_on(template: Template, wide: float, long: float) -> bool:
    """Whether a piece lies on a sheet at some angle."""
    found = _outline(template)
    for k in range(round(math.pi / STEP)):
        cos, sin = math.cos(k * STEP), math.sin(k * STEP)
        x, y, x_2, y_2 = box((p * cos - q * sin, p * sin + q * cos) for p, q in found)
        if x_2 - x <= wide + TOUCH and y_2 - y <= long + TOUCH:
            return True
    return False


def _outline(template: Template) -> list[tuple[float, float]]:
    return [point for line in template.lines if line.role == "cut" for point in points(line, FINE)]


def _vents(design: Design) -> Iterator[Fault]:
    """Vents that leave no room for each other, or none between motor and surround."""
    back = design.back
    if back is None or vents(design) is not None:
        return
    yield Fault(
        _at(CODE, say("Frame")),
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
        say("More holes of a smaller diameter, or fewer of them."),
    )  # fmt: skip


def _where(template: Template) -> Said:
    return _at(template.operation, template.name)


def _at(code: str, title: str) -> Said:
    return say("operation {code}, {title}", code=code, title=title)
