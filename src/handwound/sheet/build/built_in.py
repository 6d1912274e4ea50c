"""The operation that builds the driver in: the holes in its frame's back, the boards to saw, the port."""

from __future__ import annotations

from collections.abc import Iterator

from handwound.heard.boards import BEHIND, least_air, sawn
from handwound.parts.mounting import Back, Port
from handwound.parts.sound_study import Boards
from handwound.quantities import show
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.drawing.shapes import mm
from handwound.sheet.heard import built_in
from handwound.sheet.numbers import band


def build_in(build: Build) -> tuple[Operation, ...]:
    """What the brief builds the driver into; nothing for a wall and an open frame."""
    design, brief = build.design, build.brief
    if build.prediction.mounted is None or not (design.back or brief.box or brief.baffle):
        return ()
    do = [f"The driver goes {built_in(brief, design)}: seal its rim, no gap may hiss."]
    if brief.box or brief.baffle:
        do.append(_hole(build))
    do += _boxed(build)
    if design.back:
        do.append(f"Its own back: {vents(design.back)}. {TAPE}")
    check = Check(
        "highest peak of the impedance, as it is built in", with_band("f_c", band(build.prediction, "mounted.f_c")),
        "Softer or more air than planned, or a leak.", "Stiffer or less air than planned.",
    )  # fmt: skip
    return (Operation("Build it in", tuple(do), (check,)),)


TAPE = (
    "Taping one more makes the air in the others heavier and lowers its resonance, until the last is taped: then the "
    "back is a tight box and the resonance high. Cloth over a hole damps it."
)
"""What open holes do: they are a plug of air that swings on the spring of the air behind the diaphragm."""


def vents(back: Back) -> str:
    """How many holes, how many of them open."""
    taped = f", {int(back.n_taped)} of them taped over" if back.n_taped else ""
    left = int(back.n_vent) - int(back.n_taped)
    return f"{int(back.n_vent)} holes of ⌀{mm('d_vent', back.d_vent)} mm{taped}; {left} stay open"


def _hole(build: Build) -> str:
    """What is known of the hole: a frame has no sizes in a design."""
    free, rim = mm("d_out", build.design.surround.d_out), mm("D_outline", build.brief.D_outline)
    board = ""
    if build.brief.baffle and not build.brief.box:
        wide, high = (mm(name, getattr(build.brief.baffle, name)) for name in ("W_baffle", "H_baffle"))
        board = f"Saw one board of {wide} × {high} mm, the hole in its middle. "
    return (
        f"{board}Hole for the driver: round the frame where it passes, under its flange; before a frame that stands "
        f"behind the board no narrower than ⌀{free} mm, where the surround ends. All of the driver is within ⌀{rim} mm."
    )


def _boxed(build: Build) -> Iterator[str]:
    """The boards of a box and its port."""
    box, port = build.brief.box, build.brief.port
    if box is None:
        return
    boards = sawn(build.design, build.brief)
    if boards is None:
        least = show("V_box", least_air(build.design, build.brief), 2)
        yield f"Boards round so little air do not hold this driver: from {least} on they do. It wants another vessel."
    else:
        t_box, ends, floors, sides, inside = pieces(boards)
        yield (
            f"Boards {t_box} thick, two of each: front and back {ends}, top and bottom {floors}, sides {sides}; glue "
            f"them butt to butt, front and back over all. Inside {inside}, at least {show('D_in', BEHIND)} of it "
            "behind the motor. Goggles and mask; the saw's guard stays on."
        )
    if port:
        yield _port(build, port)


def _port(build: Build, port: Port) -> str:
    """The port, cut to its note."""
    tubes = "One port" if port.n_port == 1 else f"{int(port.n_port)} ports"
    size = f"⌀{mm('d_port', port.d_port)} inside, {mm('l_port', port.l_port)} long (mm)"
    note = ""
    if build.prediction.sound and (f_box := build.prediction.sound.places[0].f_box):
        note = f", until the impedance is least at {show('f_box', f_box, 2)}, between its two peaks"
    return f"{tubes}: {size}. Cut longer, then shorten{note}."


def pieces(boards: Boards) -> tuple[str, str, str, str, str]:
    """The thickness; front and back; top and bottom; sides; what is inside, width, height and depth."""
    W, H, D, W_out, H_out = (
        f"{1000 * float(side):.0f}" for side in (boards.W_in, boards.H_in, boards.D_in, boards.W_out, boards.H_out)
    )
    return (
        show("t_box", float(boards.t_box)), f"{W_out} × {H_out} mm", f"{W_out} × {D} mm", f"{D} × {H} mm",
        f"{W} × {H} × {D} mm",
    )  # fmt: skip
