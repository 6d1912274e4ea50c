"""The first operations: stock, iron, spool, field coil, first current."""

from __future__ import annotations

from handwound.parts.coil import Coil
from handwound.parts.prediction import Band, Layer
from handwound.quantities import show
from handwound.sheet.digits import with_band
from handwound.sheet.numbers import band
from handwound.sheet.operation import Build, Check, Operation
from handwound.sheet.shapes import gap, mm, piles
from handwound.sheet.winding import Ladder, field_ladder

SEE = "do as the ladder's last hold says."
SAMPLE, WRAP = 10.0, 30
"""Length of wire to read [m], and turns to lay side by side: common practice."""


def operations(build: Build) -> tuple[Operation, ...]:
    """From the shelf to a motor that holds its current."""
    ladder = field_ladder(build.design, build.brief, build.prediction)
    return stock(build), iron(build), spool(build), wind_field(build, ladder), energise(build)


def stock(build: Build) -> Operation:
    """Is the wire what its label says, and is there enough of it?"""
    design, prediction = build.design, build.prediction
    do = ["Hold a magnet to every steel part: each must be pulled hard. Measure each diameter at six angles."]
    short = []
    for reel in prediction.reels:
        left = "" if reel.l_reel is None else f"; {show('l_w', max(reel.l_reel, 0.0))} will be left"
        do.append(f"{reel.name}: the build takes {show('l_w', reel.l_w)}{left}.")
        if reel.l_reel is not None and reel.l_reel < 0:
            short.append(f"{reel.name} is short by {show('l_w', -reel.l_reel)}")
    checks = []
    for coil, rungs in ((design.field_coil, prediction.field_ladder), (design.voice_coil, prediction.voice_ladder)):
        checks += _wire_checks(coil, rungs[-1])
    stop = f"Stop: {'; '.join(short)}. A coil is wound in one piece." if short else ""
    return Operation("Stock check", tuple(do), tuple(dict.fromkeys(checks)), stop)


def iron(build: Build) -> Operation:
    """Joints that touch all over."""
    air, ring = gap(build.design, build.prediction), build.design.iron
    parts = "; ".join(f"{pile.name} {pile.words}" for pile in piles(build.design))
    do = [
        f"Parts in mm: {parts}.",
        "File or grind every face that meets another until bright and flat; no paint, no burr in a joint. Dry-fit.",
        "Turn the stack on its axis: the pole's run-out must not pass 0.10 mm.",
    ]
    checks = []
    if air.r_pole is not None and air.r_plate is not None:
        wide = air.r_plate - air.r_pole
        checks.append(
            Check(
                "gap pole to plate, strips of paper at 8 clock positions", f"{mm('c_o', wide, 3)} mm all round",
                "Narrow on one side: shift the plate or fit a centring ring of brass.",
                "Wider all round: weaker field. Measure pole and bore again, enter what you find.",
            )
        )  # fmt: skip
    height = max(float(z) for _, z in ring.levels().values()) - min(float(z) for z, _ in ring.levels().values())
    checks.append(
        Check(
            "height of the whole stack", f"{mm('t', height)} mm", "A part is thinner than planned: measure, enter it.",
            "A joint does not close: look for burrs and chips.",
        )
    )  # fmt: skip
    return Operation("Iron", tuple(do), tuple(checks), "Stop if two parts rock on each other.")


def spool(build: Build) -> Operation:
    """The field coil's former and its insulation."""
    coil = build.design.field_coil
    size = f"outside ⌀{mm('D_f', coil.D_f)}, wall {mm('t_f', coil.t_f)}, {mm('h_w', coil.h_w)} between its cheeks"
    return Operation(
        "Spool of the field coil",
        (
            f"Make the spool: {size}, cheeks {mm('t_fl', coil.t_fl)} thick (mm). It must slide over the pole.",
            "Two layers of tape over every edge of steel that the wire may meet.",
        ),
        (
            Check(
                "ohms from the wound coil to the iron, later", "open circuit",
                "Any reading: the enamel is cut. Find the place before power.", "",
            ),
        ),
    )  # fmt: skip


def wind_field(build: Build, ladder: Ladder) -> Operation:
    """The ladder does the talking here; its holds are repeated beside it."""
    wound = build.prediction.field_winding
    last = build.prediction.field_ladder[-1]
    hold = ladder.holds[-1]
    return Operation(
        "Wind the field coil",
        (
            f"{ladder.wire}.",
            "All layers turn the same way: an arrow on the cheek and at every junction. Read the meter at each hold.",
        ),
        (
            Check("turns", str(last.N), "Add the missing turns on top.", "Take them off, or carry on and note it."),
            Check(at_room(build), hold.expected, f"Thick wire or shorts: {SEE}", f"Thin wire or a bad joint: {SEE}"),
            Check(
                "outer diameter", f"{with_band('D_w', band(build.prediction, 'field_winding.D_w'))}",
                "Thinner wire or a tighter coil: fine if ohms and turns agree.",
                f"Must pass inside the return path, over ⌀{mm('D_w', wound.D_w)}: press the layers, leave out tape.",
            ),
        ),
        "Stop if the ohms fall from one layer to the next.",
    )  # fmt: skip


def energise(build: Build) -> Operation:
    """First a tenth, then all of it, watched."""
    excited, brief, made = build.prediction.excitation, build.brief, build.prediction
    V, current = float(excited.V_f), band(build.prediction, "excitation.I_f")
    tenth = Band(*(value / 10 for value in current))
    return Operation(
        "First current",
        (
            "Diode across the coil, its ring to plus. Supply at zero, then connect, then turn it up.",
            f"Full: {show('V_f', V)} on {brief.supply.name}; the current falls as the copper warms.",
            "Heat run: volts and amperes every 5 minutes until they no longer change. Feel, measure, stay with it.",
        ),
        (
            Check(
                f"current at {show('V_f', V / 10)}, cold", with_band("I_f", tenth), "A bad joint or a thinner wire.",
                "Shorted turns or a thicker wire: compare with the ohms of the ladder.",
            ),
            Check(
                f"current at {show('V_f', V)}, cold", with_band("I_f", current),
                "The field is weaker by about as much.", "More field and more heat: watch the supply's limit.",
            ),
            Check(
                "outside at the end of the heat run", with_band("T_case", band(made, "heat.T_case")), "Better so.",
                f"Turn the voltage down until it stays below {show('T_touch', float(brief.T_touch))}.",
            ),
        ),
        "Stop at any smell, smoke, or a current that climbs.",
    )  # fmt: skip


def at_room(build: Build) -> str:
    """What the meter reads in the room of the brief."""
    return f"ohms at {show('T_room', float(build.brief.T_room))}"


def _wire_checks(coil: Coil, last: Layer) -> list[Check]:
    wire = coil.wire
    if wire is None:
        return []
    # ohms per metre at the temperature of the room, as the ladder has them
    ohms = Band(*(SAMPLE * value / last.l_w for value in last.R_T_band))
    wide = float(wire.d_o) * WRAP
    leads = " Take the meter's leads off the reading." if ohms.median < 2 else ""
    return [
        Check(
            f"{wire.name}: ohms of {SAMPLE:g} m", with_band("R_T", ohms), f"Thicker than its label.{leads}",
            f"Thinner than its label, or not {wire.metal}: weigh it.{leads}",
        ),
        Check(
            f"{wire.name}: width of {WRAP} turns side by side", show("w_wrap", wide),
            "Thinner enamel: more turns fit in a layer.", "Gaps, or thicker enamel: fewer turns will fit.",
        ),
    ]  # fmt: skip
