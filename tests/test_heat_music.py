"""The voice coil under music in the study of heat: mean, hottest moment, what it bears; each found in another way."""

from __future__ import annotations

import wave
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from handwound import Job
from handwound.errors import FileError
from handwound.heat import music, study
from handwound.heat.driven import Driven
from handwound.physics.heat.sources import Played, Together
from handwound.sheet import heat as sheet
from tests.test_heat_study import DAY, Studied, studied


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("music")


@pytest.fixture(scope="module")
def wound(jobs: Path) -> Studied:
    """The open-day driver: a pot with a field coil."""
    return studied(jobs / "open-day")


@pytest.fixture(scope="module")
def repaired(jobs: Path) -> Studied:
    """The repair-pair driver: a ring magnet and no field coil."""
    return studied(jobs / "repair-pair")


def loud(build: Driven, P_rel: list[float], t_b: list[float]) -> Driven:
    """The same driver under a programme told in stretches."""
    programme = replace(build.programme, t_b=np.array(t_b), P_rel=np.array(P_rel))
    mean = float(np.diff(t_b) @ np.array(P_rel)) / t_b[-1]
    before = float(build.programme.P_rel[0])
    return replace(build, programme=programme, music=replace(build.music, P_cold=build.music.P_cold * mean / before))


def test_the_hottest_moment_of_a_file(repaired: Studied) -> None:
    """Second method: the full network followed in time through one round after the other, of 10 s loud and 30 s not."""
    build, _ = repaired
    share = float(build.programme.P_rel[0])
    played = loud(build, [4 * share, 0.2 * share], [0.0, 10.0, 40.0])
    T = played.end()
    found = float(np.max(music.hottest(played, T)[list(played.music.nodes)]))
    network, at = played.idle.model.network, T
    P = build.music.P_cold
    for _ in range(8):
        hottest = 0.0
        for k, lasts in ((4.0, 10.0), (0.2, 30.0)):
            source = replace(build.music, P_cold=k * P)
            at = network.run(np.array([0.0, lasts]), at, Together([source])).T[:, -1]
            hottest = max(hottest, float(np.max(at[list(played.music.nodes)])))
    mean = float(np.max(T[list(played.music.nodes)]))
    assert found - mean > 3
    assert found - mean == pytest.approx(hottest - mean, rel=0.05)


def test_steady_blocks_are_no_hotter_than_their_mean(repaired: Studied) -> None:
    """Limit: a file that is as loud always has no hottest moment."""
    build, found = repaired
    share = float(build.programme.P_rel[0])
    played = loud(build, [share] * 4, [0.0, 0.25, 0.5, 0.75, 0.9])
    T = played.end()
    assert np.max(np.abs(music.hottest(played, T) - T)) < 1e-6
    assert all(each.T_pk is None for each in found.voice.music)


def test_both_ways_tell_the_same_of_the_music_of_the_brief(repaired: Studied) -> None:
    """Second way: what the prediction and the study say of one level; magnets that music warms count in both."""
    build, found = repaired
    there = next(each for each in found.voice.music if each.level == build.programme.level)
    rating = build.done.rating
    assert rating is not None
    for name in ("U_prog", "P_prog", "T_vc", "dL_hot"):
        assert getattr(there, name) == pytest.approx(float(getattr(rating, name)), rel=1e-4)
    cold = 20 * np.log10(float(build.music.R_T(build.end())) / float(build.done.voice_winding.R_T))
    assert float(there.dL_hot) > cold + 0.01


def test_half_the_watts_for_three_decibels_less(repaired: Studied) -> None:
    """Closed form: 3.01 dB are a factor of two in heat, while the coil hardly warms."""
    quiet = {float(each.level): each for each in repaired[1].voice.music}
    assert quiet[-6.0].P_prog / quiet[-12.0].P_prog == pytest.approx(10**0.6, rel=0.01)
    assert [each.T_vc for each in repaired[1].voice.music] == sorted(
        (each.T_vc for each in repaired[1].voice.music), reverse=True
    )


@pytest.mark.parametrize("like", ["wound", "repaired"])
def test_volts_that_the_voice_coil_bears(like: str, request: pytest.FixtureRequest) -> None:
    """Second way: a programme of these volts, in the whole network, brings the weakest part near to what it bears.

    A coil that grows hot takes less of the same volts; its hottest piece takes more than its share.
    """
    build, found = request.getfixturevalue(like)
    ever = next(each for each in found.voice.bears if each.name == "for good")
    wound = build.done.voice_winding
    driven: Played = replace(build.music, P_cold=build.programme.heat_share * ever.U_prog**2 / wound.R_T)
    T = replace(build, music=driven).end()
    weakest, idle = found.voice.parts[0].T_max, float(np.max(build.idle.T[list(driven.nodes)]))
    share = (float(np.max(T[list(driven.nodes)])) - idle) / (weakest - idle)
    assert 0.9 < share < 1.05
    assert ever.P_nom == pytest.approx(ever.U_prog**2 / float(build.brief.Z_rated))
    assert [each.P_prog for each in found.voice.bears] == sorted(each.P_prog for each in found.voice.bears)


def test_a_sound_file_is_played(repaired: Studied, jobs: Path, tmp_path: Path) -> None:
    """Second way: a file of noise with bursts is as hot on the mean as its own r.m.s. voltage, and hotter in them."""
    f_sample, rng = 16000, np.random.default_rng(4)
    u = rng.uniform(-1, 1, 24 * f_sample) * np.where(np.arange(24 * f_sample) % (12 * f_sample) < 4 * f_sample, 1, 0.1)
    with wave.open(str(tmp_path / "bursts.wav"), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(f_sample)
        file.writeframes((32000 * u).astype("<i2").tobytes())
    heard = Job(jobs / "repair-pair").heat(wav=tmp_path / "bursts.wav")
    found = heard.voice
    assert found.bears[0].P_prog == pytest.approx(repaired[1].voice.bears[0].P_prog)  # heat is heat
    assert found.programme == "bursts"
    loudest = found.music[0]
    U_pk = (2 * 8.0 * 4.0) ** 0.5  # 8 W on 4 Ω, as its stock says
    U = U_pk * float(np.sqrt(np.mean(u**2))) / float(np.max(np.abs(u)))
    assert loudest.U_prog == pytest.approx(U, rel=0.02)
    assert loudest.T_pk is not None
    assert loudest.dL_pk is not None
    assert loudest.T_pk > loudest.T_vc + 1
    assert loudest.dL_pk > loudest.dL_hot
    assert [each.level for each in found.music] == [0.0, -3.0, -6.0, -12.0]
    assert "Too hot" not in sheet.tables(heard)[2].note
    with pytest.raises(FileError):
        Job(jobs / "repair-pair").heat(wav=tmp_path / "none.wav")


def test_music_that_is_too_loud_is_said(repaired: Studied) -> None:
    """Sense: ten times the amplifier's watts are more than the glue bears; the note names the quietest such level."""
    build, _ = repaired
    amplifier = replace(build.brief.amplifier, P_max=10 * build.brief.amplifier.P_max)
    found = study(build.design, replace(build.brief, amplifier=amplifier), DAY)
    over = [each.level for each in found.voice.music if each.T_vc > found.voice.parts[0].T_max]
    assert over
    assert len(over) < len(found.voice.music)
    note = next(table.note for table in sheet.tables(found) if table.title == "Voice coil with music")
    assert f"Too hot for the glue with peaks at {over[-1]:.0f} dB and above" in note


def test_a_file_without_a_hottest_moment_is_said_to_be_too_short(repaired: Studied) -> None:
    """Sense: the usual programme is as loud always; a sound file of one block only looks so."""
    _, found = repaired
    click = replace(found, voice=replace(found.voice, programme="click"))
    assert ["too short" in sheet.tables(each)[2].note for each in (found, click)] == [False, True]


def test_what_the_amplifier_cannot_give_is_marked(repaired: Studied) -> None:
    """By hand: 8 W on 4 Ω are 8 V at the peak, 2 V of a programme with a crest factor of 12 dB."""
    _, found = repaired
    most = (2 * 8.0 * 4.0) ** 0.5 / 10 ** (float(found.voice.crest) / 20)
    table = next(each for each in sheet.tables(found) if each.title == "What the voice coil bears")
    assert f"at most {most:.2g} V" in table.note
    for each, cells in zip(found.voice.bears, table.rows[1:], strict=True):
        assert bool(cells[-1]) is (float(each.U_prog) > most)
