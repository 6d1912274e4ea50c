"""The folder of outlines: our files written again, those of others and of other jobs left alone."""

from __future__ import annotations

import os
import re
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
from lxml import etree
from svgelements import SVG, Text

from handwound.errors import FileError
from handwound.faces.cut.owner import owner, plain, with_job
from handwound.faces.cut.write import check_folder, write_outlines
from handwound.sheet.template.shape import box, corners_of, points
from tests.faces.test_cut import EVERY, JOB, KEYS

ODD = 'a & b <\x07> \u20ac 円 "c"\nd'


def refused(folder: Path, job_name: str = JOB) -> str:
    """What is said instead of writing; nothing in the folder changes."""
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} if folder.is_dir() else None
    with pytest.raises(FileError) as error:
        write_outlines(folder, EVERY, job_name)
    if before is not None:
        assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before
    return str(error.value)


def test_written_again_the_files_are_equal(tmp_path) -> None:
    kept = ezdxf.options.write_fixed_meta_data_for_testing
    first = {path: path.read_bytes() for path in write_outlines(tmp_path / "cut", EVERY, JOB).made}
    again = {path: path.read_bytes() for path in write_outlines(tmp_path / "cut", EVERY, JOB).made}
    assert first == again and len(first) == 2 * len(EVERY) and {path.name for path in first} >= {"cone.svg", "cone.dxf"}
    assert ezdxf.options.write_fixed_meta_data_for_testing == kept
    assert not re.search(rb"20[23]\d-\d\d-\d\d", b"".join(first.values()))  # no day on which they were made


def test_no_file_of_somebody_else_is_touched(tmp_path) -> None:
    (tmp_path / "cone.svg").write_text("<svg/>", encoding="utf8")
    (tmp_path / "notes.txt").write_text("mine", encoding="utf8")
    (tmp_path / "old.dxf").write_text("not an outline", encoding="utf8")
    assert re.search(r"cone\.svg: must be an outline made by handwound.*somebody else", refused(tmp_path))
    (tmp_path / "cone.svg").unlink()
    assert write_outlines(tmp_path, EVERY, JOB).removed == []
    assert (tmp_path / "notes.txt").read_text() == "mine" and (tmp_path / "old.dxf").read_text() == "not an outline"


def test_outlines_of_another_job_are_refused_in_one_fault(tmp_path) -> None:
    write_outlines(tmp_path, EVERY, "other")
    told = refused(tmp_path)
    assert told.count("\n") == 0 and f'{2 * len(EVERY)} files of the job "other"' in told
    with pytest.raises(FileError, match="Choose another folder"):
        check_folder(tmp_path, JOB)
    check_folder(tmp_path, "other")


def test_what_is_cut_no_more_is_removed_and_told(tmp_path) -> None:
    write_outlines(tmp_path, EVERY, JOB)
    gone = write_outlines(tmp_path, [each for each in EVERY if each.key != "cap"], JOB).removed
    assert [path.name for path in gone] == ["cap.dxf", "cap.svg"] and not any(path.exists() for path in gone)


@pytest.mark.parametrize("empty", ["", ".", "./"])
def test_no_name_is_no_folder(empty, tmp_path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert "must be the name of a folder" in refused(Path(empty)) and list(tmp_path.iterdir()) == []


def test_a_file_a_device_or_a_dead_link_is_no_folder(tmp_path) -> None:
    (tmp_path / "file").write_text("mine", encoding="utf8")
    (tmp_path / "link").symlink_to(tmp_path / "nowhere")
    for place in (tmp_path / "file", tmp_path / "file" / "below", Path(os.devnull)):
        assert "must be a folder; found something else" in refused(place)
    for place in (tmp_path / "link", tmp_path / "link" / "below"):
        assert "a link that leads nowhere" in refused(place)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "link"]


def test_what_is_no_file_stands_in_the_way(tmp_path) -> None:
    (tmp_path / "cone.svg").symlink_to(tmp_path / "nowhere")
    (tmp_path / "cone.dxf").mkdir()
    told = refused(tmp_path)
    assert "cone.svg" in told and "cone.dxf" in told
    assert sorted(path.name for path in tmp_path.iterdir()) == ["cone.dxf", "cone.svg"]


def test_names_that_no_xml_may_hold_are_written_as_what_can_be(tmp_path) -> None:
    odd = replace(EVERY[0], name=ODD, notes=("\x00",))
    for path in write_outlines(tmp_path, [odd], ODD).made:
        assert owner(path) == plain(ODD) and path.stat().st_size
    assert etree.parse(tmp_path / f"{odd.key}.svg").getroot()[0].text.startswith("a & b <")
    drawing = ezdxf.readfile(tmp_path / f"{odd.key}.dxf")
    assert not drawing.audit().errors and drawing.header.custom_vars.get("job") == plain(ODD)
    write_outlines(tmp_path, [odd], ODD)  # its own files are known again


@pytest.mark.parametrize("template", EVERY, ids=KEYS)
def test_each_piece_tells_its_job_clear_of_the_cuts(template, tmp_path) -> None:
    svg, dxf = write_outlines(tmp_path, [template], JOB).made
    # read back by programs of others
    assert JOB in [each.text for each in SVG.parse(svg).elements() if isinstance(each, Text)]
    assert JOB in [each.dxf.text for each in ezdxf.readfile(dxf).modelspace().query('TEXT[layer=="MARK"]')]
    (*_, words) = with_job(template, JOB).words
    if words.angle == 0:
        x, y, x_2, y_2 = box(corners_of(words))
        cuts = [at for line in template.lines if line.role == "cut" for at in points(line, 1e-7)]
        assert not any(x < at[0] < x_2 and y < at[1] < y_2 for at in cuts)
