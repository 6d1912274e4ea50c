"""readings.csv: the bench log. It only ever grows; a line that was written is never touched again."""

from __future__ import annotations

import csv
import io
from datetime import datetime
from pathlib import Path

from handwound.errors import Fault, FileError
from handwound.files.toml import meant, one_line, read_text
from handwound.files.write import append_line
from handwound.parts.reading import Reading
from handwound.quantities import MisreadError, quantities, read, shown

COLUMNS = ("time", "where", "quantity", "value", "note")
DIGITS = 12
"""Figures written: more than any instrument shows, fewer than the noise of binary numbers."""


def read_readings(path: str | Path) -> tuple[Reading, ...]:
    """All readings in the order in which they were taken; a log that is not there yet is an empty one."""
    place = Path(path)
    if not place.exists():
        return ()
    lines = csv.reader(io.StringIO(read_text(place), newline=""), strict=True)
    faults: list[Fault] = []
    found: list[Reading] = []
    try:
        header = next(lines, None)
        if header is not None and tuple(cell.strip() for cell in header) != COLUMNS:
            faults.append(Fault(f"{place}:1", f"the heading {','.join(COLUMNS)}", one_line(f'"{",".join(header)}"')))
        for cells in [] if faults else lines:
            if any(cell.strip() for cell in cells):
                reading = _reading(f"{place}:{lines.line_num}", cells, faults)
                found += [reading] if reading else []
    except csv.Error as error:
        faults.append(Fault(f"{place}:{lines.line_num}", "a line of comma-separated cells", f"this: {error}"))
    if faults:
        raise FileError(faults)
    return tuple(found)


def append_reading(path: str | Path, reading: Reading) -> None:
    """Add one reading to the end of the log; a log that is not there yet is begun."""
    value = f"{_plain(shown(reading.quantity, float(reading.value)))}"
    half = dict(reading.spread).get("value")
    if half:
        value += f" ± {_plain(shown(reading.quantity, half))}"
    unit = quantities()[reading.quantity].shown
    value += "" if unit == "1" else f" {unit}"
    row = {"time": reading.time, "where": reading.where, "quantity": reading.quantity, "value": value}
    cells = [*row.values(), reading.note]
    faults: list[Fault] = []
    if _reading("the reading", cells, faults) is None:
        raise FileError(faults)
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="").writerow(cell.replace("\n", " ").replace("\r", " ") for cell in cells)
    append_line(Path(path), text.getvalue(), ",".join(COLUMNS))


def _reading(where: str, cells: list[str], faults: list[Fault]) -> Reading | None:
    """One line; None where it is at fault."""
    if len(cells) != len(COLUMNS):
        hint = 'A note with a comma in it stands in quotes: "like, this".'
        faults.append(Fault(where, f"{len(COLUMNS)} cells: {', '.join(COLUMNS)}", f"{len(cells)}", hint))
        return None
    time, at, quantity, text, note = (cell.strip() for cell in cells)
    before = len(faults)
    if not _is_time(time):
        faults.append(Fault(f"{where}: time", "a time such as 2025-03-14T15:09", one_line(f'"{time}"')))
    if not at:
        faults.append(Fault(f"{where}: where", "the place of the reading, such as field_coil layer 10", "nothing"))
    if quantity not in quantities():
        must = "the name of a quantity"
        faults.append(Fault(f"{where}: quantity", must, one_line(f'"{quantity}"'), meant(quantity, quantities())))
        return None
    try:
        value = read(quantity, text)
    except MisreadError as error:
        faults.append(Fault(f"{where}: value", error.must, one_line(error.found), one_line(error.do)))
        return None
    if len(faults) > before:
        return None
    spread = (("value", value.spread),) if value.spread else ()
    return Reading(time=time, where=at, quantity=quantity, value=value.value, note=note, spread=spread)


def _is_time(text: str) -> bool:
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True


def _plain(number: float) -> str:
    return f"{number:.{DIGITS}g}"
