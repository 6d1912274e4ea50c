"""The moving parts and what they are built into, as the files tell them: derived numbers by hand and by other ways."""

from __future__ import annotations

from math import hypot
from pathlib import Path

import pytest

from handwound.files.brief import read_brief
from handwound.files.stock import read_stock
from handwound.parts.design import Brief, Design
from handwound.parts.moving import Diaphragm
from tests.files import bench

DIP = 'load = "50 ± 1.5 g"\ndip = "2 ± 0.08 mm"'
HELD = 50e-3 * 9.80665 / 2e-3


def design(folder: Path, old: str, new: str) -> Design:
    """The bench's design with one thing changed."""
    bench.write(folder, "design.toml", old, new)
    return bench.read(folder)[2]


def brief(folder: Path, more: str) -> Brief:
    """The bench's wish with something added."""
    bench.write(folder, "brief.toml", 'x_pk = "2 mm"', f'x_pk = "2 mm"\n{more}')
    return bench.read(folder)[1]


def test_a_stiffness_from_a_dip(tmp_path) -> None:
    """Kind of truth: closed form. 50 g · 9.80665 m/s² on 2 mm are 245.17 N/m; 3 % and 4 % of doubt make 5 %."""
    surround = design(tmp_path, 'sheet = "foam"', f'sheet = "card"\n{DIP}').surround
    assert surround.K_s == pytest.approx(HELD)
    assert dict(surround.spread)["K_s"] == pytest.approx(HELD * 0.05)


def test_foam_that_vibrates_is_stiffer_than_under_a_weight(tmp_path) -> None:
    """Kind of truth: closed form. The table's 1.25 ± 0.2 times the stiffness at rest: 16 % of doubt beside 5 %."""
    surround = design(tmp_path, 'd_in = "90 mm"', f'd_in = "90 mm"\n{DIP}').surround
    assert surround.K_s == pytest.approx(1.25 * HELD)
    assert dict(surround.spread)["K_s"] == pytest.approx(1.25 * HELD * hypot(0.05, 0.16))


def test_a_spider_is_as_much_stiffer_as_its_sheet(tmp_path) -> None:
    """Kind of truth: limit. Without a sheet, or of card, nothing is gained; of foam a quarter."""
    for sheet, gain in (("", 1.0), ('sheet = "card"\n', 1.0), ('sheet = "foam"\n', 1.25)):
        spider = design(tmp_path, "[moving]", f'[spider]\n{sheet}m_sp = "0.3 g"\n{DIP}\n\n[moving]').spider
        assert spider is not None
        assert spider.K_sp == pytest.approx(gain * HELD)


def test_a_strip_tells_the_modulus(tmp_path) -> None:
    """Kind of truth: closed form. 0.49 N on 20 x 2 mm is 12.26 kPa, and 4 mm of 60 a strain of 1/15: 0.1839 MPa."""
    strip = 'l_strip = "60 mm"\nw_strip = "20 ± 0.8 mm"\nstretch = "4 ± 0.12 mm"\nload = "50 g"'
    bench.write(tmp_path, "stock.toml", 'material = "sponge foam 2"',
                f'material = "sponge foam 2"\nt = "2 mm"\nk_dyn = 1.2\n{strip}')  # fmt: skip
    foam = read_stock(tmp_path / "stock.toml").sheets[1]
    assert foam.E == pytest.approx(1.2 * 0.183875e6, rel=1e-5)
    assert dict(foam.spread)["E"] / foam.E == pytest.approx(0.05)  # 3 %, 4 %, 5 %
    assert foam.k_dyn == 1.2


def test_a_strip_that_droops_tells_the_modulus(tmp_path) -> None:
    """Kind of truth: closed form. q = 0.16 · 9.80665 N/m², D = q l⁴/8w = 2.0015 mN·m, E = 12 D/t³ = 3.0022 GPa; doubts
    of 1 % in the length count four times, of 2 % in the thickness three times, beside 5 % and 3 %."""
    strip = 'l_strip = "100 ± 1 mm"\ndroop = "9.8 ± 0.49 mm"'
    bench.write(tmp_path, "stock.toml", 'material = "card 160"',
                f'material = "card 160"\nt = "0.2 ± 0.004 mm"\nrho_A = "160 ± 4.8 g/m²"\n{strip}')  # fmt: skip
    card = read_stock(tmp_path / "stock.toml").sheets[0]
    assert card.E == pytest.approx(12 * 0.160 * 9.80665 * 0.1**4 / (8 * 9.8e-3) / 0.2e-3**3)
    assert card.E == pytest.approx(3.002e9, rel=1e-3)
    assert dict(card.spread)["E"] / card.E == pytest.approx((0.04**2 + 0.06**2 + 0.05**2 + 0.03**2) ** 0.5)


def test_a_strip_gives_a_cloth_a_modulus(tmp_path) -> None:
    strip = 'l_strip = "60 mm"\nw_strip = "20 mm"\nstretch = "1 mm"\nload = "200 g"'
    bench.write(tmp_path, "stock.toml", 'material = "sponge foam 2"', f'material = "cotton cloth"\n{strip}')
    surround = bench.read(tmp_path)[2].surround
    assert surround.K_s is None
    assert surround.sheet.E > 0


def test_a_cloth_needs_a_measured_stiffness_and_then_is_welcome(tmp_path) -> None:
    bench.write(tmp_path, "stock.toml", 'material = "sponge foam 2"', 'material = "cotton cloth"')
    text = (tmp_path / "design.toml").read_text(encoding="utf8")
    text = text.replace('d_in = "90 mm"', 'd_in = "90 mm"\nK_s = "1 N/mm"')
    (tmp_path / "design.toml").write_text(text, encoding="utf8")
    assert bench.read(tmp_path)[2].surround.K_s == 1000.0


def test_a_roll_of_no_height_is_half_round(tmp_path) -> None:
    """Kind of truth: plane geometry. 14 mm wide, 7 mm high; each edge moves the height by a quarter of its error."""
    surround = design(tmp_path, 'd_in = "90 mm"', 'd_in = "90 ± 0.4 mm"\nform = "roll"').surround
    assert (surround.form, surround.h_r) == ("roll", pytest.approx(7e-3))
    assert dict(surround.spread)["h_r"] == pytest.approx(0.1e-3)
    lower = design(tmp_path, 'd_in = "90 mm"', 'd_in = "90 mm"\nform = "roll"\nh_r = "5 ± 0.5 mm"').surround
    assert (lower.h_r, dict(lower.spread)) == (pytest.approx(5e-3), {"h_r": pytest.approx(0.5e-3)})


def test_a_spider_of_arms_needs_no_weight(tmp_path) -> None:
    arms = 'form = "arms"\nsheet = "card"\nn_arm = 3\nl_arm = "25 ± 0.5 mm"\nw_arm = "4 mm"\nz_sp = "6 mm"'
    spider = design(tmp_path, "[moving]", f"[spider]\n{arms}\n\n[moving]").spider
    assert spider is not None
    assert (spider.K_sp, spider.m_sp, spider.n_arm, spider.n_pleat) == (None, None, 3, 0)
    assert (spider.l_arm, spider.w_arm, spider.z_sp) == pytest.approx((25e-3, 4e-3, 6e-3))
    assert dict(spider.spread) == {"l_arm": pytest.approx(0.5e-3)}


def test_ribs_and_a_cap(tmp_path) -> None:
    ribs = 'ribs = { sheet = "card", n_rib = 6, h_rib = "3 ± 0.3 mm", d_in = "30 mm", d_out = "85 mm" }'
    cap = '[cap]\nform = "dome"\nsheet = "card"\nd_out = "38 mm"\nh_c = "6 ± 0.5 mm"'
    made = design(tmp_path, 'd_out = "90 mm"', f'd_out = "90 mm"\n{ribs}\n\n{cap}')
    assert made.diaphragm.ribs is not None
    assert made.cap is not None
    assert (made.diaphragm.ribs.n_rib, dict(made.diaphragm.ribs.spread)) == (6, {"h_rib": pytest.approx(0.3e-3)})
    assert (made.cap.h_c, made.cap.m_cap, dict(made.cap.spread)) == (6e-3, None, {"h_c": pytest.approx(0.5e-3)})


def test_a_seam_is_glued_over_its_lap_and_a_coil_over_its_height(tmp_path) -> None:
    cone = 'form = "cone"\nh_c = "10 mm"\nw_seam = "8 ± 1 mm"'
    glue = "".join(f'\n[[bond]]\nname = "{at}"\nat = "{at}"\nglue = "epoxy"\nt_bond = "0.1 ± 0.05 mm"\n'
                   for at in ("seam", "coil"))  # fmt: skip
    bench.write(tmp_path, "design.toml", 'form = "disc"', cone)
    text = (tmp_path / "design.toml").read_text(encoding="utf8")
    (tmp_path / "design.toml").write_text(text + glue, encoding="utf8")
    seam, coil = bench.read(tmp_path)[2].bonds
    assert (seam.w_bond, coil.w_bond) == (pytest.approx(8e-3), None)
    assert dict(seam.spread) == {"t_bond": pytest.approx(0.05e-3), "w_bond": pytest.approx(1e-3)}


def test_what_was_weighed_together(tmp_path) -> None:
    made = design(tmp_path, 'glue = "epoxy"', 'glue = "epoxy"\nm_weighed = "5.3 ± 0.1 g"')
    assert (made.m_weighed, dict(made.spread)) == (pytest.approx(5.3e-3), {"m_weighed": pytest.approx(0.1e-3)})


def test_a_box_with_ports_and_one_that_is_stopped_up(tmp_path) -> None:
    """Kind of truth: from memory, weak: a box that was built with care loses as much as a Q of 7 says."""
    box = 'V_box = "8 ± 0.2 l"\nt_box = "12 mm"\nd_port = "40 mm"\nl_port = "100 ± 1 mm"'
    port = brief(tmp_path, box).port
    assert port is not None
    assert (port.n_port, port.Q_leak, port.d_port, port.l_port) == (1, 7.0, pytest.approx(0.04), pytest.approx(0.1))
    assert dict(port.spread) == {"l_port": pytest.approx(1e-3), "Q_leak": 3.0}
    stopped = brief(tmp_path, f"{box}\nn_port = 0")
    assert (stopped.port, stopped.box) == (None, brief(tmp_path, 'V_box = "8 ± 0.2 l"\nt_box = "12 mm"').box)


def test_a_board_of_one_side_is_square(tmp_path) -> None:
    board = brief(tmp_path, 'W_baffle = "400 ± 2 mm"').baffle
    assert board is not None
    assert board.W_baffle == board.H_baffle == pytest.approx(0.4)
    assert brief(tmp_path, 'W_baffle = "0.4 m"\nH_baffle = "0.6 m"').baffle != board


def test_a_resistor_a_note_and_an_amplifier_that_is_no_short(tmp_path) -> None:
    bench.write(tmp_path, "stock.toml", 'Z_least = "4 Ω"', 'Z_least = "4 Ω"\nR_out = "20 ± 2 Ω"')
    stock = read_stock(tmp_path / "stock.toml")
    (tmp_path / "brief.toml").write_text(f'{bench.BRIEF}R_series = "2.2 Ω"\nf_tone = "440 Hz"\n', encoding="utf8")
    wish = read_brief(tmp_path / "brief.toml", stock)
    assert (wish.R_series, wish.f_tone, wish.amplifier.R_out) == (2.2, 440.0, 20.0)
    assert dict(wish.amplifier.spread) == {"R_out": 2.0}


def test_a_closed_back_with_holes_and_a_tight_one(tmp_path) -> None:
    holes = 'n_vent = 8\nd_vent = "8 ± 0.1 mm"\nt_vent = "1.5 mm"\nn_taped = 8'
    back = design(tmp_path, "[moving]", f'[back]\nV_back = "0.2 l"\n{holes}\n\n[moving]').back
    assert back is not None
    assert (back.V_back, back.n_vent, back.n_taped) == (pytest.approx(0.2e-3), 8, 8)
    tight = design(tmp_path, "[moving]", '[back]\nV_back = "0.2 l"\n\n[moving]').back
    assert tight is not None
    assert (tight.n_vent, tight.d_vent, tight.t_vent) == (0, 0.0, 0.0)


def test_a_dome_falls_as_its_ball_does_and_a_cone_rises_straight(tmp_path) -> None:
    """Kind of truth: plane geometry. A dome 90 wide and 15 high is of a ball of 150; the cone has a slope of 1/2."""
    bench.write(tmp_path)
    sheet = read_stock(tmp_path / "stock.toml").sheets[0]
    dome = Diaphragm(form="dome", sheet=sheet, d_in=0.0, d_out=0.090, h_c=0.015)
    for r in (0.0, 0.010, 0.030, 0.045):
        assert dome.rise(2 * r) == pytest.approx((0.075**2 - r**2) ** 0.5 - 0.075, abs=1e-12)
    cone = Diaphragm(form="cone", sheet=sheet, d_in=0.030, d_out=0.090, h_c=0.015)
    assert [cone.rise(d) for d in (0.030, 0.050, 0.090)] == pytest.approx([0.0, 0.005, 0.015])
