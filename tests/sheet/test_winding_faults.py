"""The words about faults of a winding. Kind of truth: each was written out and judged by reading."""

from __future__ import annotations

from dataclasses import replace

from handwound.parts.faults import VoiceFault, WindingFault
from handwound.sheet.winding_faults import HEAD, VOICE_HEAD, note, rows, voice_rows, ways_to_tell

SOUND = WindingFault(
    name="as planned", kind="none", N_net=1520, R_T=16.0, I_f=0.75, NI=1140.0, NI_V=1140.0, NI_I=1140.0, P_f=9.0,
    dL=0.0, L_f=1.5, L_ac=0.36,
)  # fmt: skip
SHORT = replace(
    SOUND, name="3 layers shorted", kind="shorted", N_net=1292, R_T=13.6, I_f=0.88, NI_V=1137.2, NI_I=969.0, P_f=10.6,
    dL=-0.001, L_ac=0.03,
)  # fmt: skip
AGAINST = replace(SOUND, name="one section reversed", kind="reversed", N_net=0, NI=0.0, dL=-120.0, L_ac=None)


def test_a_row_for_each() -> None:
    assert rows((SOUND, SHORT, AGAINST)) == (
        HEAD,
        ("as planned", "16 Ω", "0.75 A", "1140 A", "9 W", "", "360 mH"),
        ("3 layers shorted", "13.6 Ω", "0.88 A", "1140 A", "10.6 W", "+0.00 dB", "30 mH"),
        ("one section reversed", "16 Ω", "0.75 A", "0 A", "9 W", "-60 dB or less", ""),
    )


def test_the_note_shows_both_limits_of_a_short() -> None:
    assert (
        "With 3 layers shorted the ampere-turns are 1137 A at the voltage of the coil as planned and 969 A at its"
        in note((SOUND, SHORT))
    )
    assert "ampere-turns" not in note((SOUND, AGAINST))


def test_only_what_can_be_is_told_apart() -> None:
    assert [line[0] for line in ways_to_tell((SOUND, SHORT, SHORT))] == [
        "Ohms low, current high, much less inductance than the ohms explain"
    ]
    assert "with the supply off" in ways_to_tell((AGAINST,))[0][1]


def test_a_row_for_each_of_the_voice_coil() -> None:
    sound = VoiceFault(
        name="as planned", kind="none", N_net=120, Re=6.7, Bl=4.9, dL=0.0, R_drag=0.0, Z_max=45.3, L_vc=0.98e-3
    )  # fmt: skip
    against = replace(sound, name="one layer reversed", kind="reversed", Bl=1e-4, dL=-90.0, Z_max=6.7, L_vc=None)
    short = replace(sound, name="one layer shorted", kind="shorted", L_vc=9.7e-6)  # a hundredth is 9.8 µH
    assert voice_rows((sound, short))[2][-1] == "hardly any"
    assert voice_rows((sound, replace(short, L_vc=9.9e-6)))[2][-1] == "0.0099 mH"
    assert voice_rows((sound, against)) == (
        VOICE_HEAD,
        ("as planned", "6.7 Ω", "4.9 T·m", "", "45.3 Ω", "0.98 mH"),
        ("one layer reversed", "6.7 Ω", "0.0001 T·m", "-60 dB or less", "6.7 Ω", ""),
    )
