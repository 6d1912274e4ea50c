"""Rankings and predictions as plain records for JSON: names and SI units of the table, bands included."""

from __future__ import annotations

import json
from dataclasses import asdict, fields
from math import isfinite
from typing import TYPE_CHECKING, Any

from handwound.parts.part import Part
from handwound.parts.prediction import Layer, Prediction
from handwound.parts.ranking import Candidate, Choice, Ranking
from handwound.parts.study import MotorStudy
from handwound.quantities import quantities

if TYPE_CHECKING:
    from handwound.parts.prediction import Array


CURVES = {"x": "x", "Bl_x": "Bl", "NI": "NI", "Bl_NI": "Bl"}
"""The arrays of the motor's curves, each with the quantity that it holds."""


def text(record: dict[str, Any]) -> str:
    """The record as JSON text; a number that is not finite would be a fault of ours and is refused."""
    return json.dumps(record, ensure_ascii=False, indent=1, allow_nan=False)


def number(name: str, value: float, low: float | None = None, high: float | None = None) -> dict[str, Any]:
    """One number with its unit and its words; ``name`` is "stage.quantity"."""
    quantity = quantities()[name.rpartition(".")[2]]
    band = {} if low is None else {"low": low, "high": high}
    return {"value": value, **band, "unit": quantity.unit, "words": quantity.words}


def prediction(found: Prediction) -> dict[str, Any]:
    """Everything a prediction holds."""
    curves, response = found.curves, found.response
    return {
        "numbers": {name: number(name, *band) for name, band in found.bands.items()},
        "limit": found.excitation.limit if found.excitation else None,
        "field_ladder": [_rung(layer) for layer in found.field_ladder],
        "voice_ladder": [_rung(layer) for layer in found.voice_ladder],
        "reels": [{"name": reel.name, "l_w": reel.l_w, "l_reel": reel.l_reel} for reel in found.reels],
        "iron": [{"name": state.name, "B_s": state.B_s, "word": state.word} for state in curves.iron],
        "magnets": [_plain(each) for each in curves.magnets],
        "held": [{"name": each.name, "at": each.at, "F_hold": each.F_hold} for each in curves.held],
        "curves": {name: _curve(of, getattr(curves, name)) for name, of in CURVES.items()},
        "response": {name: _curve(name, getattr(response, name)) for name in ("f", "Z", "L_p")},
    }


def _curve(name: str, values: Array) -> dict[str, Any]:
    quantity = quantities()[name]
    return {"values": values.tolist(), "unit": quantity.unit, "words": quantity.words}


def motor(found: MotorStudy) -> dict[str, Any]:
    """Everything a study of the motor holds: names and SI values; what is not known, or endless, is null."""
    plain: dict[str, Any] = _plain(found)
    return plain


def _plain(value: Any) -> Any:
    """A part as names and plain numbers; a complex number as its real and imaginary part."""
    if isinstance(value, Part):
        return {item.name: _plain(getattr(value, item.name)) for item in fields(value) if item.name != "spread"}
    if isinstance(value, (list, tuple)):
        return [_plain(each) for each in value]
    if hasattr(value, "tolist"):
        return _plain(value.tolist())
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
    record = {name: value for name, value in asdict(layer).items() if name not in ("spread", "R_T_band")}
    return {**record, "R_T_low": layer.R_T_band.low, "R_T_high": layer.R_T_band.high}
