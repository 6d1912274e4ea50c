"""Every figure of the build is remembered: no digit stands on the strips that the record would not hold."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace

import pytest

from handwound import language
from handwound.files.arrangements import arrangements
from handwound.job import Job
from handwound.parts.mounting import Back, Flange
from handwound.parts.moving import Cap, Ribs, Spider
from handwound.sheet.build.operation import Build
from handwound.sheet.build.operations import operations
from handwound.sheet.said import figures
from handwound.sheet.winding import field_ladder, voice_ladder
from tests import examples
from tests.files import usual
from tests.sheet import demo
from tests.sheet.steps import needed

NUMBER = re.compile(r"\d+(?:\.\d+)?")
CODES = {"code", "ladder"}
"""Fields that no person reads."""


def texts(thing: object) -> Iterator[str]:
    """All texts of records within records."""
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, tuple | list):
        for each in thing:
            yield from texts(each)
    elif is_dataclass(thing):
        for item in fields(thing):
            if item.name not in CODES:
                yield from texts(getattr(thing, item.name))


def names(thing: object) -> Iterator[str]:
    """All that a user has named, grades and kinds too, in a design or a brief."""
    if isinstance(thing, tuple):
        for each in thing:
            yield from names(each)
    elif is_dataclass(thing):
        for item in fields(thing):
            value = getattr(thing, item.name)
            if isinstance(value, str):
                yield value
            else:
                yield from names(value)


def sheet(design, brief, made):
    build = Build(design, brief, made)
    ladders = [each for each in (field_ladder(design, brief, made), voice_ladder(design, brief, made)) if each]
    return [*operations(design, brief, made), *ladders, needed(build, None)]


def unknown(text: str, allowed: set[str]) -> list[str]:
    """Numbers of a text that are neither figures nor stand in a message or a name."""
    known = {n for f in figures(text) for shown in (f.text, f.text_low, f.text_high) for n in NUMBER.findall(shown)}
    return [number for number in NUMBER.findall(text) if number not in known | allowed]


def check(design, brief, made, monkeypatch) -> None:
    heard: set[str] = set()

    def listen(message: str) -> str:
        heard.add(message)
        return message

    monkeypatch.setattr("handwound.sheet.said.translated", listen)
    told = list(texts(sheet(design, brief, made)))
    literal = {n for message in heard for n in NUMBER.findall(re.sub(r"{\w+}", "", message))}
    own = {n for name in (*names(design), *names(brief)) for n in NUMBER.findall(name)}
    assert len(told) > 100
    assert {text: left for text in told if (left := unknown(text, literal | own))} == {}


@pytest.mark.parametrize("like", examples.EXAMPLES)
def test_every_number_of_an_example_is_a_figure(like, tmp_path, monkeypatch) -> None:
    """Kind of truth: by reading. What is no figure is a letter of a message, or was named by who wrote the job."""
    built = examples.built(tmp_path / like, like)
    check(built.design, built.brief, Job(tmp_path / like).predict(), monkeypatch)


def full(**changed):
    design, brief, made = demo.job()
    ribs = Ribs(sheet=demo.CARD, n_rib=6, h_rib=4e-3, d_in=30e-3, d_out=90e-3)
    return replace(
        design, diaphragm=replace(design.diaphragm, ribs=ribs),
        cap=Cap(form="dome", sheet=demo.CARD, d_out=0.04, h_c=7e-3),
        back=Back(V_back=1e-4, n_vent=6, d_vent=11e-3, t_vent=1e-3, n_taped=2),
        flange=Flange(n_screw=7, d_screw=4.5e-3, D_screw=0.126),
        spider=Spider(form="arms", sheet=demo.CARD, n_arm=3, l_arm=31e-3, w_arm=5e-3, z_sp=6e-3), **changed,
    ), brief, made  # fmt: skip


@pytest.mark.parametrize("n_sec", [1, 3, 4])
@pytest.mark.parametrize("form", ["cone", "disc"])
def test_every_number_of_other_builds_is_a_figure(n_sec, form, monkeypatch) -> None:
    design, brief, made = full()
    design = replace(design, field_coil=replace(design.field_coil, n_sec=n_sec, connection="parallel"))
    if form == "disc":
        design = replace(design, diaphragm=replace(design.diaphragm, form="disc", d_in=0.0, h_c=0.0))
    check(design, brief, made, monkeypatch)


def test_another_language_reaches_all_of_it() -> None:
    """A language that marks each message: what has words and is no name has the mark."""

    class Marked(dict):
        def get(self, message, default=None):
            return f"¤{message}"

    design, brief, made = demo.job()
    own = {*names(design), *names(brief)}
    with language.speaking(language.Language("xx", ",", Marked())):
        told = [text for text in texts(sheet(design, brief, made)) if re.search(r"[a-z]{4}", text)]
    assert len(told) > 100 and [text for text in told if "¤" not in text and text not in own] == []


@pytest.mark.parametrize("kind", arrangements())
def test_every_number_of_a_usual_motor_is_a_figure(kind, tmp_path, monkeypatch) -> None:
    """Spools, pots, straps, magnets and bolts of the how-to page, with the coils of the demo."""
    read, by_demo, brief = usual.read(usual.write(tmp_path, kind)), demo.design(), demo.brief()
    coil = read.field_coil and replace(read.field_coil, wire=by_demo.field_coil.wire, n_l=4)
    voice = replace(by_demo.voice_coil, x_0=read.voice_coil.x_0)
    design = replace(read, voice_coil=voice, field_coil=coil)
    made = demo.prediction(replace(by_demo, field_coil=coil or by_demo.field_coil), brief)
    if coil is None:
        brief = replace(brief, supply=None, T_touch=None)
        made = replace(made, field_winding=None, excitation=None, heat=None, field_ladder=(), reels=made.reels[1:])
    check(design, brief, made, monkeypatch)
