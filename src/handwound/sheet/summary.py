"""What will be built, in one plain paragraph."""

from __future__ import annotations

from handwound.parts.coil import Coil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.quantities import show
from handwound.sheet.digits import with_band
from handwound.sheet.numbers import band
from handwound.sheet.shapes import gap, mm


def summary(design: Design, brief: Brief, prediction: Prediction) -> str:
    """The build and what it will do, and how that compares with the wish."""
    turns, air = (
        [ladder[-1].N for ladder in (prediction.field_ladder, prediction.voice_ladder)],
        gap(design, prediction),
    )
    gap_words = f" in a gap of {mm('c_o', air.r_plate - air.r_pole, 3)} mm" if air.r_pole and air.r_plate else ""
    part, excited = design.diaphragm, prediction.excitation
    cold, warm = (with_band("L_1W", band(prediction, key)) for key in ("driver.L_1W", "heat.L_1W"))
    Re = with_band("Re", band(prediction, "driver.Re"))
    wish = ", ".join(show(name, float(getattr(brief, name))) for name in ("L_want", "Z_rated", "f_low"))
    current = f"{show('I_f', float(excited.I_f))} at {show('V_f', float(excited.V_f))}"
    later = f"warm {show('I_f', float(prediction.heat.I_f))}"
    return (
        f"A driver of {show('d_out', float(design.surround.d_out))} with a field coil. A {part.form} of "
        f"{part.sheet.name} is driven by {turns[1]} turns of {_wire(design.voice_coil)}{gap_words}. "
        f"The field comes from {turns[0]} turns of {_wire(design.field_coil)}: cold they draw {current} from "
        f"{brief.supply.name}, {later}. Expect {cold} at 1 m for 1 W cold, {warm} warm, a resonance "
        f"near {show('fs', float(prediction.driver.fs), 2)}, and {Re} on the meter. Wished for: {wish}."
    )


def _wire(coil: Coil) -> str:
    return f"{show('d_cu', float(coil.wire.d_cu))} wire" if coil.wire else "wire"
