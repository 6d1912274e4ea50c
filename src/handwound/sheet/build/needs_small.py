"""The tools of all operations, and the small material that no design names: tube, board, tape, sleeve, solder."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from handwound.sheet.build import care
from handwound.sheet.build.leads_out import wound_on_iron
from handwound.sheet.build.operation import Build, Operation
from handwound.sheet.drawing.shapes import gap
from handwound.sheet.fed import Fed
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, counted, mm, say


def tools(build: Build, every: Sequence[Operation]) -> tuple[str, ...]:
    """In the order of their first use, each once: what guards eyes, hands and lungs first; nothing that is cut here.

    Templates come out of the sheet itself, and what stays in the driver or feeds it is material.
    """
    guards = say("goggles"), say("gloves"), say("mask against dust and vapour")
    oven = (say("oven with a thermometer"),) if care.oven(build) else ()
    used = (tool for operation in every for tool in operation.tools)
    made = set(_made())
    found = (*guards, *used, *oven, say("1.5 V cell"), say("weights"))
    return tuple(dict.fromkeys(tool for tool in found if tool not in made))


def _made() -> tuple[Said, ...]:
    """Templates and materials by the names that the strips use for them."""
    return (
        say("coil depth gauge"), say("go and no-go gauge"), say("three equal shims"), say("centring ring"),
        say("diode"), say("supply"), say("amplifier"), say("tape"), say("stranded flex"), say("label"),
        say("4 Ω 5 W resistor"), say("sealing strip"), say("tape over the gap"),
    )  # fmt: skip


@dataclass(frozen=True)
class Need:
    """One thing: its name on the shelf, what it becomes, what the build takes of it and what is left.

    ``left`` is empty where nobody has told how much there is.
    """

    name: str
    what: str
    take: str
    left: str = ""


def small(build: Build) -> Iterator[Need]:
    """What is bought by the roll or found in a drawer."""
    if there := build.fed:
        yield from _of_the_spool(build, there)
    yield Need(say("tape"), say("edges of steel, layers, leads"), say("a roll"))
    yield Need(say("solder"), say("leads and junctions"), say("electronic solder with flux"))
    yield Need(say("stranded flex"), say("from the diaphragm to the frame"), say("two lengths"))
    air = gap(build.design, build.prediction)
    yield Need(say("shim stock"), say("three equal shims"), say("film or card, as thick as the strip of assembly says"))
    if air.r_pole is not None and air.r_plate is not None:
        yield Need(
            say("brass, card or plastic"), say("centring ring"),
            say(
                "fills ⌀{d_in} to ⌀{d_out} mm, nothing that a magnet pulls", d_in=mm("d_in", 2 * air.r_pole),
                d_out=mm("d_out", 2 * air.r_plate),
            ),
        )  # fmt: skip
    outline = mm("D_outline", build.brief.D_outline)
    yield Need(
        say("board or sheet metal"), say("frame"), say("up to ⌀{D_outline} mm, with its screws", D_outline=outline)
    )


def _of_the_spool(build: Build, there: Fed) -> Iterator[Need]:
    """Tube, cheeks and sleeves."""
    coil, wide = there.coil, band(build.prediction, "field_winding.D_w").value
    if not wound_on_iron(coil):
        size = say(
            "⌀{D_f}, wall {t_f}, {length} long (mm)", D_f=mm("D_f", coil.D_f), t_f=mm("t_f", coil.t_f),
            length=mm("length", coil.h_w + 2 * coil.t_fl),
        )  # fmt: skip
        yield Need(say("card or paper tube"), say("spool of the field coil"), size)
    if float(coil.t_fl):
        board = say(
            "{count} of ⌀{D_w} or more, {t_fl} thick (mm)", count=counted("count", 2), D_w=mm("D_w", wide, 3),
            t_fl=mm("t_fl", coil.t_fl),
        )  # fmt: skip
        yield Need(say("board"), say("cheeks of the spool"), board)
    leads = counted("count", 2 * int(coil.n_sec))
    yield Need(say("sleeve"), say("leads of the field coil"), say("{count} lengths", count=leads))
