"""The operation that builds the driver in: the holes in its frame's back, the boards to saw, the port."""

from __future__ import annotations

from collections.abc import Iterator

from handwound.heard.boards import BEHIND, least_air, sawn
from handwound.parts.mounting import Back, Port
from handwound.parts.sound_study import Boards
from handwound.sheet.build import care
from handwound.sheet.build.operation import Build, Check, Operation
from handwound.sheet.digits import with_band
from handwound.sheet.heard import built_in
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, counted, joined, mm, printed, say, show


def build_in(build: Build) -> tuple[Operation, ...]:
    """What the brief builds the driver into; nothing for a wall and an open frame."""
    design, brief = build.design, build.brief
    if build.prediction.mounted is None or not (design.back or brief.box or brief.baffle):
        return ()
    do = [say("The driver goes {where}: seal its rim, no gap may hiss.", where=built_in(brief, design))]
    if brief.box or brief.baffle:
        do.append(_hole(build))
    do += _boxed(build)
    if design.back:
        do.append(say("Its own back: {vents}. {tape}", vents=vents(design.back), tape=say(TAPE)))
    check = Check(
        say("highest peak of the impedance, as it is built in"),
        with_band("f_c", band(build.prediction, "mounted.f_c")),
        say("Softer or more air than planned, or a leak."), say("Stiffer or less air than planned."),
    )  # fmt: skip
    wood = bool(brief.box or brief.baffle)
    return (
        Operation(
            "BI", say("Build it in"), tuple(do), (check,),
            tools=(say("saw"), say("drill"), say("sealing strip"), say("tone generator"), say("amplifier"))
            if wood
            else (say("tape"), say("tone generator"), say("amplifier")),
            cautions=(*((care.boards(),) if wood else ()), care.tones()),
        ),
    )  # fmt: skip


TAPE = (
    "Taping one more makes the air in the others heavier and lowers its resonance, until the last is taped: then the "
    "back is a tight box and the resonance high. Cloth over a hole damps it."
)
"""What open holes do: they are a plug of air that swings on the spring of the air behind the diaphragm."""


def vents(back: Back) -> Said:
    """How many holes, how many of them open."""
    holes, taped, d_vent = counted("n_vent", back.n_vent), counted("n_taped", back.n_taped), mm("d_vent", back.d_vent)
    left = counted("n_vent", back.n_vent - back.n_taped)
    if back.n_taped:
        return say(
            "{holes} holes of ⌀{d_vent} mm, {taped} of them taped over; {left} stay open", holes=holes, d_vent=d_vent,
            taped=taped, left=left,
        )  # fmt: skip
    return say("{holes} holes of ⌀{d_vent} mm; {left} stay open", holes=holes, d_vent=d_vent, left=left)


def _hole(build: Build) -> Said:
    """What is known of the hole: a frame has no sizes in a design."""
    free, rim = mm("d_out", build.design.surround.d_out), mm("D_outline", build.brief.D_outline)
    hole = say(
        "Hole for the driver: round the frame where it passes, under its flange; before a frame that stands behind the "
        "board no narrower than ⌀{free} mm, where the surround ends. All of the driver is within ⌀{rim} mm.",
        free=free, rim=rim,
    )  # fmt: skip
    if build.brief.baffle and not build.brief.box:
        wide, high = (mm(name, getattr(build.brief.baffle, name)) for name in ("W_baffle", "H_baffle"))
        board = say("Saw one board of {wide} × {high} mm, the hole in its middle.", wide=wide, high=high)
        return joined(" ", (board, hole))
    return hole


def _boxed(build: Build) -> Iterator[Said]:
    """The boards of a box and its port."""
    box, port = build.brief.box, build.brief.port
    if box is None:
        return
    boards = sawn(build.design, build.brief)
    if boards is None:
        yield say(
            "Boards round so little air do not hold this driver: from {least} on they do. It wants another vessel.",
            least=show("V_box", least_air(build.design, build.brief), 2),
        )
    else:
        t_box, ends, floors, sides, inside = pieces(boards)
        yield say(
            "Boards {t_box} thick, two of each: front and back {ends}, top and bottom {floors}, sides {sides}; glue "
            "them butt to butt, front and back over all. Inside {inside}, at least {behind} of it behind the motor.",
            t_box=t_box, ends=ends, floors=floors, sides=sides, inside=inside, behind=show("D_in", BEHIND),
        )  # fmt: skip
    if port:
        yield _port(build, port)


def _port(build: Build, port: Port) -> Said:
    """The port, cut to its note."""
    n_port, d_port, l_port = counted("n_port", port.n_port), mm("d_port", port.d_port), mm("l_port", port.l_port)
    tubes = say("Ports: {n_port}, ⌀{d_port} inside, {l_port} long (mm).", n_port=n_port, d_port=d_port, l_port=l_port)
    if build.prediction.sound and (f_box := build.prediction.sound.places[0].f_box):
        cut = say(
            "Cut longer, then shorten, until the impedance is least at {f_box}, between its two peaks.",
            f_box=show("f_box", f_box, 2),
        )
    else:
        cut = say("Cut longer, then shorten.")
    return joined(" ", (tubes, cut))


def pieces(boards: Boards) -> tuple[Said, Said, Said, Said, Said]:
    """The thickness; front and back; top and bottom; sides; what is inside, width, height and depth."""
    W, H, D, W_out, H_out = (
        printed(name, getattr(boards, name), f"{1000 * float(getattr(boards, name)):.0f}")
        for name in ("W_in", "H_in", "D_in", "W_out", "H_out")
    )
    return (
        show("t_box", boards.t_box), joined(" × ", (W_out, say("{H} mm", H=H_out))),
        joined(" × ", (W_out, say("{D} mm", D=D))), joined(" × ", (D, say("{H} mm", H=H))),
        joined(" × ", (W, H, say("{D} mm", D=D))),
    )  # fmt: skip
