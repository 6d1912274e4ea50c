"""What will be built, in one plain paragraph."""

from __future__ import annotations

from collections.abc import Iterator

from handwound.parts.coil import Coil
from handwound.parts.design import Brief, Design
from handwound.parts.prediction import Prediction
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import gap
from handwound.sheet.fed import Fed, fed
from handwound.sheet.heard import built_in
from handwound.sheet.heat_limits import burns_out, burnt
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, counted, joined, listed, mm, say, show

DRIVEN = {
    "cone": "A cone of {sheet} is driven by {N} turns of {wire}.",
    "disc": "A disc of {sheet} is driven by {N} turns of {wire}.",
    "dome": "A dome of {sheet} is driven by {N} turns of {wire}.",
}
DRIVEN_IN = {
    "cone": "A cone of {sheet} is driven by {N} turns of {wire} in a gap of {gap} mm.",
    "disc": "A disc of {sheet} is driven by {N} turns of {wire} in a gap of {gap} mm.",
    "dome": "A dome of {sheet} is driven by {N} turns of {wire} in a gap of {gap} mm.",
}
"""What moves, by its form; with a gap where there is iron on both sides."""


def summary(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """The build and what it will do, and how that compares with the wish."""
    wished = joined(", ", (show(name, float(getattr(brief, name))) for name in ("L_want", "Z_rated", "f_low")))
    return joined(" ", [
        say("A driver of {d_out} with {field}.", d_out=show("d_out", design.surround.d_out), field=_kind(design)),
        _driven(design, prediction),
        *_field(design, brief, prediction),
        _expected(design, brief, prediction),
        say("Wished for: {wished}.", wished=wished),
    ])  # fmt: skip


def _driven(design: Design, prediction: Prediction) -> Said:
    """The diaphragm, its coil and the gap."""
    air, part = gap(design, prediction), design.diaphragm
    places = {
        "sheet": part.sheet.name,
        "N": counted("N", prediction.voice_ladder[-1].N),
        "wire": _wire(design.voice_coil),
    }
    if air.r_pole and air.r_plate:
        return say(DRIVEN_IN[part.form], gap=mm("c_o", air.r_plate - air.r_pole, 3), **places)
    return say(DRIVEN[part.form], **places)


def _expected(design: Design, brief: Brief, prediction: Prediction) -> Said:
    """How loud, how low, its resonance, what the meter reads."""
    loud = {
        "level": _levels(prediction),
        "fs": show("fs", float(prediction.driver.fs), 2),
        "Re": with_band("Re", band(prediction, "driver.Re")),
    }
    if not prediction.mounted:
        return say("Expect {level}, a resonance near {fs}, and {Re} on the meter.", **loud)
    return say(
        "Expect {level}, notes down to {f_10} {where}, a resonance near {fs}, and {Re} on the meter.",
        f_10=with_band("f_10", band(prediction, "mounted.f_10")), where=built_in(brief, design), **loud,
    )  # fmt: skip


def _levels(prediction: Prediction) -> Said:
    cold = with_band("L_1W", band(prediction, "driver.L_1W"))
    if burns_out(prediction):
        return say("{level} at 1 m for 1 W cold, while it lasts", level=cold)
    if prediction.heat:
        warm = with_band("L_1W", band(prediction, "heat.L_1W"))
        return say("{cold} at 1 m for 1 W cold, {warm} warm", cold=cold, warm=warm)
    return say("{level} at 1 m for 1 W", level=cold)


def _kind(design: Design) -> Said:
    """What makes the field, in two words."""
    if not design.has_magnets:
        return say("a field coil")
    if len(_grades(design)) == 1:
        return say("a magnet and a field coil") if design.field_coil else say("a magnet")
    return say("magnets and a field coil") if design.field_coil else say("magnets")


def _grades(design: Design) -> list[str]:
    """What each magnet is made of."""
    return [ring.grade for ring in design.iron.rings if ring.magnetised]


def _field(design: Design, brief: Brief, prediction: Prediction) -> Iterator[Said]:
    """Where the field comes from, and what it takes."""
    if design.has_magnets:
        yield _of_magnets(design)
    there = fed(design, brief, prediction)
    if there:
        turns = say("{N} turns of {wire}", N=counted("N", prediction.field_ladder[-1].N), wire=_wire(there.coil))
        if not design.has_magnets:
            yield say("The field comes from {turns}: {fed}.", turns=turns, fed=_drawn(there, prediction))
        elif float(prediction.motor.Bl) < float(prediction.curves.Bl_NI[0]):
            yield say("It is weakened by {turns}: {fed}.", turns=turns, fed=_drawn(there, prediction))
        else:
            yield say("It is helped by {turns}: {fed}.", turns=turns, fed=_drawn(there, prediction))


def _of_magnets(design: Design) -> Said:
    found = _grades(design)
    grades = listed(dict.fromkeys(found))
    if design.field_coil:
        if len(found) == 1:
            return say("The field comes from a magnet of {grades}.", grades=grades)
        return say("The field comes from magnets of {grades}.", grades=grades)
    if len(found) == 1:
        return say(
            "The field comes from a magnet of {grades}: no supply, and nothing to wait for until it is warm.",
            grades=grades,
        )
    return say(
        "The field comes from magnets of {grades}: no supply, and nothing to wait for until it is warm.", grades=grades
    )


def _drawn(there: Fed, prediction: Prediction) -> Said:
    """What the field coil draws, cold and warm."""
    cold = {
        "I_f": show("I_f", float(there.cold.I_f)),
        "V_f": show("V_f", float(there.cold.V_f)),
        "supply": there.supply.name,
    }
    if burns_out(prediction):
        return say("cold they draw {I_f} at {V_f} from {supply}, and the coil {burnt}", burnt=burnt(prediction), **cold)
    warm = show("I_f", float(there.warm.I_f))
    return say("cold they draw {I_f} at {V_f} from {supply}, warm {warm}", warm=warm, **cold)


def _wire(coil: Coil) -> Said:
    return say("{d_cu} wire", d_cu=show("d_cu", float(coil.wire.d_cu))) if coil.wire else say("wire")
