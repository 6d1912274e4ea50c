"""From a design and its prediction to a PDF: refuses what cannot be built, gathers the rows, lets typst set pages."""

from __future__ import annotations

import datetime
import json
from functools import cache
from pathlib import Path

import typst

from handwound.faces.pdf.gather import Print, gather
from handwound.faces.pdf.ready import ready
from handwound.files.write import write_whole
from handwound.language import ENGLISH, speaking
from handwound.parts.design import Brief, Design, Stock
from handwound.parts.prediction import Prediction
from handwound.sheet.build.refused import refuse
from handwound.sheet.drawing.letters import font_folder

TEMPLATE = Path(__file__).with_name("sheet.typ")


def write_pdf(
    path: str | Path, design: Design, brief: Brief, prediction: Prediction, how: Print, language: str = ENGLISH,
    stock: Stock | None = None,
) -> None:  # fmt: skip
    """Write the whole build sheet; the file appears complete or not at all. Equal input gives equal bytes."""
    write_whole(Path(path), sheet_pdf(design, brief, prediction, how, language, stock))


def sheet_pdf(
    design: Design, brief: Brief, prediction: Prediction, how: Print, language: str = ENGLISH,
    stock: Stock | None = None,
) -> bytes:  # fmt: skip
    """The build sheet as the bytes of a PDF; ``stock`` tells what stays on the shelf.

    Raises FileError where the design cannot be built in the order of its operations.
    """
    refuse(design, brief, prediction)
    with speaking(language):
        data = json.dumps(ready(gather(design, brief, prediction, how, stock)), ensure_ascii=False)
    stamp = datetime.datetime(how.date.year, how.date.month, how.date.day, tzinfo=datetime.UTC)
    pages = _compiler().compile(format="pdf", sys_inputs={"data": data}, timestamp=stamp)
    if not isinstance(pages, bytes):
        raise TypeError(f"typst answered with {type(pages).__name__} instead of one document")
    return pages


@cache
def _compiler() -> typst.Compiler:
    """One typesetter with one typeface: no font of the machine can change a page."""
    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(font_folder())])
    return typst.Compiler(TEMPLATE, root=TEMPLATE.parent, font_paths=fonts)
