"""Follow eight quantities from the file to the printed sheet: changed in the file, they change what is printed."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from handwound.faces.cli import cli
from handwound.quantities import plain, shown
from tests.examples import edit, started

SRC = Path(__file__).parents[1] / "src" / "handwound"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of the open-day job with a build chosen by hand."""
    return started(tmp_path / "open-day", "open-day")


def numbers(folder: Path) -> dict[str, float]:
    done = CliRunner().invoke(cli, ["predict", str(folder), "--json"], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    record = json.loads(done.stdout)
    found = {name: each["value"] for name, each in record["numbers"].items()}
    return {**found, "last rung": record["voice_ladder"][-1]["R_T"]["value"]}


def printed(folder: Path) -> str:
    done = CliRunner().invoke(cli, ["sheet", str(folder)], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    text = " ".join(page.extract_text() for page in PdfReader(folder / "build-sheet.pdf").pages)
    return text.replace("\xa0", " ")


def stands_in(text: str, name: str, value: float) -> bool:
    """Whether the number is printed with three or four figures in its shown unit, as a whole and no part of another."""
    number = shown(name, value)
    written = {plain(number, 3), plain(number, 4), f"{number:#.3g}", f"{number:#.4g}"}
    return any(re.search(rf"(?<![\d.]){re.escape(each)}(?!\.?\d)", text) for each in written)


def test_a_part_of_a_number_is_not_the_number() -> None:
    """Kind of truth: by hand. 6.1 Ω is in none of the first four, and in each of the others."""
    for text in ("16.1 Ω", "6.12 Ω", "0.6.1", "6.100.2"):
        assert not stands_in(text, "Re", 6.1)
    for text in ("6.1 Ω", "6.10 Ω", "it reads 6.1.", "(6.100 to 6.3)", "-6.1"):
        assert stands_in(text, "Re", 6.1)
    assert stands_in("1154 A", "NI", 1154.3) and not stands_in("1154 A", "NI", 115.4)


def test_wire_diameter(job: Path) -> None:
    """A wire thinner by a tenth under the same enamel reads 1/0.81 of the ohms: closed form, R ~ 1/d²."""
    before = numbers(job)
    edit(job / "stock.toml", r'd_cu = "0\.18[^"]*"', 'd_cu = "0.162 ± 0.005 mm"')
    after = numbers(job)
    assert after["last rung"] == pytest.approx(before["last rung"] / 0.81, rel=1e-9)
    assert stands_in(printed(job), "R_T", after["last rung"])


def test_steel_curve(job: Path) -> None:
    """A free-cutting bar carries less than mild steel near its knee: Bl falls, the coils stay what they are."""
    before = numbers(job)
    edit(job / "stock.toml", r'(form = "bar"\n)', '\\1grade = "9smnpb28"\n')
    after = numbers(job)
    assert after["motor.Bl"] < 0.99 * before["motor.Bl"]
    assert after["driver.Re"] == before["driver.Re"]
    assert stands_in(printed(job), "Bl", after["motor.Bl"])


def test_gap_width(job: Path) -> None:
    """A bore narrower by half a millimetre: a quarter less air outside the winding, and more force."""
    before = numbers(job)
    edit(job / "design.toml", r'd_in = "28\.0[^"]*"', 'd_in = "27.5 ± 0.05 mm"')
    after = numbers(job)
    assert after["clearance.c_o"] == pytest.approx(before["clearance.c_o"] - 0.25e-3, abs=1e-12)
    assert 1.05 * before["motor.Bl"] < after["motor.Bl"] < 1.5 / 1.25 * before["motor.Bl"]
    assert stands_in(printed(job), "c_o", after["clearance.c_o"])


def test_supply_voltage(job: Path) -> None:
    """Half the voltage: half the ampere-turns and a quarter of the watts (Ohm's law)."""
    before = numbers(job)
    edit(job / "stock.toml", r'V_max = "12[^"]*"', 'V_max = "6 V"')
    after = numbers(job)
    assert after["excitation.NI"] == pytest.approx(before["excitation.NI"] / 2, rel=1e-9)
    assert after["excitation.P_f"] == pytest.approx(before["excitation.P_f"] / 4, rel=1e-9)
    assert stands_in(printed(job), "NI", after["excitation.NI"])


def test_room_temperature(job: Path) -> None:
    """Ten kelvin more: copper reads 1 + 0.00393 * 10 times as much (IEC 60028, from memory)."""
    before = numbers(job)
    edit(job / "brief.toml", r'T_room = "20[^"]*"', 'T_room = "30 °C"')
    after = numbers(job)
    assert after["driver.Re"] == pytest.approx(1.0393 * before["driver.Re"], rel=1e-9)
    text = printed(job)
    assert stands_in(text, "Re", after["driver.Re"])
    assert "30 °C" in text


def test_magnet_remanence(tmp_path: Path) -> None:
    """A magnet measured a tenth stronger than usual: more force, by less than a tenth where the pole is full."""
    folder = started(tmp_path / "repair-pair", "repair-pair")
    before = numbers(folder)
    edit(folder / "stock.toml", r'(name = "ring 72"\n)', '\\1B_rem = "0.407 ± 0.01 T"\n')
    after = numbers(folder)
    assert 1.02 * before["motor.Bl"] < after["motor.Bl"] < 1.1 * before["motor.Bl"]
    assert stands_in(printed(folder), "Bl", after["motor.Bl"])


def test_box_volume(job: Path) -> None:
    """A closed box of 6 l: the resonance rises by √(1 + Vas/V), and as the air behind swings along less: 0.65 ρ π a³ of
    it in a box (Beranek, from memory), 8/3 ρ a³ in a wall."""
    before = numbers(job)
    edit(job / "brief.toml", r"(?m)\Z", 'V_box = "6 l"\nt_box = "15 mm"\n')
    after = numbers(job)
    gone = before["moving.m_air"] / 2 * (1 - 0.65 * math.pi / (8 / 3))
    lighter = before["moving.Mms"] / (before["moving.Mms"] - gone)
    f_c = before["driver.fs"] * (lighter * (1 + before["driver.Vas"] / 6e-3)) ** 0.5
    assert after["mounted.f_c"] == pytest.approx(f_c, rel=0.006)
    assert after["driver.fs"] == before["driver.fs"]
    assert stands_in(printed(job), "f_c", after["mounted.f_c"])


def test_modulus_of_the_card(job: Path) -> None:
    """A card of twice the modulus moves as a whole further up, by no more than its notes could rise, √2; within a step
    from one note of the surround to the next. What it weighs and rests on stays."""
    edit(job / "stock.toml", r'(material = "card 160"\n)', '\\1E = "2.0 ± 0.2 GPa"\n')
    before = numbers(job)
    edit(job / "stock.toml", r'E = "2\.0 ± 0\.2 GPa"', 'E = "4.0 ± 0.2 GPa"')
    after = numbers(job)
    assert 1.05 < after["stiff.f_stiff"] / before["stiff.f_stiff"] < 2
    assert after["driver.fs"] == before["driver.fs"] and after["moving.Mms"] == before["moving.Mms"]
    hundreds = f"{round(after['stiff.f_stiff'], -2):.0f}"  # its band leaves no more
    assert re.search(rf"(?<!\d){hundreds} Hz", printed(job))


@pytest.mark.parametrize("word", ["d_cu", "d_in", "V_max", "T_room", "grade", "B_rem"])
def test_the_word_is_the_same_on_every_floor(word: str) -> None:
    """A reader who greps for the word meets it in the files' reader, the parts and the spine."""
    places = {path.relative_to(SRC).parts[0] for path in SRC.rglob("*.py") if word in path.read_text(encoding="utf8")}
    assert {"files", "parts"} <= places
    assert places & {"predict.py", "stages.py", "iron_field.py"}
