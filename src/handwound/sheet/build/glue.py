"""Lines of glue and small masses in the words of the build, and how long each glue must be left alone in this room."""

from __future__ import annotations

from handwound.masses import bond_mass
from handwound.parts.moving import Bond
from handwound.parts.sheet import Adhesive
from handwound.quantities import Num, plain, units
from handwound.sheet.build.operation import Build, Wait
from handwound.sheet.digits import with_band
from handwound.sheet.numbers import band
from handwound.sheet.said import Said, joined, mm, printed, say, show

LINES = {
    "neck": "Glue round the neck: {line}", "rim": "Glue round the rim: {line}", "cap": "Glue under the cap: {line}",
    "seam": "Glue along the seam: {line}", "spider": "Glue round the spider: {line}",
    "coil": "Glue over the winding: {line}",
}  # fmt: skip
"""Where each line of glue lies."""
HALVES = 10.0
"""So many kelvin warmer, a glue is done in half its time: common practice, no source, from 10 to 35 °C. [K]"""
COLD, AT = 10.0, 20.0
"""Below this many glues stay soft for good: common practice, no source. Where their times are told. [°C]"""


def in_room(t: Num, T_room: Num) -> float:
    """The time that a glue wants in this room, of that at 20 °C: twice as long for every 10 K colder. [s]"""
    return float(t) * 2.0 ** ((AT - float(T_room)) / HALVES)


def used(build: Build, *places: str) -> tuple[Adhesive, ...]:
    """The glues at some places, each once; where no line is drawn there, that of the design."""
    found = [bond.glue for bond in build.design.bonds if bond.at in places]
    found = found or [glue for glue in (build.design.glue,) if glue]
    return tuple({glue.name: glue for glue in found}.values())


def waits(build: Build, why: str, *places: str) -> tuple[Wait, ...]:
    """How long to keep the hands off what is glued at some places, and ``why``."""
    return tuple(_wait(glue, build.brief.T_room, why) for glue in used(build, *places)) or (
        Wait("", None, None, say("The glue sets and cures as its label says. {why}", why=why)),
    )


def iron_glue(build: Build) -> Adhesive | None:
    """The design's glue where it may hold iron: one that wants the oven would bake coil and magnets with it."""
    glue = build.design.glue
    return None if glue is None or "heat" in glue.kind.lower() else glue


def iron_waits(build: Build, why: str) -> tuple[Wait, ...]:
    """How long the joints of the motor are left alone; as its label says where the design has no glue for them."""
    glue = iron_glue(build)
    if glue is None:
        return (Wait("", None, None, say("The glue sets and cures as its label says. {why}", why=why)),)
    return (_wait(glue, build.brief.T_room, why),)


def _wait(glue: Adhesive, T_room: Num, why: str) -> Wait:
    if glue.t_set is None or glue.t_cure is None:
        oven = "heat" in glue.kind.lower()
        label = say("{glue}: in the oven, as its label says. {why}", glue=glue.name, why=why)
        return Wait(glue.name, None, None, label if oven else say(LABEL, glue=glue.name, why=why))
    t_set, t_cure = in_room(glue.t_set, T_room), in_room(glue.t_cure, T_room)
    words = say(
        "{glue}: let go after {t_set}, load it after {t_cure}, in this room of {T_room}. {why}", glue=glue.name,
        t_set=time("t_set", t_set), t_cure=time("t_cure", t_cure), T_room=show("T_room", float(T_room)), why=why,
    )  # fmt: skip
    if float(T_room) < COLD:
        words = joined(" ", (words, say("Below 10 °C it may stay soft for good: find it a warmer room.")))
    return Wait(glue.name, t_set, t_cure, words)


LABEL = "{glue}: as its label says. {why}"


def time(name: str, t: float) -> Said:
    """``"45 min"``, ``"24 h"``: two figures are all that a glue keeps."""
    unit = "h" if t >= 1.5 * units()["h"].scale else "min"
    return printed(name, t, plain(t / units()[unit].scale, 2), unit)


def weight(build: Build, name: str) -> Said:
    """What a small mass of the build is expected to weigh."""
    return with_band(name, band(build.prediction, f"moving.{name}"))


def glued(build: Build, *places: str) -> tuple[Said, ...]:
    """The lines of glue at some places, each with what it weighs when cured."""
    return tuple(say(LINES[bond.at], line=_line(build, bond)) for bond in build.design.bonds if bond.at in places)


def _line(build: Build, bond: Bond) -> Said:
    m = show("m_g", float(bond_mass(build.design, bond, build.prediction.voice_winding)), 2)
    t_bond, name = mm("t_bond", bond.t_bond), bond.glue.name
    if bond.w_bond is None:
        return say("{glue}, {t_bond} thick (mm), {m} when cured.", glue=name, t_bond=t_bond, m=m)
    return say(
        "{glue}, {w_bond} wide, {t_bond} thick (mm), {m} when cured.", glue=name, w_bond=mm("w_bond", bond.w_bond),
        t_bond=t_bond, m=m,
    )  # fmt: skip
