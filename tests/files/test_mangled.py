"""Whatever stands in a file, the answer is a part or a HandwoundError with its sentences: never anything else."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handwound.errors import FileError, HandwoundError
from handwound.files.design import write_choice
from handwound.files.readings import read_readings
from tests.files import bench

PIECES = st.sampled_from(
    ['"', "'", "=", "[", "]", "{", "}", ",", "\n", "#", "±", "mm", "0", "-1", "1e999", "nan", "true", "[[wire]]", "\\"]
    + ["0.5 ± 9 mm", '"M8"', "١٢", "\r", "\t", "\x00", "é", '"""', "1979-05-27", "9" * 5000, "[" * 300, "name", "."]
)
VALUES = st.one_of(
    st.just("[]"),
    st.just("{}"),
    st.just("true"),
    st.just("[[1]]"),
    st.just('["a", 2]'),
    st.just("1979-05-27"),
    st.just("nan"),
    st.just("-inf"),
    st.integers().map(str),
    st.sampled_from(["1" * 400, "0x" + "f" * 4000, "-1" + "0" * 4000, "1e400", '"1\\n2 mm"', '"\\u0007"']),
    st.floats().map(lambda number: repr(number) if "e" not in repr(number) else f"{number:.3f}"),
    st.text("0123456789.,±-+e mµgΩ°C%", max_size=12).map(lambda text: f'"{text}"'),
)


def assert_sentences_or_nothing(folder: Path) -> None:
    """Read the job. Anything but a HandwoundError goes through and fails the test."""
    try:
        bench.together(folder)
    except FileError as error:
        assert error.faults
        assert all(": must be " in str(fault) for fault in error.faults)
        assert all(
            ": must be " in line for line in str(error).replace("\r", "\n").split("\n") if line.startswith(str(folder))
        )


@settings(max_examples=200)
@given(st.sampled_from(list(bench.TEXTS)), st.data())
def test_a_torn_text(name, data) -> None:
    text = bench.TEXTS[name]
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(start + 40, len(text))))
    spoiled = text[:start] + "".join(data.draw(st.lists(PIECES, max_size=4))) + text[end:]
    with tempfile.TemporaryDirectory() as folder:
        bench.write(Path(folder))
        (Path(folder) / name).write_bytes(spoiled.encode())
        assert_sentences_or_nothing(Path(folder))


@settings(max_examples=300)
@given(st.sampled_from(list(bench.TEXTS)), st.data())
def test_a_value_of_any_kind(name, data) -> None:
    lines = bench.TEXTS[name].splitlines()
    number = data.draw(st.sampled_from([n for n, line in enumerate(lines) if " = " in line]))
    lines[number] = f"{lines[number].split(' = ')[0]} = {data.draw(VALUES)}"
    with tempfile.TemporaryDirectory() as folder:
        bench.write(Path(folder))
        (Path(folder) / name).write_bytes("\n".join(lines).encode())
        assert_sentences_or_nothing(Path(folder))


WHOLE = "0x" + "f" * 4000


@pytest.mark.parametrize("value", [WHOLE, f"[{WHOLE}]", f"{{a = {WHOLE}}}", "1e999", "2025-03-14", '"\\u0000"', "[[]]"])
@pytest.mark.parametrize("name", bench.TEXTS)
def test_the_same_odd_value_for_every_key(name, value, tmp_path) -> None:
    """A whole number of so many digits can be neither a float nor a text."""
    lines = bench.TEXTS[name].splitlines()
    for number in [n for n, line in enumerate(lines) if " = " in line]:
        spoiled = [*lines[:number], f"{lines[number].split(' = ')[0]} = {value}", *lines[number + 1 :]]
        bench.write(tmp_path)
        (tmp_path / name).write_bytes("\n".join(spoiled).encode())
        with pytest.raises(FileError):
            bench.read(tmp_path)


@settings(max_examples=200)
@given(st.sampled_from(list(bench.TEXTS)), st.binary(max_size=60), st.integers(0, 400))
def test_bytes(name, noise, at) -> None:
    with tempfile.TemporaryDirectory() as folder:
        bench.write(Path(folder))
        raw = bench.TEXTS[name].encode()
        (Path(folder) / name).write_bytes(raw[:at] + noise + raw[at:])
        assert_sentences_or_nothing(Path(folder))


@settings(max_examples=200)
@given(st.text('time,where"\n\r2025-03T:Ω7.5 R_l\x00', max_size=80))
def test_a_log_of_noise(noise) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "readings.csv"
        path.write_bytes(f"time,where,quantity,value,note\n{noise}".encode())
        try:
            read_readings(path)
        except HandwoundError as error:
            assert ": must be " in str(error)


@settings(max_examples=200)
@given(st.data())
def test_a_choice_into_a_torn_design_leaves_it_as_it_was_or_sound_as_before(data) -> None:
    text = bench.DESIGN
    start = data.draw(st.integers(0, len(text)))
    spoiled = text[:start] + "".join(data.draw(st.lists(PIECES, max_size=3))) + text[start:]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "design.toml"
        path.write_bytes(spoiled.encode())
        try:
            write_choice(path, {"wire": "thick", "n_l": 7}, {"wire": "thin", "n_l": 4})
        except HandwoundError:
            assert path.read_bytes() == spoiled.encode()


@pytest.mark.parametrize("deep", [50, 5000])
def test_brackets_within_brackets(deep, tmp_path) -> None:
    bench.write(tmp_path)
    (tmp_path / "stock.toml").write_text(f"wire = {'[' * deep}{']' * deep}\n", encoding="utf8")
    with pytest.raises(FileError):
        bench.read(tmp_path)
