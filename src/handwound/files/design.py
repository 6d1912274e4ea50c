"""design.toml: the whole build; what the search chose is written into it, all else in it stays as it was."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from handwound.errors import Fault, FileError
from handwound.files import fits
from handwound.files.centring import read_centring
from handwound.files.coil import read_field_coil, read_voice_coil
from handwound.files.heat import read_frame
from handwound.files.iron import place_of, read_iron
from handwound.files.lines import index
from handwound.files.mounting import read_back, read_flange
from handwound.files.moving import read_bonds, read_cap, read_diaphragm, read_riders
from handwound.files.row import as_part
from handwound.files.suspension import read_spider, read_surround
from handwound.files.tables import known_only
from handwound.files.toml import Document, parse, read_text
from handwound.files.write import replace_text
from handwound.materials import steels
from handwound.parts.design import Brief, Design, Stock

OF_WHAT_MOVES = ("voice_coil", "diaphragm", "cap", "surround", "spider", "bond", "moving", "centring")
TABLES = ("iron", "field_coil", *OF_WHAT_MOVES, "frame", "back", "flange")
Choice = Mapping[str, str | int]
"""``{"wire": "reel 0.50", "n_l": 20}``"""


def read_design(path: str | Path, stock: Stock) -> Design:
    """The build, every part found on the shelf and fitting where it stands, or all faults of the file at once."""
    document = Document(Path(path))
    design = _design(document, stock)
    document.done()
    assert design, "a part that cannot be made has said why"
    for misfit in fits.misfits(design):
        document.fault(place_of(document, misfit.key), *misfit[1:])
    document.done()
    return design


def check_design(path: str | Path) -> None:
    """Raise what can be said of the file while the stock cannot be read: all that does not hang on the shelf."""
    document = Document(Path(path))
    _design(document, None)
    document.done()


def _design(document: Document, stock: Stock | None) -> Design | None:
    known_only(document, (), TABLES)
    iron, fed = read_iron(document, stock), "field_coil" in document.data
    field_coil = read_field_coil(document, stock) if fed else None
    voice_coil, diaphragm = read_voice_coil(document, stock), read_diaphragm(document, stock)
    surround, spider = read_surround(document, stock), read_spider(document, stock)
    cap, bonds = read_cap(document, stock), read_bonds(document, stock, diaphragm)
    riders, back = read_riders(document, stock), read_back(document)
    centring = read_centring(document)
    frame = read_frame(document, [ring.name for ring in iron.rings] if iron else None)
    if not (iron and voice_coil and diaphragm and surround and centring) or (fed and field_coil is None):
        return None
    design = Design(
        iron=iron,
        field_coil=field_coil,
        voice_coil=voice_coil,
        diaphragm=diaphragm,
        surround=surround,
        spider=spider,
        bits=riders.bits,
        glue=riders.glue,
        centring=centring,
        frame=frame,
        cap=cap,
        bonds=bonds,
        back=back,
        flange=read_flange(document, surround),
        **as_part({"m_weighed": riders.m_weighed} if riders.m_weighed else {}),
    )
    if not fed and not design.has_magnets:
        do = "Add one, or put a [[magnet]] of stock.toml into the iron."
        document.fault(("field_coil",), "a table [field_coil] where no ring is a magnet", "neither", do)
    ways = {ring.magnetised for ring in iron.rings if ring.magnetised}
    if not fed and ways in ({"up"}, {"down"}) and not any(ring.grade in steels.names() for ring in iron.rings):
        must = "a stack with steel, which leads the magnet's flux through the voice coil"
        document.fault(("iron",), must, "none, and so no force on the coil", "Add a plate and a pole of steel.")
    return design


def write_choice(path: str | Path, field_coil: Choice | None, voice_coil: Choice) -> None:
    """Put wires and numbers of layers into the file; comments, order and everything else stay as they were."""
    place = Path(path)
    text = old = read_text(place)
    data = parse(place, text)
    for name, choice in (("field_coil", field_coil), ("voice_coil", voice_coil)):
        if choice is None:
            continue
        if not isinstance(data.get(name), dict):
            raise FileError([Fault(f"{place}: {name}", f"a table [{name}]", "nothing to write the choice into")])
        text = _with_choice(place, text, name, choice)
        data[name] |= choice
    # a last look before anything is written: the choice has come in, and nothing else has changed
    if parse(place, text) != data:
        raise FileError([Fault(str(place), "TOML that can be written back", "a layout that cannot be kept")])
    if text != old:
        replace_text(place, text)


def without_choice(path: Path) -> dict[str, Any]:
    """What the file says beside the wires and layers that were chosen."""
    data = parse(path, read_text(path))
    for name in ("field_coil", "voice_coil"):
        if isinstance(data.get(name), dict):
            data[name] = {key: value for key, value in data[name].items() if key not in ("wire", "n_l")}
    return data


def _with_choice(place: Path, text: str, name: str, choice: Choice) -> str:
    """The text with the choice in one of its tables: over the old values, else right below the table's heading."""
    import tomlkit  # late: only this function writes
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(text)
    except TOMLKitError as error:  # two readers of TOML need not agree about every odd corner of it
        raise FileError([Fault(str(place), "TOML that can be written back", f"this: {error}")]) from None
    table: Any = document[name]
    new = {key: value for key, value in choice.items() if key not in table}
    for key, value in choice.items():
        if key in table and table[key] != value:
            table[key] = value
    lines = tomlkit.dumps(document).splitlines(keepends=True)
    at = index(text)[(name,)]
    heading = lines[at - 1]
    if re.match(rf"""\s*\[\s*(["']?){name}\1\s*\]""", heading):
        end = "\r\n" if heading.endswith("\r\n") else "\n"
        lines[at - 1] = heading if heading.endswith("\n") else heading + end
        lines[at:at] = [f"{key} = {tomlkit.item(value).as_string()}{end}" for key, value in new.items()]
        return "".join(lines)
    table.update(new)
    return tomlkit.dumps(document)


def check_together(design: Design, design_file: Path, brief: Brief, brief_file: Path) -> list[Fault]:
    """What is wrong between two files that are each sound: the name of the iron, the outline, the stroke."""
    faults: list[Fault] = []
    for path, misfits in (
        (brief_file, fits.misfits_of_brief(design, brief)),
        (design_file, fits.misfits_together(design, brief)),
    ):
        found = list(misfits)
        if found:
            document = Document(path)  # read again only for its lines
            for misfit in found:
                document.fault(place_of(document, misfit.key), *misfit[1:])
            faults += document.faults
    return faults
