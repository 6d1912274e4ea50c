"""The operation that closes a motor with magnets, and what is measured on any motor that is closed."""

from __future__ import annotations

from handwound.parts.iron import Ring
from handwound.sheet.bands import about, half, stack_height
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import gap, nearest
from handwound.sheet.said import mm, show

FACES = {
    "up": "its upper face, towards the cone, is the north pole",
    "down": "its lower face, away from the cone, is the north pole",
    "out": "its outside is the north pole",
    "in": "its inside is the north pole",
}
"""Where the flux leaves a magnet is its north pole."""


def glue_magnets(build: Build) -> Operation:
    """Which way round, how it goes down, and what keeps it centred while the glue sets."""
    design = build.design
    magnets = [ring for ring in design.iron.rings if ring.magnetised]
    glue = design.glue.name if design.glue else "the glue"
    do = [
        "Clear the bench of steel, filings and swarf; lift what clings to a magnet with tape. Wipe every face with "
        "alcohol and let it dry.",
        "Find the poles with a compass: the end of its needle that points north is drawn by a south pole. "
        f"{_ways(magnets)} Mark them before anything meets. {_turned(build, len(magnets))}",
        f"Bottom to top. A thin film of {glue} on each face. Let a magnet down on three wooden wedges and draw them "
        "out one by one, a little each: never with fingers between, never let it jump. Wipe off what is pressed out; "
        "let it cure as its label says.",
        *_centred(build),
    ]
    stop = "Stop if a magnet is cracked or has chipped into the gap: splinters are sharp and stay magnetic."
    return Operation("MG", "Glue the motor together", tuple(do), closed(build), stop)


def closed(build: Build) -> tuple[Check, ...]:
    """The gap all round and the height of the whole stack."""
    air, ring = gap(build.design, build.prediction), build.design.iron
    checks = []
    if air.r_pole is not None and air.r_plate is not None:
        inner, outer = nearest(build.design, float(build.design.voice_coil.D_f), *map(float, ring.plate_levels()))
        halves = (half(inner, "d_out") / 2, half(outer, "d_in") / 2) if inner and outer else ()
        wide = with_band("c_o", about(air.r_plate - air.r_pole, *halves))
        checks.append(
            Check(
                "gap pole to plate all round, strips of paper at 8 clock positions", wide,
                "Narrow on one side: shift the plate or fit a centring ring of brass.",
                "Wider all round: weaker field. Measure pole and bore again, enter what you find.",
            )
        )  # fmt: skip
    checks.append(
        Check(
            "height of the whole stack", with_band("t", stack_height(ring)),
            "A part is thinner than planned: measure, enter it.",
            "A joint does not close: look for burrs and chips.",
        )
    )  # fmt: skip
    return tuple(checks)


def _ways(magnets: list[Ring]) -> str:
    names: dict[str, list[str]] = {}
    for ring in magnets:
        names.setdefault(ring.magnetised, []).append(ring.name)
    return " ".join(f"{', '.join(alike)}: {FACES[way]}." for way, alike in names.items())


def _turned(build: Build, count: int) -> str:
    """What a magnet the wrong way round does."""
    if build.fed:
        return "The wrong way round it works against the field coil: then swap the two ends of that coil."
    if count > 1:
        return "One of them the wrong way round works against the others."
    return "The other way round it is as strong: only plus and minus of the voice coil change places."


def _centred(build: Build) -> list[str]:
    """A ring that fills the gap while the glue sets; without one a pole is drawn to one side of its plate."""
    air = gap(build.design, build.prediction)
    if air.r_pole is None or air.r_plate is None:
        return []
    low, high = (float(level) for level in build.design.iron.plate_levels())
    inner, outer, deep = mm("d_in", 2 * air.r_pole, 4), mm("d_out", 2 * air.r_plate, 4), show("t", 1.5 * (high - low))
    return [
        f"Centring ring of brass, card or plastic, nothing that a magnet pulls: inside ⌀{inner}, outside ⌀{outer} mm, "
        f"{deep} or more high, waxed. It fills the gap between {air.pole} and {air.plate} while the glue sets, a "
        "weight on top; then it comes out. A pole off centre is drawn further off."
    ]
