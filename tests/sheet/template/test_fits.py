"""Pieces and their sheets: what cannot be cut is refused with its operation."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handwound.parts.design import Brief, Design
from handwound.parts.mounting import Back
from handwound.parts.moving import Ribs
from handwound.parts.prediction import Prediction
from handwound.sheet.template.fits import faults
from handwound.sheet.template.templates import templates
from tests.sheet import demo
from tests.sheet.demo import CARD, MM


def found(width: float, length: float, count: int = 1, **changes: object) -> list[str]:
    design, brief, prediction = job(width, length, count, **changes)
    return [str(fault) for fault in faults(templates(design, brief, prediction), design)]


def job(width: float, length: float, count: int, **changes: object) -> tuple[Design, Brief, Prediction]:
    design, brief, prediction = demo.job()
    sheet = replace(CARD, width=width * MM, length=length * MM, count=count)
    cone, coil = replace(design.diaphragm, sheet=sheet), replace(design.voice_coil, former=sheet)
    return replace(design, diaphragm=cone, voice_coil=coil, **changes), brief, prediction


def test_what_fits_is_not_refused() -> None:
    assert found(210.0, 297.0) == []


def test_sheets_of_which_no_size_is_known_refuse_nothing() -> None:
    design, brief, prediction = demo.job(6.0)
    assert faults(templates(design, brief, prediction), design) == []


def test_a_cone_wider_than_its_sheet_names_its_operation() -> None:
    (fault,) = found(80.0, 400.0)
    assert fault.startswith("operation DI, Cone: must be cut from card 160 g/m², 80 × 400 mm; found a piece of")


def test_a_long_strip_may_lie_across() -> None:
    # closed form: 80.9 x 24 mm lies at 45 degrees on a square of (80.9 + 24) / sqrt 2 = 74.2 mm, and on none smaller
    too_large = "operation FO, Former: must be cut from card 160 g/m², "
    assert not any(fault.startswith(too_large) for fault in found(75.0, 75.0))
    assert any(fault.startswith(too_large) for fault in found(73.0, 73.0))


@pytest.mark.parametrize(("count", "refused"), [(1, True), (2, False)])
def test_all_pieces_of_a_sheet_together_need_its_area(count, refused) -> None:
    # closed form: a frustum, a cylinder and 30 strips; each piece lies on the sheet, all of them only on two
    design, brief, prediction = job(114.0, 115.0, count)
    ribs = Ribs(sheet=design.diaphragm.sheet, n_rib=30, h_rib=4 * MM, d_in=30 * MM, d_out=90 * MM)
    design = replace(design, diaphragm=replace(design.diaphragm, ribs=ribs))
    told = [str(each) for each in faults(templates(design, brief, prediction), design)]
    area = math.pi * (51 + 12.95) * math.hypot(38.05, 18) + 80.9 * 24 + 30 * 4 * 30 * math.hypot(1, 18 / 38.05)
    assert (area > 114 * 115 * count) == refused
    assert bool(told) == refused and all("all its pieces together" in each for each in told)


def test_vents_that_do_not_fit_are_refused() -> None:
    back = Back(V_back=1e-3, n_vent=4, d_vent=40 * MM, t_vent=2 * MM)
    (fault,) = found(210.0, 297.0, back=back)
    assert fault.startswith("operation FR, Frame: must be vents between the motor, ⌀68 mm, and the surround, ⌀122 mm")
    assert "4 holes of ⌀40 mm" in fault
    assert found(210.0, 297.0, back=replace(back, d_vent=15 * MM)) == []
    (off,) = found(210.0, 297.0, back=replace(back, d_vent=15 * MM, D_vent=60 * MM))
    assert "on a circle of ⌀60 mm" in off
