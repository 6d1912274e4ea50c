"""Where the diaphragm bends, as tables of words: its own notes, and what other diaphragms on the same coil would do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handwound.cone import AS_ONE
from handwound.parts.prediction import Band
from handwound.parts.sound import Bend, Breakup
from handwound.parts.sound_study import Card, SoundStudy
from handwound.sheet.digits import decibels, with_band
from handwound.sheet.motor import Row, Table
from handwound.sheet.said import show

AS_IT_IS, FLAT, STEEP = "as it is", "a flat card", "a cone of 35°"
"""Names of diaphragms that the sentence tells of."""
FORMS = {"disc": "card", "cone": "cone", "dome": "dome"}


def tables(found: SoundStudy) -> Iterator[Table]:
    """Both of them."""
    yield _bends(found.bends, found.sound.breakup, found.bands["stiff.f_stiff"])
    yield _cards(found.cards, FORMS[found.form])


def _bends(bends: Sequence[Bend], breakup: Breakup, f_stiff: Band) -> Table:
    rows: list[Row] = [("it moves as a whole to", with_band("f_stiff", f_stiff))]
    if breakup.f_ring is not None:
        rows.append(("its rim alone would swing as a ring at", show("f_ring", breakup.f_ring, 2)))
    if breakup.f_deep is not None:
        rows.append(("its depth counts from", show("f_deep", breakup.f_deep, 2)))
    for each in bends:
        words = "first ring of rest round it" if each.n_across == 0 else f"first with {each.n_across} lines across"
        rows.append((words, show("f_bend", each.f_bend, 2)))
    note = (
        f"As a whole: until moving unevenly costs {AS_ONE:.0f} dB on the axis. The first notes with lines across "
        "are played by one half against the other: they are hardly heard from a coil that pushes evenly, but fine salt "
        "on the card shows them. Real card is stiffer along than across, and its notes come in pairs around these. "
        "Shallow beside the length of its waves: what is told above where its depth counts is rough."
    )
    return Table("Where it bends", tuple(rows), note)


def _cards(cards: Sequence[Card], form: str) -> Table:
    rows: list[Row] = [("", "moves", "resonance", "1 W, 1 m", "beside this", "as a whole to")]
    mine = cards[0]
    for each in cards:
        notes = (show("Mmd", float(each.Mmd)), show("fs", float(each.fs), 2), show("L_1W", float(each.L_1W)))
        beside = "" if each is mine else decibels(float(each.L_1W) - float(mine.L_1W), 1)
        rows.append((each.name, *notes, beside, show("f_stiff", float(each.f_stiff), 2)))
    note = (
        f"{sentence(cards, form)} One change at a time, of the same sheet on the same coil and surround, the level "
        "with a cold motor. Ribs run outwards: they stiffen a flat card, while a cone is held by its roundness, and "
        "for it they are mostly weight. The glue of ribs and caps that are not there yet is not in it."
    )
    return Table("Other diaphragms", tuple(rows), note, right=(1, 2, 3, 4, 5))


def sentence(cards: Sequence[Card], form: str) -> str:
    """``"a flat card of this sheet moves as a whole up to about 150 Hz; this cone up to about 1800 Hz."``"""
    known = {each.name: show("f_stiff", float(each.f_stiff), 2) for each in cards}
    told = [f"this {form} up to about {known[AS_IT_IS]}"]
    if FLAT in known:
        told.insert(0, f"a flat card of this sheet moves as a whole up to about {known[FLAT]}")
    if STEEP in known:
        told.append(f"{STEEP.replace('a cone of 35°', 'a 35° cone')} up to about {known[STEEP]}")
    whole = "; ".join(told) if FLAT in known else "; ".join(told).replace(" up to", " moves as a whole up to", 1)
    return f"{whole[0].upper()}{whole[1:]}."
