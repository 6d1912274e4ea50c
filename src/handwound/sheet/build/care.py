"""The cautions in the strip where they matter: short, because the hands are busy. The sheet's own list says more.

Common practice, no source, where none is named; local codes and licensed practice come first.
"""

from __future__ import annotations

from handwound.sheet.build.glue import used
from handwound.sheet.build.operation import Build
from handwound.sheet.caution_words import harm
from handwound.sheet.cautions import Caution, high_voltage, kick
from handwound.sheet.fed import Fed
from handwound.sheet.said import joined, say, show


def edges() -> Caution:
    """Cut steel."""
    return Caution(say("Edges"), say("Sawn edges, swarf and washers cut: goggles on, deburr, clamp what you drill."))


def drill(build: Build) -> Caution:
    """Drilling beside a gap that takes what falls into it."""
    where = say("Clamp the sheet, goggles on, deburr both sides. Drill away from the motor, its gap taped over.")
    if build.design.has_magnets:
        where = joined(" ", (where, say("Its magnet draws swarf from a hand's breadth.")))
    return Caution(say("Drilling"), where)


def solder() -> Caution:
    """Fume of flux and of burnt enamel."""
    text = say("Scrape the enamel off, do not burn it off; air the room, wash hands: solder fume is bad for lungs.")
    return Caution(say("Solder"), text)


def glues(build: Build, *places: str) -> tuple[Caution, ...]:
    """What the glues at some places do to who breathes or touches them."""
    found = [say("{glue}: {harm}.", glue=glue.name, harm=harm(glue)) for glue in used(build, *places)]
    return (Caution(say("Glue"), joined(" ", found)),) if found else ()


def oven(build: Build) -> tuple[Caution, ...]:
    """A mandrel that comes out of the oven."""
    if not any("heat" in glue.kind.lower() for glue in used(build, "coil")):
        return ()
    coil = build.design.voice_coil
    bears = [float(coil.former.T_max), *([float(coil.wire.T_max)] if coil.wire else [])]
    text = say(
        "No hotter than {T_max}: former and enamel bear no more. Mandrel and coil come out hot: gloves, and let them "
        "cool before you read ohms.",
        T_max=show("T_max", min(bears)),
    )  # fmt: skip
    return (Caution(say("Oven"), text),)


def pinch() -> Caution:
    """Magnets that meet."""
    text = say(
        "Magnets crush what is between them and split when they snap together: wedges, never fingers, goggles on. Keep "
        "them from pacemakers, implants and cards."
    )
    return Caution(say("Pinch"), text)


def pinched() -> Caution:
    """Iron that closes over a coil."""
    return Caution(say("Pinch"), say("Let no wire and no finger between the parts; a lead that is squeezed is cut."))


def power(build: Build, there: Fed) -> tuple[Caution, ...]:
    """All that the first current may do."""
    found = high_voltage(there)
    found.append(Caution(say("Diode first"), kick(there.W_m, there.cold.I_f, there.supply.V_max)))
    hot = say(
        "It gets hot, inside hotter than outside: never leave its first run alone, nothing near it that burns. Feel it "
        "with the back of a hand."
    )
    found.append(Caution(say("Hot coil"), hot))
    if not build.design.has_magnets:
        found.append(
            Caution(say("Pull"), say("The live motor snatches steel: tools, screws and watches off the bench."))
        )
    return tuple(found)


def tones() -> Caution:
    """Test tones near the ears."""
    return Caution(
        say("Ears"), say("Test tones quiet, ears away from the cone: a steady tone is louder than it seems.")
    )


def hot_motor(build: Build) -> tuple[Caution, ...]:
    """A field that stays on while something is read."""
    if not build.fed:
        return ()
    text = say(
        "The field warms while you work: off when you do not read. Turn the supply down; never pull a live clip."
    )
    return (Caution(say("Hot coil"), text),)


def boards() -> Caution:
    """Sawing wood."""
    text = say("A saw takes fingers, the dust of boards harms lungs: guard on, goggles, mask, hands well away.")
    return Caution(say("Saw"), text)


def mask() -> Caution:
    """Dust of what moves."""
    return Caution(say("Knife and dust"), say("Cut away from the hand; a mask against dust of card, foam and cloth."))


def winder() -> Caution:
    """A wire that runs."""
    return Caution(say("Wire"), say("Guide the wire with felt, not with bare fingers; nothing loose near the winder."))
