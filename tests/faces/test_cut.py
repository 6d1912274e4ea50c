"""Outlines for machines, read back by programs of others: ezdxf, svgelements, and the W3C's own grammar of SVG 1.1."""

from __future__ import annotations

import math
import os
from dataclasses import replace
from io import StringIO
from pathlib import Path

import ezdxf
import pytest
from ezdxf.entities import DXFGraphic, LWPolyline
from ezdxf.math import Vec2
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from svgelements import SVG, Shape
from svgelements import Path as SvgPath

from handwound.faces.cut.dxf import dxf_bytes
from handwound.faces.cut.svg import svg_bytes
from handwound.parts.moving import Cap, Ribs, Spider
from handwound.sheet.template.outline import Template
from handwound.sheet.template.shape import area, is_circle, points
from handwound.sheet.template.templates import templates
from tests.sheet import demo
from tests.sheet.demo import CARD, FOAM, MM

DTD = Path("/usr/share/xml/w3c-sgml-lib/schema/dtd/REC-SVG11-20110816/svg11.dtd")
PX = 96 / 25.4
"""The parser's pixels in a millimetre."""


def every() -> tuple[Template, ...]:
    """Templates of all kinds: arms, a dome with ribs, a roll, a cap."""
    design, brief, prediction = demo.job()
    ribs = Ribs(sheet=CARD, n_rib=4, h_rib=4 * MM, d_in=30 * MM, d_out=80 * MM)
    dome = replace(design.diaphragm, form="dome", d_in=0.0, h_c=14 * MM, ribs=ribs)
    arms = Spider(form="arms", sheet=FOAM, n_arm=3, l_arm=25 * MM, w_arm=6 * MM)
    roll = replace(design.surround, form="roll", h_r=4 * MM)
    other = replace(design, diaphragm=dome, spider=arms, surround=roll, cap=Cap(form="disc", sheet=CARD, d_out=30 * MM))
    cones = templates(design, brief, prediction)
    return (*(each for each in templates(other, brief, prediction) if each.key != "cone"),
            *(each for each in cones if each.key == "cone"))  # fmt: skip


EVERY = every()
KEYS = [each.key for each in EVERY]
JOB = "open-day"


def walked(read: DXFGraphic) -> list[Vec2]:
    """The points of a cut as ezdxf sees it: its lines, and its arcs finely divided. [mm]"""
    found = [Vec2(read.get_points("xy")[0])] if isinstance(read, LWPolyline) else []
    for piece in read.virtual_entities() if isinstance(read, LWPolyline) else [read]:
        if piece.dxftype() == "LINE":
            at = [Vec2(piece.dxf.start), Vec2(piece.dxf.end)]
        else:
            at = [Vec2(each) for each in piece.flattening(1e-6 * piece.dxf.radius)]
        # an arc of a DXF runs to the left, whichever way the polyline goes through it
        back = found and at[-1].distance(found[-1]) < at[0].distance(found[-1])
        found += reversed(at) if back else at
    return found


@pytest.mark.parametrize("template", EVERY, ids=KEYS)
def test_the_dxf_passes_the_auditor_and_keeps_its_sizes(template, tmp_path) -> None:
    path = tmp_path / "one.dxf"
    path.write_bytes(dxf_bytes(template, JOB))
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    assert document.dxfversion == "AC1024" and document.units == ezdxf.units.MM
    space = document.modelspace()
    assert {each.dxf.layer for each in space} <= {"CUT", "FOLD", "MARK"}
    assert len(space.query("CIRCLE")) == sum(is_circle(line) for line in template.lines)
    assert len(space.query("TEXT")) == len(template.words) + 1  # the name of the job
    cut = [each for each in space.query("LWPOLYLINE CIRCLE") if each.dxf.layer == "CUT"]
    ours = [line for line in template.lines if line.role == "cut"]
    for line, read in zip(sorted(ours, key=is_circle), sorted(cut, key=lambda each: each.dxftype() == "CIRCLE"),
                          strict=True):  # fmt: skip
        assert isinstance(read, LWPolyline) == (not is_circle(line))
        at = walked(read)
        shoelace = abs(sum(a.x * b.y - b.x * a.y for a, b in zip(at, [*at[1:], at[0]], strict=True)) / 2)
        assert shoelace == pytest.approx(area(line) * 1e6, rel=1e-5)


@pytest.mark.parametrize("template", EVERY, ids=KEYS)
def test_the_svg_keeps_its_sizes(template) -> None:
    root = etree.fromstring(svg_bytes(template, JOB))
    width, height = root.get("width"), root.get("height")
    assert root.get("viewBox") == f"0 0 {width[:-2]} {height[:-2]}" and width.endswith("mm") and height.endswith("mm")
    read = [
        each for each in SVG.parse(StringIO(svg_bytes(template, JOB).decode())).elements() if isinstance(each, Shape)
    ]
    ordered = [line for role in ("cut", "fold", "mark") for line in template.lines if line.role == role]
    for line, shape in zip(ordered, read, strict=True):
        at = points(line, 1e-7)
        at = [*at, at[0]] if line.closed else at
        way = sum(math.dist(a, b) for a, b in zip(at, at[1:], strict=False)) * 1e3
        assert SvgPath(shape).length() / PX == pytest.approx(way, rel=1e-4, abs=2e-3)


@pytest.mark.skipif(not DTD.exists() and not os.environ.get("CI"), reason="the W3C's grammar is not installed")
@pytest.mark.parametrize("template", EVERY, ids=KEYS)
def test_the_svg_is_valid(template) -> None:
    grammar = etree.DTD(str(DTD))
    root = etree.fromstring(svg_bytes(template, JOB))
    assert grammar.validate(root), grammar.error_log
    root.find("{http://www.w3.org/2000/svg}g").set("data-role", "cut")
    assert not grammar.validate(root)  # it would see what does not belong


@given(st.floats(1.0, 400.0), st.floats(0.0, 0.9), st.floats(1.0, 400.0))
def test_any_cone_comes_back_as_large(d_out, share, h_c) -> None:
    from handwound.sheet.template.cone import developed, sector

    template = sector(developed(share * d_out * MM, d_out * MM, h_c * MM), 0.0, "card")
    (read,) = ezdxf.read(StringIO(dxf_bytes(template, JOB).decode())).modelspace().query('*[layer=="CUT"]')
    # closed form: both rims keep their length, pi d, and both ends that of the side
    side = math.hypot((1 - share) * d_out / 2, h_c)
    at = walked(read)
    way = sum(a.distance(b) for a, b in zip(at, [*at[1:], at[0]], strict=True))
    assert way == pytest.approx(math.pi * d_out * (1 + share) + 2 * side, rel=1e-4)
