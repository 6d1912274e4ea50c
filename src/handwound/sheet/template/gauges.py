"""What is held against the work: centring ring, shims, the coil's depth gauge, rings that say go or no."""

from __future__ import annotations

from collections.abc import Iterator

from handwound.parts.design import Design
from handwound.parts.prediction import Band, Prediction
from handwound.sheet.bands import about, half
from handwound.sheet.drawing.letters import text_width
from handwound.sheet.drawing.shapes import Gap, front_face, gap, voice_levels
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, mm, say
from handwound.sheet.template.label import named
from handwound.sheet.template.outline import Template, Words, circle
from handwound.sheet.template.shape import path, rectangle

SHIMS, LONGER, WIDEST = 3, 25e-3, 8e-3
"""How many shims, what they are longer than the former to be pulled by, how wide: common practice, no source. [m]"""
SEEN, LEAST_HOOK = 0.5e-3, 1e-3
"""The winding's end is seen where it stands so far out of the plate, with so much bare former in front. [m]"""
LEG, HOOK = 20e-3, 8e-3
"""Width of the depth gauge's foot, and most height of the hook over it: common practice, no source. [m]"""
RIM = 8e-3
"""Card left round the holes of a go and no-go gauge: common practice, no source. [m]"""


def centring_ring(design: Design, prediction: Prediction) -> Iterator[Template]:
    """What keeps pole and plate apart all round until the joint is made."""
    air = gap(design, prediction)
    if air.r_pole is None or air.r_plate is None:
        return
    code = "MG" if design.has_magnets else "IR"
    name, d_in, d_out = say("Centring ring"), 2 * air.r_pole, 2 * air.r_plate
    notes = (
        say(
            "⌀{d_out} mm outside, a sliding fit in the plate; hole ⌀{d_in} mm, a sliding fit on the pole. It stays in "
            "the gap until the joint is made.",
            d_out=mm("d_out", d_out), d_in=mm("d_in", d_in),
        ),
        say("Turned from brass or aluminium it keeps 0.05 mm; of card, stack as many as the plate is thick."),
    )  # fmt: skip
    lines = (circle(d_out), circle(d_in))
    words = (named(0, -d_out / 2 - 4e-3, name, code),)
    yield Template("centring-ring", name, say("brass, aluminium or card"), code, lines, words, notes)


def shims(design: Design, prediction: Prediction) -> Iterator[Template]:
    """Three strips that hold the former off the pole."""
    air = gap(design, prediction)
    if air.r_pole is None:
        return
    name = say("Shim")
    t_shim = (prediction.rub and prediction.rub.t_shim) or air.r_former - air.r_pole
    length = float(design.voice_coil.l_f) + LONGER
    width = min(WIDEST, air.r_former / 2)
    of = say("card or film, {t_shim} mm thick", t_shim=mm("t_shim", t_shim, 2))
    note = say(
        "{length} × {width} mm, at 12, 4 and 8 o'clock between pole and former; no steel near a magnet. Measure each: "
        "all three equally thick.",
        length=mm("length", length), width=mm("width", width, 3),
    )  # fmt: skip
    words = (named(length / 2, -4e-3, name, "AS", SHIMS),)
    yield Template("shim", name, of, "AS", (rectangle(length, width),), words, (note,), SHIMS)


def depth_gauge(design: Design, prediction: Prediction) -> Iterator[Template]:
    """A card that stands on the front face and touches the front end of the winding; else the former's front edge."""
    face, z_face = front_face(design)
    bare = float(design.voice_coil.l_f) - float(design.voice_coil.h_w)
    front = voice_levels(design)[1] - z_face
    air = gap(design, prediction)
    if front >= SEEN and bare >= LEAST_HOOK and air.r_plate is not None:
        yield _hooked(face, front, bare, air)
    elif front + bare >= SEEN:
        yield _plain(face, front + bare)


def _hooked(face: str, x: float, bare: float, air: Gap) -> Template:
    """An upside-down L: its foot beside the bore, its hook over the end of the winding, up to the former."""
    assert air.r_plate is not None
    name, high = say("Coil depth gauge"), min(HOOK, 0.7 * bare)
    reach = air.r_plate - air.r_wire + 1e-3
    line = path((0, 0), (LEG, 0), (LEG, x + high), (-reach, x + high), (-reach, x), (0, x))
    note = say(
        "Its foot stands on the front face of {face}; the hook, {x} mm above it, touches the front end of the winding.",
        face=face, x=mm("x", x, 3),
    )  # fmt: skip
    words = (named(LEG / 2, -4e-3, name, "AS"),)
    return Template("depth-gauge", name, say("stiff card"), "AS", (line,), words, (note,))


def _plain(face: str, x: float) -> Template:
    name = say("Coil depth gauge")
    note = say(
        "The winding's end is out of sight: this one stands on the front face of {face} and is {x} mm high, up to the "
        "front edge of the former.",
        face=face, x=mm("x", x, 3),
    )  # fmt: skip
    words = (named(LEG / 2, -4e-3, name, "AS"),)
    return Template("depth-gauge", name, say("stiff card"), "AS", (rectangle(LEG, x),), words, (note,))


def go_rings(design: Design, prediction: Prediction) -> Iterator[Template]:
    """Two holes each for former and voice coil: through the one it goes, through the other it does not."""
    coil = design.voice_coil
    outside = about(coil.D_f, half(coil, "D_f"))
    yield from _go("go-former", say("Go and no-go: former"), "FO", "D_f", outside)
    yield from _go("go-coil", say("Go and no-go: voice coil"), "VC", "D_w", band(prediction, "voice_winding.D_w"))


def _go(key: str, name: str, code: str, quantity: str, accepted: Band) -> Iterator[Template]:
    if not 0 < accepted.low < accepted.high:
        return
    low, high = float(accepted.low), float(accepted.high)
    wide, tall = low + high + 3 * RIM, high + 2 * RIM
    at = (RIM + high / 2, 2 * RIM + high + low / 2)
    lines = (rectangle(wide, tall), circle(high, x=at[0], y=tall / 2), circle(low, x=at[1], y=tall / 2))
    texts = say("goes: {high}", high=_across(quantity, high)), say("no: {low}", low=_across(quantity, low))
    # in the card over the holes, as small as they must be to stand side by side
    apart = (at[1] - at[0]) - 1e-3
    size = min(2.6e-3, *(apart / text_width(text, 1.0) for text in texts))
    words = (*(Words(x, tall - RIM / 2, text, size) for x, text in zip(at, texts, strict=True)),
             named(wide / 2, -4e-3, name, code))  # fmt: skip
    note = say(
        "It goes through the hole of {high} at all angles and not through that of {low}. Only by laser or printed from "
        "its outline: a knife is good to 0.2 mm, too coarse for it; then use the caliper.",
        high=_across(quantity, high), low=_across(quantity, low),
    )  # fmt: skip
    yield Template(key, name, say("stiff card or sheet"), code, lines, words, (note,))


def _across(quantity: str, value: float) -> Said:
    return say("⌀{d} mm", d=mm(quantity, value))
