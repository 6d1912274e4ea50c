"""The words about made up motors of every kind. Kind of truth: each was written out and judged by reading."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from handwound.parts import study as s
from handwound.sheet.motor import Table, tables

MM, NAN = 1e-3, float("nan")
X = np.linspace(-8, 8, 9) * MM
F = np.array([100.0, 1000.0])


def alternating(**more: Any) -> s.Alternating:
    made = s.Alternating(
        f=F, Z_open=np.array([0.1 + 1j, 2 + 8j]), Z_closed=np.array([0.2 + 0.8j, 1 + 6j]),
        x=np.array([-4, 0, 4]) * MM, L_x=np.array([3e-3, 2e-3, 1e-3]), dL_dx=-0.24, L_0=0.4e-3,
        L_step=(0.5e-3, 1e-9), R_step=(3.0, 0.1), e_steps=0.012, Z_1k=6.4, n_L=0.8, e_power=0.1,
        L_soft=np.array([0.7e-3, 0.6e-3]),
    )  # fmt: skip
    return replace(made, **more)


def switching(**more: Any) -> s.Switching:
    made = s.Switching(
        t_I=(0.1, 0.27), t_psi=(0.09, 0.25), tau_e=0.05, W_off=0.36, t_off=0.2, I_diode=0.66, V_reverse=50.0,
        V_max=12.0, H_c=200.0, Bl_left=0.1,
    )  # fmt: skip
    return replace(made, **more)


def hum(**more: Any) -> s.Hum:
    tone = s.Tone(f=100.0, V_ripple=0.02, I_ripple=0.07e-3, U_hum=0.7e-3, I_hum=0.1e-3, L_hum=28.0)
    made = s.Hum(
        dV=0.1,
        known=True,
        tones=(tone,),
        L_A=28.0,
        L_want=20.0,
        dV_least=0.04,
        C_s=2.2e-3,
        N_bucking=52,
        dL_bucking=-40.0,
    )
    return replace(made, **more)


def motor(**more: Any) -> s.MotorStudy:
    """A pot with a field coil, nothing in it being remarkable."""
    made = s.MotorStudy(
        travel=s.Travel(
            x=X, Bl_x=np.full(9, 5.0), Bl_max=5.1, x_max=0.0, x_down=5 * MM, x_up=3.6 * MM, x_82=3.6 * MM, A_Bl=-0.08,
            x_most=-1.6 * MM, x_even=0.2 * MM,
        ),
        gap=s.Gap(z=np.array([0, 6, 12]) * MM, B_r=np.array([0.2, 0.7, 0.1]), phi_g=0.35e-3, phi=0.75e-3, leak=0.54),
        iron=(s.Filled(name="pole", phi=0.75e-3, B_s=1.53, word="knee"),),
        magnets=(),
        worths=(s.Worth(name="without pole", dL=-33.0), s.Worth(name="pole 1 mm wider", dL=0.01)),
        dL_legs=None,
        pulls=(pulled("pole on back", 420.0),),
        sideways=None,
        lift_test=None,
        switching=switching(),
        alternating=alternating(),
        hum=hum(),
    )  # fmt: skip
    return replace(made, **more)


def pulled(name: str, F_hold: float, *F_lift: float) -> s.Pull:
    return s.Pull(name=name, F_hold=F_hold, lift=np.linspace(0, 5 * MM, len(F_lift)), F_lift=np.array(F_lift))


def state(name: str, dH: float, T_knee: float, word: str, grade: str = "Y30") -> s.MagnetState:
    return s.MagnetState(name=name, grade=grade, T=20.0, B_m=0.26, H_m=-90e3, dH=dH, T_knee=T_knee, word=word)


def table(found: s.MotorStudy, title: str) -> Table:
    return next(each for each in tables(found) if each.title.startswith(title))


def cell(found: s.MotorStudy, title: str, row: str) -> str:
    return next(each[1] for each in table(found, title).rows if each[0].startswith(row))


@pytest.mark.parametrize(
    ("x", "said"),
    [
        (-1.6 * MM, "1.6 mm further in"),
        (0.24 * MM, "0.24 mm further out"),
        (0.03 * MM, "where it is"),
        (NAN, "nowhere in reach"),
    ],
)
def test_where_the_coil_would_rest_better(x: float, said: str) -> None:
    found = motor(travel=replace(motor().travel, x_even=x, x_up=NAN))
    assert cell(found, "Force factor", "most even") == f"with the coil {said}"
    assert cell(found, "Force factor", "stroke outward") == "beyond what was computed"
    assert cell(found, "Force factor", "stroke inward") == "5 mm"


def test_what_each_thing_is_worth() -> None:
    found = motor(worths=(*motor().worths, s.Worth(name="without magnet", dL=-300.0)), dL_legs=-0.2)
    assert table(found, "What each").rows == (("without pole", "-33.00 dB"), ("without magnet", "-60 dB or less"))
    assert "same currents in both coils" in table(found, "What each").note
    assert "would give -0.20 dB beside this" in table(found, "What each").note
    assert table(found, "Force factor").note.endswith("All tables are of the cold motor.")
    alone = motor(switching=None, hum=None)
    assert "same current in the voice coil" in table(alone, "What each").note
    assert "cold" not in table(alone, "Force factor").note
    assert "legs" not in table(alone, "What each").note


def test_a_motor_without_steel_has_no_table_of_it() -> None:
    assert "Steel" not in [each.title for each in tables(motor(iron=()))]


def test_alike_magnets_are_told_once() -> None:
    discs = [state(f"disc {k}", 7e5, 140.0, "hot") for k in (1, 2, 3)]
    note = table(motor(magnets=(*discs, state("ring", 60e3, -51.0, "cold"))), "Magnets").note
    assert note == (
        "Of each its worst place counts. In disc 1, disc 2 and disc 3 strength would be lost for good when as hot as "
        "140 °C, which is far off. In ring strength would be lost for good when as cold as -51 °C, which is far off."
    )


@pytest.mark.parametrize(
    ("magnet", "said"),
    [
        (state("m", 9e3, 12.0, "cold"), "when as cold as 12 °C. Take care: that can happen."),
        (state("m", 9e5, 70.0, "hot"), "when as hot as 70 °C. Take care: that can happen."),
        (state("m", -4e4, 90.0, "cold"), "In m strength is lost for good at 20 °C; use a harder grade"),
        (state("m", 9e5, NAN, "hot"), "In m no strength is ever lost."),
    ],
)
def test_how_near_the_knee_is(magnet: s.MagnetState, said: str) -> None:
    assert said in table(motor(magnets=(magnet,)), "Magnets").note


def test_what_is_pushed_off_is_told() -> None:
    found = motor(pulls=(pulled("second under back", -20.0, -20.0, -3.0), pulled("top on ring", 90.0, 90.0, 8.0)))
    assert cell(found, "Pulls", "second") == "20 N off"
    assert "must be held until its glue is hard" in table(found, "Pulls").note
    snaps = table(found, "Pull while")
    assert snaps.rows == (
        ("distance", "0 mm", "5 mm"),
        ("second under back", "20 N off", "3 N off"),
        ("top on ring", "90 N", "8 N"),
    )
    assert snaps.note.startswith("Keep fingers out")


def test_washers_that_push_a_little_are_not_worth_a_warning() -> None:
    found = motor(pulls=(pulled("back 2 on back 1", -0.05),))
    assert cell(found, "Pulls", "back 2") == "0.05 N off"
    assert "glue" not in table(found, "Pulls").note
    assert "Pull while a part is put on" not in [each.title for each in tables(found)]


@pytest.mark.parametrize(("I_f", "said"), [(0.04, "0.04 A"), (None, "more than there is"), (0.0, "none: the magnet")])
def test_the_current_that_lifts(I_f: float | None, said: str) -> None:
    lift = s.Lift(d_out=40 * MM, t=3 * MM, z=1 * MM, m=0.0296, F_hold=88.0, I_f=I_f)
    assert cell(motor(lift_test=lift), "Pulls", "the same: current that just lifts its 29.6 g").startswith(said)


def test_switching_in_milliseconds() -> None:
    assert cell(motor(), "Switching", "current at 63") == "100 ms and 270 ms"
    assert cell(motor(), "Switching", "Bl that steel") == "0.1 T·m"
    assert "licensed hands" not in table(motor(), "Switching").note


def test_a_dangerous_voltage_is_told_and_a_magnet_keeps_its_own() -> None:
    found = motor(switching=switching(V_max=200.0, V_reverse=400.0, Bl_left=None))
    assert "At more than 60 V the coil is dangerous to touch" in table(found, "Switching").note
    assert not [row for row in table(found, "Switching").rows if "keeps" in row[0]]
    assert "factor of two" not in table(found, "Switching").note


def test_the_field_coil_has_columns_of_its_own() -> None:
    head, first, *_ = table(motor(), "Voice coil on").rows
    assert head == ("", "R", "L", "R, field coil open", "L, field coil open", "L, harder steel")
    assert first == ("100 Hz", "0.2 Ω", "1.3 mH", "0.1 Ω", "1.6 mH", "0.7 mH")
    head, first, *_ = table(motor(switching=None, hum=None), "Voice coil on").rows
    assert head == ("", "R", "L", "L, harder steel")
    assert first == ("100 Hz", "0.2 Ω", "1.3 mH", "0.7 mH")


def test_the_way_of_the_pull_and_steps_that_count() -> None:
    title = "Inductance over"
    assert cell(motor(), title, "pull inward of 1 A") == "0.12 N"
    assert cell(motor(), title, "slow inductance at rest, field coil open") == "2 mH"
    assert len([row for row in table(motor(), title).rows if row[0].startswith("and in series")]) == 1
    other = motor(alternating=alternating(dL_dx=0.24, e_steps=1e-9), switching=None, hum=None)
    assert cell(other, title, "pull outward of 1 A") == "0.12 N"
    assert cell(other, title, "slow inductance at rest") == "2 mH"
    assert cell(other, title, "worst error of these steps") == "under 0.1 %"


def test_hum_that_is_lost_needs_no_help() -> None:
    note = table(motor(hum=hum(L_A=15.0)), "Hum").note
    assert note.startswith("20 dB(A) or less is lost in a quiet room, as this is. Reckoned")
    assert "licensed hands" in note
    assert "The ripple of the supply is not known" in table(motor(hum=hum(known=False)), "Hum").note


@pytest.mark.parametrize(
    ("C_s", "N", "said"),
    [
        (2.2e-3, 52, "that takes 2200 µF. A hum-bucking coil of 52 turns over the field coil, against the voice coil"),
        (
            45e-3,
            -52,
            "a regulated supply does. A hum-bucking coil of 52 turns over the field coil, the same way as the",
        ),
    ],
)
def test_hum_that_is_heard_can_be_helped(C_s: float, N: int, said: str) -> None:
    note = table(motor(hum=hum(C_s=C_s, N_bucking=N)), "Hum").note
    assert said in note
    assert "the ripple may be 0.04 V from peak to peak" in note
    assert "takes 40 dB off the lowest tone" in note
