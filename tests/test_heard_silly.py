"""Drivers that nobody would build and nothing forbids: all that is told of their sound is a number."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from handwound.heard import limits, places, told
from handwound.mounting import Lodging
from handwound.parts.design import Brief, Design
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Baffle, Port
from handwound.parts.sound import Travel
from handwound.sounding import R_source, drive, mount
from handwound.stages import move
from handwound.stiff import piston_to

BACK = Back(V_back=0.4e-3, n_vent=4, d_vent=12e-3, t_vent=3e-3)
BOX, PORT = Box(V_box=6e-3, t_box=15e-3), Port(n_port=1, d_port=40e-3, l_port=80e-3, Q_leak=7.0)


def silly(design: Design, brief: Brief, seed: int) -> tuple[Design, Brief]:
    """A driver that nobody would build and nothing forbids: sizes and stuff over decades."""
    draw = np.random.default_rng(seed)

    def any_of(low: float, high: float) -> float:
        return float(np.exp(draw.uniform(np.log(low), np.log(high))))

    sheet = replace(design.diaphragm.sheet, t=any_of(0.05e-3, 2e-3), E=any_of(0.3e9, 8e9))
    sheet = replace(sheet, rho_A=sheet.t * any_of(100, 1500))
    rim = replace(design.surround.sheet, t=any_of(0.1e-3, 4e-3), E=any_of(5e4, 3e9), rho_A=any_of(0.01, 2.0))
    D_f, form = float(design.voice_coil.D_f), ("disc", "cone", "dome")[seed % 3]
    d_out, wide = D_f * any_of(1.3, 4), any_of(3e-3, 20e-3)
    h_c = {"disc": 0.0, "cone": d_out * any_of(0.02, 1), "dome": d_out * any_of(0.02, 0.45)}[form]
    part = replace(design.diaphragm, sheet=sheet, form=form, d_in=0.0 if seed % 2 else D_f, d_out=d_out, h_c=h_c)
    ring = replace(design.surround, sheet=rim, d_in=d_out, d_out=d_out + 2 * wide, h_r=wide * any_of(0.05, 0.5),
                   form=("roll", "flat", "pleats")[seed // 2 % 3], n_pleat=1 + seed % 5)  # fmt: skip
    back = replace(BACK, V_back=any_of(1e-6, 5e-3), n_taped=seed % 5) if seed % 4 == 1 else None
    box = replace(BOX, V_box=any_of(1e-4, 0.3))
    port = Port(n_port=1 + seed % 3, d_port=any_of(5e-3, 0.15), l_port=any_of(1e-3, 0.4), Q_leak=any_of(1, 100))
    put = ({"box": box}, {"box": box, "port": port}, {"baffle": Baffle(W_baffle=0.3, H_baffle=any_of(0.3, 3))}, {})
    others = replace(brief, box=None, baffle=None, port=None, R_series=any_of(0.1, 1e3))
    return replace(design, diaphragm=part, surround=ring, back=back, cap=None), replace(others, **put[seed % 4])


@pytest.mark.parametrize("seed", range(12))
def test_what_nobody_would_build_is_heard_too(open_day, seed) -> None:
    """Kind of truth: balance. No division by nought, nothing that is not a number: a driver of any size, anywhere."""
    _, _, _, Z_b, done = open_day
    design, brief = silly(open_day.design, open_day.brief, seed)
    R, T_room = float(R_source(brief)), float(brief.T_room)
    with np.errstate(all="raise", under="ignore"):
        moving = move(design, done.voice_winding, T_room)
        hung = moving.Mms, moving.Kms, moving.Rms, moving.Sd, moving.a
        driver = drive(done.driver.Re, done.motor.Bl, *hung, T_room, Z_b)
        odd = replace(done, moving=moving, driver=driver)
        lodging = Lodging.of(brief, design.back)
        way = Travel(x_82=None, x_75=1e-3, x_stop=None, x_rub=None, x_lim=1e-3, by="suspension")
        heard_of = told.breakup(design, brief, odd, Z_b, np.geomspace(20, 20e3, 40))
        numbers = [
            *vars(mount(odd, lodging, R, T_room)).values(), heard_of.L_off, heard_of.Z,
            piston_to(design, moving, float(driver.fs), 1.2, 343.0),
            limits.loudest_tones(design, brief, odd, Z_b, way, 1000.0).L_max,
            limits.load(design, brief, odd, Z_b).Z_min,
            limits.one_tone(100.0, R, design, brief, odd, Z_b, way).L_tone,
            *(place.found.f_10 for place in places.places(design, brief, odd)),
        ]  # fmt: skip
    for each in numbers:
        assert np.all(np.isfinite(np.asarray(each, float))), each
