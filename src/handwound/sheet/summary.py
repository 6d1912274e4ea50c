"""What will be built, in one plain paragraph."""

from __future__ import annotations

from handwound.parts.coil import Coil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import gap
from handwound.sheet.fed import fed
from handwound.sheet.heard import built_in
from handwound.sheet.heat_limits import burns_out, burnt
from handwound.sheet.numbers import band
from handwound.sheet.said import mm, show


def summary(design: Design, brief: Brief, prediction: Prediction) -> str:
    """The build and what it will do, and how that compares with the wish."""
    air, part, voice = gap(design, prediction), design.diaphragm, design.voice_coil
    gap_words = f" in a gap of {mm('c_o', air.r_plate - air.r_pole, 3)} mm" if air.r_pole and air.r_plate else ""
    levels = with_band("L_1W", band(prediction, "driver.L_1W"))
    if burns_out(prediction):
        levels = f"{levels} at 1 m for 1 W cold, while it lasts"
    elif prediction.heat:
        levels = f"{levels} at 1 m for 1 W cold, {with_band('L_1W', band(prediction, 'heat.L_1W'))} warm"
    else:
        levels = f"{levels} at 1 m for 1 W"
    low = ""
    if prediction.mounted:
        low = f"notes down to {with_band('f_10', band(prediction, 'mounted.f_10'))} {built_in(brief, design)}, "
    wished = ", ".join(show(name, float(getattr(brief, name))) for name in ("L_want", "Z_rated", "f_low"))
    return (
        f"A driver of {show('d_out', float(design.surround.d_out))} with {_kind(design)}. A {part.form} of "
        f"{part.sheet.name} is driven by {prediction.voice_ladder[-1].N} turns of {_wire(voice)}{gap_words}. "
        f"{_field(design, brief, prediction)} Expect {levels}, {low}a resonance "
        f"near {show('fs', float(prediction.driver.fs), 2)}, and {with_band('Re', band(prediction, 'driver.Re'))} on "
        f"the meter. Wished for: {wished}."
    )


def _kind(design: Design) -> str:
    """What makes the field, in two words."""
    if not design.has_magnets:
        return "a field coil"
    magnets = _magnets(design)[0]
    return f"{magnets} and a field coil" if design.field_coil else magnets


def _magnets(design: Design) -> tuple[str, str]:
    """How many magnets there are, and of what."""
    grades = [ring.grade for ring in design.iron.rings if ring.magnetised]
    return "a magnet" if len(grades) == 1 else f"{len(grades)} magnets", " and ".join(dict.fromkeys(grades))


def _field(design: Design, brief: Brief, prediction: Prediction) -> str:
    """Where the field comes from, and what it takes."""
    found = []
    if design.has_magnets:
        magnets, grades = _magnets(design)
        also = "" if design.field_coil else ": no supply, and nothing to wait for until it is warm"
        found.append(f"The field comes from {magnets} of {grades}{also}.")
    there = fed(design, brief, prediction)
    if there:
        against = float(prediction.motor.Bl) < float(prediction.curves.Bl_NI[0])
        magnetic = "It is weakened by" if against else "It is helped by"
        begin = magnetic if design.has_magnets else "The field comes from"
        current = f"{show('I_f', float(there.cold.I_f))} at {show('V_f', float(there.cold.V_f))}"
        warm = f"warm {show('I_f', float(there.warm.I_f))}"
        if burns_out(prediction):
            warm = f"and the coil {burnt(prediction)}"
        found.append(
            f"{begin} {prediction.field_ladder[-1].N} turns of {_wire(there.coil)}: cold they draw {current} from "
            f"{there.supply.name}, {warm}."
        )
    return " ".join(found)


def _wire(coil: Coil) -> str:
    return f"{show('d_cu', float(coil.wire.d_cu))} wire" if coil.wire else "wire"
