"""Every form of the moving parts and of what they are built into, from the files through the whole prediction."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass
from math import hypot, pi
from pathlib import Path

import numpy as np
import pytest

from handwound import masses, predict
from handwound.faces import records, words
from handwound.heard.limits import load
from handwound.heard.travel import held
from handwound.job import Job
from handwound.parts.prediction import Chain
from handwound.physics import air
from handwound.physics.suspension import stroke_75
from handwound.stiff import piston_to
from tests.examples import edit, started

CARD, FOAM = 0.160, 0.300
"""Mass per area of the sheets in the example. [kg/m²]"""
CONE = 'form = "cone"\nsheet = "card 160"\nd_in = "25.5 mm"\nd_out = "96 mm"\nh_c = "15 mm"\nw_seam = "8 mm"'
FLAT = 'sheet = "foam 2"\nd_in = "96 mm"\nd_out = "114 mm"'
RIBS = 'ribs = { sheet = "card 160", n_rib = 6, h_rib = "4 mm", d_in = "30 mm", d_out = "90 mm" }'
DISC = 'form = "disc"\nsheet = "card 160"\nd_in = "25.5 mm"\nd_out = "96 mm"'
DOME = 'form = "dome"\nsheet = "card 160"\nd_out = "96 mm"\nh_c = "10 mm"'
ARMS = 'form = "arms"\nsheet = "card 160"\nn_arm = 3\nl_arm = "20 mm"\nw_arm = "4 mm"\nz_sp = "8 mm"'
PLEATS = 'form = "pleats"\nsheet = "foam 2"\nd_in = "27 mm"\nd_out = "58 mm"\nh_r = "2 mm"\nn_pleat = 3\nz_sp = "8 mm"'
VENTS = 'V_back = "0.2 l"\nn_vent = 8\nd_vent = "12 mm"\nt_vent = "1 mm"'
BOX = 'V_box = "6 l"\nt_box = "12 mm"'
PORT = 'd_port = "40 mm"\nl_port = "90 mm"'


def job(folder: Path, tables: dict[str, str | None], brief: str = "") -> Job:
    """The open-day job without glue and cap, its diaphragm and surround exact; some tables in place of its own."""
    started(folder, "open-day")
    path = folder / "design.toml"
    text = re.sub(r"(?ms)^\[\[bond\]\].*?(?=^\[moving\])", "", path.read_text(encoding="utf8"))
    for name, body in {"cap": None, "diaphragm": CONE, "surround": FLAT, **tables}.items():
        text = re.sub(rf"(?ms)^\[{name}\]\n.*?(?=^\[|\Z)", "", text)
        text += f"\n{body}\n" if body and body.startswith("[[") else f"\n[{name}]\n{body}\n" if body else ""
    path.write_text(text, encoding="utf8")
    edit(folder / "brief.toml", r"\Z", f"\n{brief}\n")
    made = Job(folder)
    assert made.check() == ()
    return made


class Done:
    """A job through all stages, in one field."""

    def __init__(self, made: Job) -> None:
        self.design, self.brief = made.design, made.brief
        field = predict.field_of(self.design, self.brief)
        self.Z_b = predict.blocked(self.design, self.brief, field)
        self.done: Chain = predict.chain(self.design, self.brief, field, Z_b=self.Z_b)
        self.moving = self.done.moving
        self.held = held(self.design, self.done, 2e-3)

    @property
    def f_stiff(self) -> float:
        fs, T_room = float(self.done.driver.fs), float(self.brief.T_room)
        return piston_to(self.design, self.moving, fs, float(air.density(T_room)), float(air.speed(T_room)))

    def on_air(self, V: float, carried: float = 0.0) -> float:
        """Its resonance on the air of a closed volume, where one side carries ``carried`` rho pi a³ of air instead of
        its own: closed form; in a box 0.65 (Beranek, from memory). [Hz]"""
        rho_0, c_0, moving = air.density(20.0), air.speed(20.0), self.moving
        K = moving.Kms + rho_0 * c_0**2 * moving.Sd**2 / V
        behind = carried * rho_0 * pi * moving.a**3
        return float(np.sqrt(K / (moving.Mmd + moving.m_air / 2 + behind)) / (2 * pi))

    @property
    def x_75(self) -> float:
        return float(stroke_75(self.held.x, self.held.K_x)[-1])


@pytest.fixture(scope="module")
def make(tmp_path_factory):
    def of(tables: dict[str, str | None], brief: str = "") -> Done:
        return Done(job(tmp_path_factory.mktemp("job") / "one", tables, brief))

    return of


@pytest.fixture(scope="module")
def plain(make) -> Done:
    return make({})


def test_a_roll_is_softer_and_goes_further(make, plain) -> None:
    """Kind of truth: limit. Half a circle: as an arch 1/2.36 of the flat ring, stiffer for its hoops; the moving share
    of its sheet is that of a longer way between the same edges."""
    roll = make({"surround": f'{FLAT}\nform = "roll"'})
    assert 1 / 2.36 < roll.moving.Kms / plain.moving.Kms < 0.8
    assert roll.x_75 > 2 * plain.x_75
    assert roll.moving.m_s > plain.moving.m_s
    assert roll.done.driver.fs < plain.done.driver.fs


def test_a_low_roll_is_nearly_flat(make, plain) -> None:
    """Kind of truth: limit."""
    roll = make({"surround": f'{FLAT}\nform = "roll"\nh_r = "0.02 mm"'})
    assert roll.moving.Kms == pytest.approx(plain.moving.Kms, rel=5e-3)


def test_waves_go_further_too(make, plain) -> None:
    """Kind of truth: common practice, no source: what is folded stretches less."""
    waves = make({"surround": f'{FLAT}\nform = "pleats"\nh_r = "3 mm"\nn_pleat = 2'})
    assert waves.x_75 > 1.5 * plain.x_75


def test_what_is_measured_stands_above_the_shape(make) -> None:
    """Kind of truth: closed form. 20 g that sink 1 mm are 196.1 N/m at rest, 245.2 N/m of foam that vibrates; the
    course over the stroke is that of the shape, and sagging is at rest."""
    dip = make({"surround": f'{FLAT}\nload = "20 g"\ndip = "1 mm"'})
    roll = make({"surround": f'{FLAT}\nform = "roll"\nload = "20 g"\ndip = "1 mm"'})
    for each in (dip, roll):
        assert each.moving.Kms == pytest.approx(1.25 * 0.020 * 9.80665 / 1e-3)
        assert each.held.sag == pytest.approx(each.moving.Mmd / 0.020 * 1e-3)
    assert roll.x_75 > 2 * dip.x_75


def test_arms_add_their_beams_and_keep_it_upright(make, plain) -> None:
    """Kind of truth: closed form: 3 E w t³/l³ with the card's 3 GPa; 13/35 of their mass moves (beams held level)."""
    arms = make({"spider": ARMS})
    added = 3 * 3e9 * 4e-3 * 0.2e-3**3 / 20e-3**3
    assert arms.moving.Kms - plain.moving.Kms == pytest.approx(added, rel=1e-6)
    assert arms.moving.m_sp == pytest.approx(13 / 35 * 3 * 20e-3 * 4e-3 * CARD, rel=1e-3)
    assert arms.held.f_rock > 2 * plain.held.f_rock
    assert arms.held.tilt < plain.held.tilt / 3


def test_a_spider_of_waves_and_a_measured_one(make, plain) -> None:
    """Kind of truth: balance. Stiffness and mass come on top of the surround's, and it leans less."""
    waves, known = make({"spider": PLEATS}), make({"spider": 'K_sp = "0.5 N/mm"\nm_sp = "0.3 g"'})
    for each in (waves, known):
        assert each.moving.Mmd == pytest.approx(plain.moving.Mmd + each.moving.m_sp)
        assert each.held.f_rock > plain.held.f_rock
    assert known.moving.Kms == pytest.approx(plain.moving.Kms + 500)
    assert known.moving.m_sp == pytest.approx(0.3e-3)
    assert waves.moving.Kms > plain.moving.Kms


def test_a_card_is_stiffened_by_its_slope_and_by_ribs(make, plain) -> None:
    """Kind of truth: closed form for the masses; common practice, no source, for the order: a flat card is the first to
    bend, ribs help it, a dome and a cone help more."""
    disc, ribbed, dome = (make({"diaphragm": each}) for each in (DISC, f"{DISC}\n{RIBS}", DOME))
    assert disc.moving.m_d == pytest.approx(pi / 4 * (0.096**2 - 0.0255**2) * CARD)
    assert ribbed.moving.m_rib == pytest.approx(6 * 4e-3 * 30e-3 * CARD)
    assert dome.moving.m_d == pytest.approx(pi * (0.048**2 + 0.010**2) * CARD)
    assert plain.moving.m_d == pytest.approx((pi * 0.06075 + 8e-3) * hypot(35.25e-3, 15e-3) * CARD)
    assert 1.3 * disc.f_stiff < ribbed.f_stiff < min(dome.f_stiff, plain.f_stiff)


def test_a_cap_weighs_and_holds_the_middle(make, plain) -> None:
    """Kind of truth: closed form: part of a ball is pi (r² + h²) of sheet. A domed cap bends less than a flat one."""
    flat, domed = (
        make({"cap": f'form = "{form}"\nsheet = "card 160"\nd_out = "38 mm"{more}'})
        for form, more in (("disc", ""), ("dome", '\nh_c = "7 mm"'))
    )
    for each, h_c in ((flat, 0.0), (domed, 7e-3)):
        assert each.moving.m_cap == pytest.approx(pi * (19e-3**2 + h_c**2) * CARD)
        assert each.moving.Mmd == pytest.approx(plain.moving.Mmd + each.moving.m_cap)
    assert flat.f_stiff < domed.f_stiff
    weighed = make({"cap": 'form = "disc"\nsheet = "card 160"\nd_out = "38 mm"\nm_cap = "0.4 g"'})
    assert weighed.moving.m_cap == pytest.approx(0.4e-3)


def test_glue_is_counted_line_by_line(make, plain) -> None:
    """Kind of truth: closed form: the length of each edge times width, thickness and density; the surround laps over
    the diaphragm as far as it is glued."""
    lines = {"neck": pi * 25.9e-3 * 6e-3, "rim": pi * 96e-3 * 6e-3, "seam": hypot(35.25e-3, 15e-3) * 8e-3}
    width = {"neck": '\nw_bond = "6 mm"', "rim": '\nw_bond = "6 mm"', "seam": ""}
    bonds = "\n\n".join(
        f'[[bond]]\nname = "{at}"\nat = "{at}"\nglue = "white glue"\nt_bond = "0.1 mm"{width[at]}' for at in lines
    )
    glued = make({"bonds": bonds})
    rho_m = float(glued.design.bonds[0].glue.rho_m)
    assert glued.moving.m_g == pytest.approx(sum(lines.values()) * 0.1e-3 * rho_m)
    lap = pi / 4 * (84e-3**2 - (96e-3 - 2 * masses.LAP) ** 2)
    assert glued.moving.m_s - plain.moving.m_s == pytest.approx(-lap * FOAM)


def test_the_scale_has_the_last_word(make, plain) -> None:
    """Kind of truth: balance. What was weighed together takes the place of the sum; surround and spider come on top."""
    moving = 'bits = ["lead pair"]\nglue = "oven epoxy"\nm_weighed = "6.4 g"'
    both = make({"moving": moving, "spider": 'K_sp = "0.5 N/mm"\nm_sp = "0.3 g"'})
    assert both.moving.Mmd == pytest.approx(6.4e-3 + plain.moving.m_s + 0.3e-3)
    paper = make({"diaphragm": f'{CONE}\nm_d = "2 g"'})
    assert paper.moving.Mmd == pytest.approx(plain.moving.Mmd - plain.moving.m_d + 2e-3)


def test_a_box_a_board_and_a_stopped_port(make, plain) -> None:
    """Kind of truth: closed form for the note on the box's air; common practice, no source, for the rest: a port plays
    lower than the closed box, a board less low than a wall."""
    boxed, stopped, ported, board = (
        make({}, each)
        for each in (BOX, f"{BOX}\n{PORT}\nn_port = 0", f"{BOX}\n{PORT}", 'W_baffle = "300 mm"\nH_baffle = "400 mm"')
    )
    assert all(each.done.mounted for each in (boxed, stopped, ported, board, plain))
    assert boxed.done.mounted.f_c == pytest.approx(plain.on_air(6e-3, 0.65), rel=0.01)
    assert stopped.done.mounted == boxed.done.mounted
    assert ported.done.mounted.f_10 < boxed.done.mounted.f_10
    assert board.done.mounted.f_10 > plain.done.mounted.f_10


def test_the_frames_back_and_its_tape(make, plain) -> None:
    """Kind of truth: limits. Holes weigh on the driver, fewer of them more; the last one taped makes it a box of 0.2 l
    (closed form), and so does a back without holes."""
    open_, half, shut, tight = (
        make({"back": each}) for each in (VENTS, f"{VENTS}\nn_taped = 4", f"{VENTS}\nn_taped = 8", 'V_back = "0.2 l"')
    )
    notes = [each.done.mounted.f_c for each in (half, open_, plain, shut)]
    assert notes == sorted(notes)
    assert shut.done.mounted.f_c == pytest.approx(plain.on_air(0.2e-3), rel=0.01)
    assert tight.done.mounted == shut.done.mounted


def test_what_is_in_series_keeps_the_amplifier_safe(make, plain) -> None:
    """Kind of truth: closed form. A resistor adds to what the amplifier meets; its own does not protect it."""
    resistor = make({}, 'R_series = "4.7 Ω"')
    met = [load(each.design, each.brief, each.done, each.Z_b) for each in (plain, resistor)]
    assert met[1].Z_min == pytest.approx(met[0].Z_min + 4.7, abs=0.3)  # where the impedance is nearly all ohms
    assert met[1].I_max < met[0].I_max


ALL = {
    "ribs, roll, arms, port, valves": (
        {"diaphragm": f'{DISC}\nm_d = "1.4 g"\n{RIBS}', "surround": f'{FLAT}\nform = "roll"', "spider": ARMS,
         "cap": 'form = "disc"\nsheet = "card 160"\nd_out = "34 mm"'},
        f'{BOX}\n{PORT}\nn_port = 2\nQ_leak = 9\nR_series = "2.2 Ω"',
    ),
    "dome, waves, a back on a board, a scale": (
        {"diaphragm": DOME, "surround": f'{FLAT}\nform = "pleats"\nh_r = "3 mm"\nn_pleat = 2', "spider": PLEATS,
         "back": f"{VENTS}\nn_taped = 2", "moving": 'bits = ["lead pair"]\nm_weighed = "7 g"'},
        'W_baffle = "400 mm"',
    ),
    "a flat card in a tight back": (
        {"diaphragm": DISC, "surround": f'{FLAT}\nload = "20 g"\ndip = "1 mm"', "back": 'V_back = "0.3 l"'}, "",
    ),
}  # fmt: skip
"""Jobs that together have every key of moving parts and mounting."""


def finite(value: object) -> bool:
    """Whether no number in it is not one."""
    if is_dataclass(value):
        return all(finite(getattr(value, each.name)) for each in fields(value))
    if isinstance(value, dict):
        return all(finite(each) for each in value.values())
    if isinstance(value, (tuple, list)):
        return all(finite(each) for each in value)
    return not isinstance(value, float) or bool(np.isfinite(value))


@pytest.mark.parametrize("name", ALL)
def test_all_keys_at_once_tell_plain_numbers_and_words(name, tmp_path) -> None:
    """Kind of truth: limits. No number is missing, the band holds the number, the order of the levels is kept."""
    made = job(tmp_path / "one", *ALL[name])
    with np.errstate(divide="raise", over="raise", invalid="raise"):
        found = made.predict()
    record = records.prediction(made.design, made.brief, found)
    assert finite(record["numbers"]) and finite(record["response"]) and finite(found.sound.places)
    assert not re.search(r"\b(nan|inf|None)\b", words.prediction(made, found))
    for each in ("mounted.f_10", "mounted.f_c", "stiff.f_stiff", "moving.Kms"):
        band = found.bands[each]
        assert band.low <= band.median <= band.high, each
    assert found.sound.travel.x_lim > 0
    assert np.all(found.sound.loudest.L_max > 0)
    breakup = found.sound.breakup
    at = breakup.f < 200  # far below the piston's end all angles hear the same
    assert np.ptp(breakup.L_off[at], axis=1).max() < 0.5
