"""Nothing a maker wrote is lost: comments survive a choice, a failed write changes nothing, a log only grows."""

from __future__ import annotations

import errno
import os
import stat
import tempfile
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from handwound.errors import FileError
from handwound.files.design import write_choice
from handwound.files.readings import append_reading, read_readings
from handwound.files.write import replace_text, write_whole
from handwound.parts.reading import Reading
from handwound.quantities import quantities
from tests.files import bench

FIELD, VOICE = {"wire": "thin", "n_l": 31}, {"wire": "thick", "n_l": 4}
EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "open-day" / "design.toml"


def test_over_an_old_choice_only_the_chosen_lines_change(tmp_path) -> None:
    """Kind of truth: a plain comparison of lines."""
    path = tmp_path / "design.toml"
    text = bench.DESIGN.replace('wire = "thick"\n', 'wire   =  "thick"   # the big one\n').replace(
        "n_l = 2\n", "n_l=2 #\t2\n"
    )
    path.write_bytes(text.encode())
    write_choice(path, FIELD, VOICE)
    changed = [pair for pair in zip(text.split("\n"), path.read_text().split("\n"), strict=True) if pair[0] != pair[1]]
    assert changed == [
        ('wire   =  "thick"   # the big one', 'wire   =  "thin"   # the big one'),
        ("n_l = 20", "n_l = 31"),
        ('wire = "thin"', 'wire = "thick"'),
        ("n_l=2 #\t2", "n_l=4 #\t2"),
    ]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_into_an_open_design_only_lines_are_added(end, tmp_path) -> None:
    """Kind of truth: a plain comparison of lines. The example's comments and blank lines all stay."""
    path = tmp_path / "design.toml"
    text = EXAMPLE.read_text(encoding="utf8").replace("\n", end)
    path.write_bytes(text.encode())
    write_choice(path, FIELD, VOICE)
    new = path.read_bytes().decode()
    for name, choice in (("field_coil", FIELD), ("voice_coil", VOICE)):
        lines = f'[{name}]{end}wire = "{choice["wire"]}"{end}n_l = {choice["n_l"]}{end}'
        assert lines in new
        new = new.replace(lines, f"[{name}]{end}")
    assert new == text


def test_a_choice_is_read_back(tmp_path) -> None:
    bench.write(tmp_path)
    write_choice(tmp_path / "design.toml", {"wire": "thick", "n_l": 18}, {"wire": "thin", "n_l": 4})
    _, _, design = bench.read(tmp_path)
    assert design.field_coil.wire is not None and design.voice_coil.wire is not None
    assert (design.field_coil.wire.name, design.field_coil.n_l) == ("thick", 18)
    assert (design.voice_coil.wire.name, design.voice_coil.n_l) == ("thin", 4)


@pytest.mark.parametrize(
    "text",
    [
        'field_coil = {h_w = "42 mm"} # x\nvoice_coil = {n_l = 2, h_w = "3 mm"}\n',
        'field_coil.h_w = "42 mm" # x\nvoice_coil.n_l = 2',
        "[voice_coil] # v\n[field_coil]\n# end",
        "[field_coil]\n[voice_coil]",
        '[voice_coil.x]\ny = 1\n["field_coil"]\n',
        '[voice_coil.x]\ny = 1\n[field_coil]\nn_l = 3\n[z]\n[voice_coil]\nwire = "a\\"b"\n',
    ],
)
def test_any_layout_of_the_tables_can_take_a_choice(text, tmp_path) -> None:
    """Kind of truth: a general library reads what was written."""
    path = tmp_path / "design.toml"
    path.write_bytes(text.encode())
    odd = {"wire": 'a "quoted" \\ reel, 0.5 Ω', "n_l": 7}
    write_choice(path, odd, VOICE)
    before, after = tomllib.loads(text), tomllib.loads(path.read_text(encoding="utf8"))
    before["field_coil"] |= odd
    before["voice_coil"] |= VOICE
    assert after == before
    comments = [line.partition("#")[2] for line in text.split("\n") if "#" in line]
    assert [line.partition("#")[2] for line in path.read_text(encoding="utf8").split("\n") if "#" in line] == comments


def test_a_design_without_the_table_is_left_alone(tmp_path) -> None:
    path = tmp_path / "design.toml"
    path.write_text("[field_coil]\n", encoding="utf8")
    with pytest.raises(FileError) as told:
        write_choice(path, FIELD, VOICE)
    assert str(told.value) == (
        f"{path}: voice_coil: must be a table [voice_coil]; found nothing to write the choice into."
    )
    assert [each.name for each in tmp_path.iterdir()] == ["design.toml"]


def test_a_text_that_only_one_library_can_read_is_left_alone(tmp_path, monkeypatch) -> None:
    path = tmp_path / "design.toml"
    path.write_text(bench.DESIGN, encoding="utf8")

    def refuse(text: str) -> None:
        raise tomlkit.exceptions.ParseError(3, 4, "odd")

    monkeypatch.setattr(tomlkit, "parse", refuse)
    with pytest.raises(FileError, match="written back; found this: odd at line 3"):
        write_choice(path, FIELD, VOICE)
    assert path.read_text(encoding="utf8") == bench.DESIGN


def test_the_version_before_is_kept_once(tmp_path) -> None:
    path = tmp_path / "design.toml"
    for text in ("one", "two", "three"):
        replace_text(path, text)
    assert path.read_text() == "three"
    assert (tmp_path / "design.toml.before").read_text() == "two"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["design.toml", "design.toml.before"]


def test_the_same_choice_again_writes_nothing(tmp_path) -> None:
    path = tmp_path / "design.toml"
    path.write_text(bench.DESIGN, encoding="utf8")
    write_choice(path, {"wire": "thick", "n_l": 20}, {"wire": "thin", "n_l": 2})
    assert [each.name for each in tmp_path.iterdir()] == ["design.toml"]


class BrokenError(Exception):
    """What the tests break with."""


def breaks(*args: object, **kwargs: object) -> None:
    raise BrokenError


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failure_on_the_way_changes_nothing(step, tmp_path, monkeypatch) -> None:
    """Power may fail between writing and renaming: the old text must still stand there, whole, and no litter."""
    path = tmp_path / "design.toml"
    path.write_text("old", encoding="utf8")
    monkeypatch.setattr(os, step, breaks)
    with pytest.raises(BrokenError):
        replace_text(path, "new")
    assert {each.name: each.read_text() for each in tmp_path.iterdir()} == {"design.toml": "old"}


def test_a_failure_after_the_old_text_was_kept(tmp_path, monkeypatch) -> None:
    path = tmp_path / "design.toml"
    path.write_text("old", encoding="utf8")
    real: Callable[..., None] = os.replace
    monkeypatch.setattr(os, "replace", lambda a, b: real(a, b) if str(b).endswith(".before") else breaks())
    with pytest.raises(BrokenError):
        replace_text(path, "new")
    names = {each.name: each.read_text() for each in tmp_path.iterdir()}
    assert names == {"design.toml": "old", "design.toml.before": "old"}


def test_a_link_and_the_rights_of_a_file_stay(tmp_path) -> None:
    (tmp_path / "real").mkdir()
    real, link = tmp_path / "real" / "design.toml", tmp_path / "design.toml"
    real.write_text("old", encoding="utf8")
    real.chmod(0o640)
    try:
        link.symlink_to(real)
    except OSError:
        pytest.skip("this system makes no links")
    replace_text(link, "new")
    assert link.is_symlink() and real.read_text() == "new"
    assert os.name == "nt" or stat.S_IMODE(real.stat().st_mode) == 0o640


def test_a_new_file_has_the_rights_of_any_new_file(tmp_path) -> None:
    """Kind of truth: second method, the system's own way of making a file. Others in the workshop read it too."""
    write_whole(tmp_path / "sheet.pdf", b"%PDF")
    (tmp_path / "plain").write_bytes(b"")
    assert (tmp_path / "sheet.pdf").stat().st_mode == (tmp_path / "plain").stat().st_mode
    assert (tmp_path / "sheet.pdf").read_bytes() == b"%PDF"


@pytest.mark.skipif(os.name == "nt", reason="devices are files only under unix")
def test_a_device_is_written_into_not_replaced(tmp_path) -> None:
    before = os.stat(os.devnull)
    write_whole(Path(os.devnull), b"%PDF")
    assert os.stat(os.devnull)[:3] == before[:3], "the same file of the same kind"
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_whole(pipe, b"%PDF")
        assert os.read(reader, 100) == b"%PDF"
    finally:
        os.close(reader)
    assert stat.S_ISFIFO(pipe.stat().st_mode)


@pytest.mark.parametrize("write", [lambda path: write_whole(path, b""), lambda path: replace_text(path, "")])
def test_an_error_names_the_file_that_was_asked_for(write, tmp_path, monkeypatch) -> None:
    """Neither the helper beside it, nor nothing at all where the disk is full."""
    for path in (tmp_path / "nowhere" / "x.pdf", tmp_path):
        with pytest.raises(OSError) as told:
            write(path)
        assert told.value.filename == str(path)

    def full(number: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space") as told:
        write(tmp_path / "x.pdf")
    assert told.value.filename == str(tmp_path / "x.pdf")
    assert list(tmp_path.iterdir()) == []


def test_the_mark_some_editors_put_first_is_read_and_kept(tmp_path) -> None:
    bench.write(tmp_path)
    path = tmp_path / "design.toml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    write_choice(path, {"wire": "thick", "n_l": 19}, {"wire": "thin", "n_l": 2})
    assert path.read_bytes().startswith(b"\xef\xbb\xbf[iron]")
    assert bench.read(tmp_path)[2].field_coil.n_l == 19


READING = Reading(
    time="2025-03-14T15:09",
    where="field_coil layer 10",
    quantity="R_l",
    value=7.55,
    note='the wire is "0.48", not 0.50',
    spread=(("value", 0.02),),
)


def test_a_log_is_begun_and_grows(tmp_path) -> None:
    path = tmp_path / "readings.csv"
    assert read_readings(path) == ()
    append_reading(path, READING)
    first = path.read_bytes()
    append_reading(path, Reading(time="2025-03-15", where="voice_coil", quantity="N_1", value=53.0))
    assert path.read_bytes().startswith(first), "what was written is never touched again"
    assert [reading.value for reading in read_readings(path)] == [7.55, 53.0]
    assert read_readings(path)[0] == READING
    assert first.decode() == (
        "time,where,quantity,value,note\n"
        '2025-03-14T15:09,field_coil layer 10,R_l,7.55 ± 0.02 Ω,"the wire is ""0.48"", not 0.50"\n'
    )


def test_a_log_whose_last_line_was_left_open(tmp_path) -> None:
    path = tmp_path / "readings.csv"
    path.write_bytes(b"time,where,quantity,value,note\r\n2025-03-14,bench,m,20 g,")
    append_reading(path, READING)
    assert [reading.quantity for reading in read_readings(path)] == ["m", "R_l"]


@pytest.mark.parametrize("wrong", [{"value": 1e9}, {"time": "now"}, {"where": ""}])
def test_a_reading_that_could_not_be_read_back_is_not_written(wrong, tmp_path) -> None:
    path = tmp_path / "readings.csv"
    with pytest.raises(FileError):
        append_reading(path, Reading(**{**vars(READING), **wrong}))
    assert not path.exists()


@given(st.sampled_from(sorted(quantities())), st.floats(0.001, 0.999), st.text(max_size=20))
def test_any_reading_comes_back(name, share, note) -> None:
    """Kind of truth: a round trip. Twelve figures are written."""
    quantity = quantities()[name]
    value = quantity.low + share * (quantity.high - quantity.low)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "readings.csv"
        append_reading(path, Reading(time="2025-03-14", where="bench", quantity=name, value=value, note=note))
        (back,) = read_readings(path)
    assert back.value == pytest.approx(value, rel=1e-11)
    assert back.note == note.replace("\n", " ").replace("\r", " ").strip()
