"""The command that prints the sheet: languages, outlines, codes, and designs that it refuses before metal is cut."""

from __future__ import annotations

import re
from pathlib import Path

import ezdxf
import pypdf
import pytest
from click.testing import CliRunner, Result
from ezdxf import recover

from handwound.faces.cli import cli
from tests import examples

DAY = ("--date", "2026-11-29")


@pytest.fixture(scope="module")
def job(tmp_path_factory) -> Path:
    return examples.started(tmp_path_factory.mktemp("sheet") / "job", "repair-pair")


def run(*words: object) -> Result:
    return CliRunner().invoke(cli, [str(word) for word in words], catch_exceptions=False)


def test_the_outlines_open_without_an_error(job, tmp_path) -> None:
    """ezdxf reads them with its recovering reader and audits them: the reader of somebody else."""
    done = run("sheet", job, "-o", tmp_path / "sheet.pdf", "--cut", tmp_path / "cut", *DAY)
    assert done.exit_code == 0 and "are ready to cut" in done.output
    drawings = sorted((tmp_path / "cut").glob("*.dxf"))
    assert len(drawings) > 5 and {each.stem for each in drawings} == {p.stem for p in (tmp_path / "cut").glob("*.svg")}
    for drawing in drawings:
        document, auditor = recover.readfile(drawing)
        assert not auditor.has_errors and not auditor.has_fixes and not document.audit().errors
        assert document.units == ezdxf.units.MM and len(document.modelspace()) > 0


def test_another_language_changes_words_and_keeps_names_and_numbers(job, tmp_path) -> None:
    texts = {}
    for language in ("en", "de"):
        place = tmp_path / f"{language}.pdf"
        assert run("sheet", job, "-o", place, "--language", language, *DAY).exit_code == 0
        texts[language] = " ".join(page.extract_text() for page in pypdf.PdfReader(place).pages)
    assert "The build, step by step" in texts["en"] and "The build, step by step" not in texts["de"]
    assert "unknown reel" in texts["en"] and "unknown reel" in texts["de"]
    ohms = {language: re.findall(r"7[.,]\d\d", text) for language, text in texts.items()}
    assert "7.65" in ohms["en"] and "7,65" in ohms["de"]


def test_equal_input_prints_equal_bytes(job, tmp_path) -> None:
    for name in ("one", "two"):
        assert run("sheet", job, "-o", tmp_path / name, "--cut", tmp_path / f"{name}-cut", *DAY).exit_code == 0
    assert (tmp_path / "one").read_bytes() == (tmp_path / "two").read_bytes()
    for each in (tmp_path / "one-cut").iterdir():
        assert each.read_bytes() == (tmp_path / "two-cut" / each.name).read_bytes()


@pytest.mark.parametrize("address", ["workshop", "http://", "http://a?x=1", "file:///etc"])
def test_a_page_that_nothing_opens_is_told_before_anything_is_computed(job, address, tmp_path) -> None:
    done = run("sheet", job, "-o", tmp_path / "sheet.pdf", "--page", address)
    assert done.exit_code == 2 and done.stderr.startswith("--page: must be the address") and address in done.stderr
    assert not (tmp_path / "sheet.pdf").exists()


def test_what_cannot_be_built_is_refused_with_its_operation_all_at_once(tmp_path) -> None:
    """A sheet of card smaller than the cone, and a foam smaller than its ring; the sheet of before stays."""
    folder = examples.started(tmp_path / "job", "repair-pair")
    for name, size in (("card 160", "60 mm"), ("foam 2", "90 mm")):
        row = rf'(?ms)(^name = "{name}"$)(.*?)^width = "[^"]+"(.*?)^length = "[^"]+"'
        examples.edit(folder / "stock.toml", row, rf'\1\2width = "{size}"\3length = "{size}"')
    (folder / "build-sheet.pdf").write_bytes(b"the one before")
    done = run("sheet", folder)
    assert done.exit_code == 2
    lines = done.stderr.splitlines()
    assert any(line.startswith("operation DI") and "must be" in line and "found" in line for line in lines)
    assert any(line.startswith("operation SU") for line in lines)
    assert (folder / "build-sheet.pdf").read_bytes() == b"the one before"
