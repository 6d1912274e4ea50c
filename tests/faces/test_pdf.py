"""The printed sheet: its pages and words read back with pypdf, its scale measured on the picture of the page."""

from __future__ import annotations

import datetime
import io
import json
import os
import re
import shutil
import subprocess
from dataclasses import replace

import numpy as np
import pypdf
import pytest
import typst
from PIL import Image

from handwound.faces.pdf import write
from handwound.faces.pdf.gather import Print, gather
from handwound.faces.pdf.ready import ready, unbroken
from handwound.parts.prediction import Weight
from handwound.sheet.drawing.letters import font_folder
from handwound.sheet.drawing.svg import printable
from handwound.sheet.winding import holds
from tests.sheet import demo

DAY = datetime.date(2026, 11, 25)
DPI = 300
ODD = '<"&"> #let $a_b$ *c* @d \\ `e` [f] // µΩ'
HEADS = (
    "Before you begin", "What to get ready", "How the parts go together", "How the coils are wound",
    "The build, step by step", "Field coil: the winding ladder", "Voice coil: the winding ladder", "Templates",
    "Numbers to expect", "Where the flux runs",
)  # fmt: skip


def pages(page: bytes, count: int | None = None) -> list[str]:
    """The words of each page, or of the first so many, spaces made plain."""
    reader = pypdf.PdfReader(io.BytesIO(page))
    return [" ".join(sheet.extract_text().replace("\xa0", " ").split()) for sheet in reader.pages[:count]]


@pytest.fixture(scope="module", params=["a4", "us-letter"])
def printed(request) -> tuple[str, bytes]:
    return request.param, write.sheet_pdf(*demo.job(), Print(DAY, request.param))


@pytest.fixture(scope="module")
def words(printed) -> list[str]:
    return pages(printed[1])


def test_the_paper(printed) -> None:
    """ISO 216: A4 is 210 x 297 mm. ANSI/ASME Y14.1: letter is 8.5 x 11 in. (from memory)"""
    paper, page = printed
    wanted = (210 / 25.4 * 72, 297 / 25.4 * 72) if paper == "a4" else (612, 792)
    for sheet in pypdf.PdfReader(io.BytesIO(page)).pages:
        assert (float(sheet.mediabox.width), float(sheet.mediabox.height)) == pytest.approx(wanted, abs=0.01)


def test_every_part_of_the_sheet_is_there_in_order(words) -> None:
    where = [next(k for k, text in enumerate(words) if head in text) for head in HEADS]
    assert where == sorted(where)
    assert where[:2] == [0, 1] and len(set(where)) >= 8, "the parts of the sheet begin on pages of their own"


def test_every_page_says_whose_it_is(words) -> None:
    for k, text in enumerate(words, 1):
        assert text.startswith("open-day") or "open-day" in text[:200]
        assert "room at 17 °C" in text and "2026-11-25" in text and f"page {k} of {len(words)}" in text


def test_the_sheet_says_where_the_doubt_comes_from() -> None:
    design, brief, made = demo.job()
    heavy = Weight(part="reel 0.18", quantity="d_cu", S_i=0.88)
    page = write.sheet_pdf(design, brief, replace(made, weights={"driver.Re": (heavy,)}), Print(DAY, "a4"))
    text = " ".join(pages(page))
    assert "What the doubt comes from" in text and "reel 0.18, bare wire 88 %" in text
    assert "micrometer at three places" in text


def test_the_drawing_keeps_its_words(words) -> None:
    first = words[0]
    for needed in ("top plate", "field coil", "A the gap", "0.30", "⌀25.9", "100 mm at scale 1:1", "pole ⌀25"):
        assert needed in first


def test_the_ladder_has_every_layer(words) -> None:
    (ladder,) = [text for text in words if HEADS[5] in text]
    for layer in demo.job()[2].field_ladder:
        assert re.search(rf"\b{layer.n_layer} .{{1,12}} {layer.N_l} {layer.N} {layer.D_w * 1e3:.2f}", ladder)


def test_the_heat_is_told_and_drawn(words) -> None:
    """By hand: the demo's outside ends at 54 °C, its hot spot at 75 °C; the curve's key says the same."""
    (page,) = [text for text in words if "From cold, both coils fed" in text]
    assert "outside 17 °C 27 °C 49 °C 54 °C" in page and "hot spot 17 °C" in page and "never known better" in page
    assert "outside, 54 °C" in page and "hot spot, 75 °C" in page and "your touch limit, 60 °C" in page
    assert any("How far heat may go" in text and "enamel of the field coil 105 °C" in text for text in words)


def test_the_steps_are_all_there_with_room_for_a_pencil(words) -> None:
    every = " ".join(words)
    for k, title in enumerate(
        ("Stock check", "Iron", "Spool of the field coil", "Wind the field coil", "Close the motor", "First current")
    ):
        assert f"{k} {title}" in every
    assert "17 Label" in every and every.count(" read ") > 20


def test_equal_input_gives_equal_bytes_and_another_day_does_not(printed) -> None:
    paper, page = printed
    assert write.sheet_pdf(*demo.job(), Print(DAY, paper)) == page
    assert write.sheet_pdf(*demo.job(), Print(DAY + datetime.timedelta(1), paper)) != page


def test_every_typeface_is_carried_along(printed) -> None:
    """One family, embedded: no printer replaces a letter."""
    fonts = set()
    for sheet in pypdf.PdfReader(io.BytesIO(printed[1])).pages:
        for font in sheet["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            fonts.add(inner["/BaseFont"].split("+")[-1])
            assert "/FontFile2" in inner["/FontDescriptor"]
    assert {font.lstrip("/") for font in fonts} == {"DejaVuSans", "DejaVuSans-Bold"}


def bar_length(picture: Image.Image) -> float:
    """The longest row of five dark and five light stretches of equal length, in millimetres: the scale bar."""
    dark = np.asarray(picture.convert("L")) < 110
    best = 0.0
    for row in dark[:: max(1, DPI // 100)]:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(int), [0]))))
        starts, ends = edges[::2], edges[1::2]
        for k in range(len(starts) - 4):
            lengths, gaps = (ends - starts)[k : k + 5], (starts[k + 1 : k + 5] - ends[k : k + 4])
            if lengths.min() > 50 and np.ptp(lengths) <= 3 and np.ptp(gaps) <= 3 and abs(lengths[0] - gaps[0]) <= 6:
                # five dark tenths and four light ones, and the thin edge of the tenth
                best = max(best, (ends[k + 4] - starts[k]) / 9 * 10)
    return best / DPI * 25.4


def by_typst(paper: str, job=None) -> Image.Image:
    data = json.dumps(ready(gather(*(job or demo.job()), Print(DAY, paper))))
    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(font_folder())])
    made = typst.compile(write.TEMPLATE, format="png", ppi=DPI, sys_inputs={"data": data}, font_paths=fonts)
    return Image.open(io.BytesIO(made[0] if isinstance(made, list) else made))


def by_poppler(paper: str) -> Image.Image:
    page = write.sheet_pdf(*demo.job(), Print(DAY, paper))
    command = ["pdftoppm", "-r", str(DPI), "-f", "1", "-l", "1", "-png"]
    return Image.open(io.BytesIO(subprocess.run(command, input=page, capture_output=True, check=True).stdout))


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.parametrize(
    "draw",
    [by_typst, pytest.param(by_poppler, marks=pytest.mark.skipif(not shutil.which("pdftoppm"), reason="no poppler"))],
)
def test_the_bar_of_100_mm_is_100_mm_on_the_page(draw, paper) -> None:
    """One dot at 300 dpi is 0.085 mm."""
    assert bar_length(draw(paper)) == pytest.approx(100.0, abs=0.2)


def ladder_page(words: list[str], head: str = HEADS[5]) -> str:
    """The one page of a ladder, all its holds with their codes on it."""
    (page,) = [text for text in words if head in text]
    return page


@pytest.mark.parametrize(("scale", "layers"), [(0.3, 6), (3.0, 30), (1.0, 40), (1.0, 2)])
@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_odd_sizes_keep_one_page_for_each_ladder(scale, layers, paper) -> None:
    words = pages(write.sheet_pdf(*demo.job(scale, layers), Print(DAY, paper)))
    field, voice = ladder_page(words), ladder_page(words, HEADS[6])
    stops = holds(layers)
    assert all(f"FCL{n}" in field for n in stops) and "hold" in field and "The gap" in voice and "VCL2" in voice


@pytest.mark.parametrize(("layers", "n_sec"), [(20, 3), (40, 2), (20, 20)])
def test_a_coil_in_sections_keeps_its_page_and_marks_each_end(layers, n_sec) -> None:
    design, wish, made = demo.job(1.0, layers)
    coil = replace(design.field_coil, n_sec=n_sec, connection="parallel")
    page = ladder_page(pages(write.sheet_pdf(replace(design, field_coil=coil), wish, made, Print(DAY))))
    assert all(f"end {k}" in page for k in range(1, n_sec + 1)) and "all starts together" in page
    assert f"FCL{layers}" in page


def test_names_are_printed_as_they_are() -> None:
    design, wish, made = demo.job(1.0, 20, ODD)
    first, *others = pages(write.sheet_pdf(design, wish, made, Print(DAY)))
    assert f"{ODD}: build sheet" in first
    assert all(ODD[:20] in text for text in others)


def test_a_long_name_stays_on_its_line() -> None:
    name = "a driver with a name that goes on and on " * 4
    first, *_ = pages(write.sheet_pdf(*demo.job(1.0, 20, name), Print(DAY)))
    assert first.count("goes on and on") == 5, "one in the head, four in the title"
    assert "on and on … room at" in first


@pytest.mark.parametrize("odd", ["日本", "𝛀", "👩‍🔧", "🧲"])
def test_a_letter_that_the_typeface_lacks_stops_nothing(odd) -> None:
    """In the name of the job, of a wire, of a ring and of a supply."""
    design, wish, _ = demo.job()
    coil = replace(design.field_coil, wire=replace(design.field_coil.wire, name=f"reel {odd}"))
    rings = tuple(replace(r, name=r.name.replace("pole", odd), on=r.on) for r in design.iron.rings)
    design = replace(design, field_coil=coil, iron=replace(design.iron, rings=rings))
    wish = replace(wish, name=f"job {odd}", supply=replace(wish.supply, name=odd))
    words = pages(write.sheet_pdf(design, wish, demo.prediction(design, wish), Print(DAY)))
    boxes = printable(odd)
    assert "□" in boxes and not set(boxes) - {"□", " "}
    assert (
        f"job {boxes}: build sheet" in words[0]
        and f"{boxes}, bar" in words[0]
        and f"reel {boxes}" in ladder_page(words)
    )


@pytest.mark.parametrize("name", ["a" * 300, "WWWW " * 90, "日" * 200])
@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_a_very_long_name_stays_on_the_page(name, paper) -> None:
    """No dark dot in the right margin, 10 mm wide, of the first page; the name ends in an ellipsis."""
    design, wish, made = demo.job(1.0, 20, name)
    wish = replace(wish, supply=replace(wish.supply, name=name))
    margin = np.asarray(by_typst(paper, (design, wish, made)).convert("L"))[:, -round(10 / 25.4 * DPI) :]
    assert margin.min() > 200
    first, *_ = pages(write.sheet_pdf(design, wish, made, Print(DAY, paper)), 1)
    assert first.count("…") == 2


def test_units_stay_with_their_numbers() -> None:
    assert unbroken("12 V on bench (3.9 to 4.5)") == "12\xa0V on bench (3.9\xa0to\xa04.5)"
    assert unbroken("10 m, 2 Ω·mm²/m, 5 minutes") == "10\xa0m, 2\xa0Ω·mm²/m, 5 minutes"


def test_the_file_is_written_whole_or_not_at_all(tmp_path, monkeypatch) -> None:
    place = tmp_path / "sheet.pdf"
    place.write_bytes(b"the one before")
    monkeypatch.setattr(os, "replace", lambda *_: (_ for _ in ()).throw(OSError("disk")))
    with pytest.raises(OSError, match="disk"):
        write.write_pdf(place, *demo.job(), Print(DAY))
    assert place.read_bytes() == b"the one before" and list(tmp_path.iterdir()) == [place]
    monkeypatch.undo()
    write.write_pdf(str(place), *demo.job(), Print(DAY, "us-letter"))
    assert place.read_bytes() == write.sheet_pdf(*demo.job(), Print(DAY, "us-letter"))
