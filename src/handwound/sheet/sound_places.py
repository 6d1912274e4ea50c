"""Where to put it, how far and how loud it goes, the amplifier and one tone, as tables of words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handwound.heard.boards import BEHIND
from handwound.heard.travel import ENDS
from handwound.parts.sound import Load, Loudest, Travel
from handwound.parts.sound_study import Full, Lodged, SoundStudy, Taped, Through
from handwound.physics.vents import OPEN_LEAST, V_PORT_MOST
from handwound.sheet.build.built_in import TAPE, pieces
from handwound.sheet.digits import decibels
from handwound.sheet.heard import lowest, size
from handwound.sheet.motor import Row, Table
from handwound.sheet.said import show

KEEPS_HEAT = (
    "A box keeps heat in, most of all a field coil's: write V_box and t_box into brief.toml and predict again before "
    "you saw."
)
"""What is said of boxes that are only suggested: how warm it gets there is reckoned for that of the brief."""


def tables(found: SoundStudy) -> Iterator[Table]:
    """In the order in which one asks."""
    yield _places(found.lodged)
    sawn = [each for each in found.lodged if each.place.V_box]
    if sawn:
        yield _boards(sawn)
    if found.taped:
        yield _back(found.taped)
    yield _travel(found.sound.travel)
    yield _loudest(found.sound.loudest)
    yield _amplifier(found.sound.load, found.full)
    yield _tones(found.tones)


def _places(lodged: Sequence[Lodged]) -> Table:
    rows: list[Row] = [("", "size", "resonance", "10 dB down", "3 dB down", "boom",
                       f"at {show('f_low', float(lodged[0].f_low))}", "ended by")]  # fmt: skip
    for each in lodged:
        got = each.place.found
        notes = (show("f_c", float(got.f_c), 2), *(lowest(name, float(getattr(got, name))) for name in ("f_10", "f_3")))
        boom = decibels(got.dL_peak, 1) if got.dL_peak >= 0 else "none"
        rows.append((f"{each.place.kind}: {each.place.why}", size(each.place), *notes, boom,
                     f"{each.L_max:.0f} dB", each.by.rpartition(": ")[2]))  # fmt: skip
    note = (
        "Litres are of air. The last columns are the loudest steady tone at the lowest note that is wished for, and "
        f"what ends it. {_blowing(lodged)}The endless wall is what all others are held against: a hole into the next "
        "room comes near to it. A board must be tight up to the frame, a box all round. "
        f"{KEEPS_HEAT}"
    )
    return Table("Where it can stand", tuple(rows), note, right=(2, 3, 4, 5, 6))


def _blowing(lodged: Sequence[Lodged]) -> str:
    """What is to be said of ports."""
    for each in lodged:
        if each.v_port is not None and each.place.d_port is not None:
            port, speed = show("d_port", each.place.d_port, 2), show("v_port", each.v_port, 2)
            fast = f"In its port of {port} the air goes up to {speed}"
            if each.v_port > V_PORT_MOST:
                wider = (each.v_port / V_PORT_MOST) ** 0.5
                return (
                    f"{fast} with the loudest tones: beyond {V_PORT_MOST:.0f} m/s it blows (common practice). A port "
                    f"{wider:.2g} times as wide, and {wider**2:.2g} times as long with its ends, would not. "
                )
            return f"{fast} with the loudest tones: it blows beyond {V_PORT_MOST:.0f} m/s (common practice). "
    return ""


def _boards(sawn: Sequence[Lodged]) -> Table:
    rows: list[Row] = [("", "of", "two for front and back", "two for top and bottom", "two for the sides", "inside")]
    for each in sawn:
        small = ("", f"too small for this driver: {show('V_least', float(each.V_least or 0.0), 2)} or more", "", "", "")
        box = f"{each.place.kind} of {show('V_box', each.place.V_box or 0.0, 2)}"
        rows.append((box, *(pieces(each.boards) if each.boards else small)))
    note = (
        "Butt joints: front and back over all, top and bottom between them, the sides between all. What the motor, its "
        f"cone and a port take is already added; a frame is not. Inside there is room for the D_outline of the brief "
        f"and for the driver's depth with {show('D_in', BEHIND)} behind it; the hole is the frame's. A port is cut "
        "longer and then shortened to its note. "
        "Sawing throws splinters and its dust harms the lungs: the guard in its place, goggles, a mask; your "
        "workshop's rules come first."
    )
    return Table("Boards to saw", tuple(rows), note, right=(1, 2, 3, 4, 5))


def _back(taped: Sequence[Taped]) -> Table:
    rows: list[Row] = [("holes taped", "open beside the diaphragm", "resonance", "10 dB down", "boom")]
    for each in taped:
        notes = (show("f_c", float(each.found.f_c), 2), lowest("f_10", float(each.found.f_10)))
        boom = decibels(each.found.dL_peak, 1) if each.found.dL_peak >= 0 else "none"
        rows.append((f"{int(each.n_taped)}", show("open_share", float(each.open_share), 2), *notes, boom))
    note = (
        f"The frame's own back. At {100 * OPEN_LEAST:.0f} % or more of the diaphragm open (common practice) it does "
        f"hardly anything; below, the plug of air in its holes weighs on the diaphragm. {TAPE} The resonance told is "
        "the higher of two peaks of the impedance. Tape is the quickest experiment there is: read both with all open "
        "and with all taped."
    )
    return Table("Holes in its back", tuple(rows), note, right=(0, 1, 2, 3, 4))


def _travel(travel: Travel) -> Table:
    rows: list[Row] = []
    for name, words in ENDS.items():
        end = getattr(travel, name)
        first = "comes first" if words == travel.by else ""
        rows.append((words, "beyond what is known" if end is None else show(name, end, 2), first))
    note = (
        "To each side: until 82 % of the force factor is left, until the suspension is a third stiffer (IEC 62458, "
        "from memory), until more builds rub than are wanted, until something is hit. Past the first two it still "
        "plays, with more distortion; the last two spoil it."
    )
    return Table("How far it may move", tuple(rows), note)


def _loudest(loudest: Loudest) -> Table:
    rows: list[Row] = [("", "loudest", "with", "what sets it")]
    for f, L, U, by in zip(loudest.f.tolist(), loudest.L_max.tolist(), loudest.U_max.tolist(), loudest.by, strict=True):
        rows.append((show("f", f), f"{L:.0f} dB", show("U_max", U, 2), by))
    note = (
        "A steady tone that may last, at 1 m, as far up as the diaphragm counts as a piston by its size. Where heat "
        "sets it the coil is hot and the motor warm; where stroke, volts or amperes do, both are cold, as at first. "
        "Music is louder for moments. More than 85 dB for hours, and any loud tone close to an ear, harm hearing for "
        "good (Directive 2003/10/EC, from memory): begin quietly and wear protection in a measurement."
    )
    return Table("Loudest steady tone", tuple(rows), note, right=(0, 1, 2))


def _amplifier(load: Load, full: Full) -> Table:
    watts = show("P_max", float(full.P_max))
    rows: list[Row] = [
        ("least load, with what is in series", f"{show('Z_min', load.Z_min)} at {show('f_least', load.f_least, 2)}"),
        ("used of the load that it is rated for", show("used", load.used, 2)),
        (f"its {watts} are", f"{show('U_max', load.U_max)} on that load"),
        ("which at the least impedance would draw", show("I_max", load.I_max, 2)),
        ("and put into the coil", show("P_vc", float(full.P_vc), 2)),
    ]
    if full.P_cont is not None:
        rows.append(("the coil bears for good", show("P_cont", float(full.P_cont), 2)))
    if load.R_add is not None and load.dL_add is not None:
        rows.append(("resistor in series that keeps it safe", show("R_add", load.R_add)))
        rows.append(("which takes up to, least at the resonance", show("dL_add", load.dL_add, 2)))
    note = (
        "An amplifier is safe down to 80 % of its rated load (IEC 60268-5, from memory). The resistor gets hot: one of "
        "at least a quarter of the amplifier's watts, away from paper and wood. First sound through one of a few ohms."
        if load.R_add is not None
        else "The load is within 80 % of what it is rated for (IEC 60268-5, from memory). Its full volts on a tone are "
        "more than music ever asks for long, and too much for the coil where the heat is above what it bears."
    )
    return Table("The amplifier", tuple(rows), note)


def _tones(tones: Sequence[Through]) -> Table:
    rows: list[Row] = [("through", "for 1 V", "loudest", "with", "what ends it", "best turns", "in wire of", "gives")]
    for each in tones:
        tone = each.tone
        best: Row = ("the fewer the louder", "", "")
        if each.N_best is not None and each.d_best is not None and tone.dL_turns is not None:
            best = (f"{float(each.N_best):.0f}", show("d_best", float(each.d_best), 2), decibels(tone.dL_turns, 1))
        rows.append((
            show("R_source", tone.R_source), f"{tone.L_1V:.1f} dB", f"{tone.L_tone:.1f} dB",
            show("U_tone", tone.U_tone, 2), tone.by, *best,
        ))  # fmt: skip
    title = f"One tone: {show('f_tone', tones[0].tone.f_tone)}"
    return Table(title, tuple(rows), " ".join(_tone(tones)), right=(0, 1, 2, 3, 5, 6, 7))


def _tone(tones: Sequence[Through]) -> Iterator[str]:
    tone = tones[0].tone
    through = f"through {show('R_source', tone.R_source)}" if tone.R_source else "with nothing in series"
    yield (
        f"{show('f_tone', tone.f_tone)} {through} gets {tone.L_tone:.0f} dB loud at 1 m, as the driver is built in; "
        "volts are those of the source without a load. The first row is as asked or as the brief has it, the others "
        "are for comparison."
    )
    gives = f"which gives {decibels(tone.dL_tuned, 1)} once it is turned up again as far as it may"
    if tone.m_add is not None:
        more = f"{show('m_add', tone.m_add, 2)} more on the neck"
        yield f"Its resonance lies above the tone: {more} put it there, {gives}."
    elif tone.K_add is not None:
        more = f"{show('K_add', tone.K_add, 2)} more stiffness, a narrower or thicker surround,"
        yield f"Its resonance lies below the tone: {more} put it there, {gives}."
    else:
        yield "Its resonance lies on the tone, or so far below that no suspension anybody builds would put it there."
    yield (
        "Through a resistance the coil is best whose impedance at the tone is that resistance: as much copper in more, "
        "thinner turns or fewer, thicker ones. Where nothing is in series, fewer turns are louder and a harder load: "
        "the amplifier's least load ends that. Where the stroke ends it, more volts of any kind are of no use."
    )
