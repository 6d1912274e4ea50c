"""Rankings, predictions and studies as plain records for JSON: each number with its unit and words."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, fields
from math import isfinite
from typing import TYPE_CHECKING, Any

from handwound.faces import build_record
from handwound.materials.advice import advice
from handwound.parts.design import Brief, Design, Stock
from handwound.parts.heat_study import HeatStudy
from handwound.parts.part import Part
from handwound.parts.prediction import Band, Prediction, Weight
from handwound.parts.ranking import Candidate, Choice, Ranking
from handwound.parts.sound_study import SoundStudy
from handwound.parts.study import MotorStudy
from handwound.quantities import quantities
from handwound.sheet import heat as heat_sheet
from handwound.sheet import sound_study as sound_sheet
from handwound.sheet.cautions import Caution, cautions
from handwound.sheet.heat_limits import limits, weakest

if TYPE_CHECKING:
    from handwound.parts.prediction import Array, Layer

CURVES = ("x", "Bl_x", "NI", "Bl_NI")
RESPONSE = ("f", "Z", "L_p", "L_lo", "L_hi", "phase", "t_group", "x_f")


def text(record: dict[str, Any]) -> str:
    """The record as JSON text; a number that is not finite would be a fault of ours and is refused."""
    return json.dumps(record, ensure_ascii=False, indent=1, allow_nan=False)


def number(name: str, value: float | None) -> dict[str, Any]:
    """One number with its unit and its words; ``name`` is "stage.quantity"."""
    return {"value": value, **_meaning(name.rpartition(".")[2])}


def banded(name: str, band: Band) -> dict[str, Any]:
    """The same with its band."""
    return band._asdict() | _meaning(name.rpartition(".")[2])


def curve(name: str, values: Array) -> dict[str, Any]:
    """A row of numbers with their unit and their words; complex ones as their real and imaginary parts."""
    return {"values": _bare(list(values)), **_meaning(name)}


def _meaning(name: str) -> dict[str, str]:
    quantity = quantities()[name]
    return {"unit": quantity.unit, "words": quantity.words}


def prediction(design: Design, brief: Brief, found: Prediction, stock: Stock | None = None) -> dict[str, Any]:
    """Everything a prediction holds, what heat may spoil, which part of the voice coil gives way first, what hurts; and
    how it is built, each figure of the sheet among it."""
    curves, response = found.curves, found.response
    return {
        "numbers": {name: banded(name, band) for name, band in found.bands.items()},
        "weights": {name: [_weight(each) for each in heavy] for name, heavy in found.weights.items()},
        "limit": found.excitation.limit if found.excitation else None,
        "field_ladder": [_rung(layer) for layer in found.field_ladder],
        "voice_ladder": [_rung(layer) for layer in found.voice_ladder],
        **{name: [_part(each) for each in of] for name, of in (
            ("reels", found.reels), ("iron", curves.iron), ("magnets", curves.magnets), ("held", curves.held),
        )},
        "rub": _part(found.rub) if found.rub else None,
        "warming": _part(found.warming) if found.warming else None,
        "sound": _part(found.sound) if found.sound else None,
        "limits": [_part(each) for each in limits(design, brief, found)],
        "weakest": weakest(design),
        "cautions": _care(cautions(design, brief, found)),
        "build": build_record.build(design, brief, found, stock),
        "curves": {name: curve(name, getattr(curves, name)) for name in CURVES},
        "response": {name: curve(name, getattr(response, name)) for name in RESPONSE},
    }  # fmt: skip


def _weight(weight: Weight) -> dict[str, Any]:
    """One input that makes a result wide, and how to know it better."""
    return _part(weight) | {"better": advice(weight.quantity).better}


def motor(found: MotorStudy) -> dict[str, Any]:
    """Everything a study of the motor holds; a value that is not known, or endless, is null."""
    return _part(found)


def heat(found: HeatStudy) -> dict[str, Any]:
    """Everything a study of the heat holds, and what may hurt; what does not happen, or has no field coil, is null."""
    return _part(found) | {"cautions": _care(heat_sheet.cautions(found))}


def sound(found: SoundStudy) -> dict[str, Any]:
    """Everything a study of the sound holds, the bands of the prediction, and what may hurt."""
    bands = {name: banded(name, band) for name, band in found.bands.items()}
    return _part(found) | {"bands": bands, "cautions": _care(sound_sheet.cautions(found))}


def _care(found: Iterable[Caution]) -> list[dict[str, str | bool]]:
    return [asdict(each) for each in found]


def _part(part: Part) -> dict[str, Any]:
    return {item.name: _told(item.name, getattr(part, item.name)) for item in fields(part) if item.name != "spread"}


def _told(name: str, value: Any) -> Any:
    """A part as its fields, a quantity with its unit and words, all else as it is."""
    if isinstance(value, Part):
        return _part(value)
    if name in quantities():
        rows = isinstance(value, tuple) or getattr(value, "ndim", 0) > 0
        return curve(name, value) if rows else number(name, _bare(value))
    return [_told("", each) for each in value] if isinstance(value, tuple) else value


def _bare(value: Any) -> Any:
    """Plain numbers; a complex one as its real and imaginary part."""
    if isinstance(value, list):
        return [_bare(each) for each in value]
    if hasattr(value, "tolist"):
        return _bare(value.tolist())
    if isinstance(value, complex):
        return [value.real, value.imag]
    return None if isinstance(value, float) and not isfinite(value) else value


def ranking(found: Ranking) -> dict[str, Any]:
    """Everything a ranking holds."""
    return {
        "tried": found.tried,
        "limits": [{"name": s.name, "words": s.words, "came": s.came, "passed": s.passed} for s in found.sieves],
        "candidates": [_candidate(each) for each in found.candidates],
        "nearest": _candidate(found.nearest) if found.nearest else None,
        "missed": list(found.missed),
    }


def _candidate(each: Candidate) -> dict[str, Any]:
    return {
        "field_coil": _choice(each.field_coil) if each.field_coil else None,
        "voice_coil": _choice(each.voice_coil),
        "numbers": {name: number(name, value) for name, value in each.numbers.items()},
        "why": each.why,
    }


def _choice(each: Choice) -> dict[str, str | int]:
    return {"wire": each.wire, "n_l": each.n_l}


def _rung(layer: Layer) -> dict[str, Any]:
    record = {name: told for name, told in _part(layer).items() if name != "R_T_band"}
    return {**record, "R_T": banded("R_T", layer.R_T_band)}
