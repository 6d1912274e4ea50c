"""What a maker may write behind a key, and the sentence that comes back where it cannot be used."""

from __future__ import annotations

import datetime
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handwound.quantities import MisreadError, Quantity, plain, quantities, read, units

PLAIN = [name for name, quantity in quantities().items() if quantity.unit == "1"]
WHOLE = [name for name in PLAIN if math.floor(quantities()[name].high) >= quantities()[name].low]
"""Those that may be a whole number."""
MANY = 10**5000
ODD = [
    None,
    True,
    [],
    [MANY],
    ("1", 2),
    {"a": MANY},
    MANY,
    -MANY,
    math.nan,
    math.inf,
    -math.inf,
    datetime.date.max,
    b"1",
]
WRITTEN = [
    "",
    "±",
    "nan mm",
    "inf",
    "1e999 mm",
    "9" * 5000,
    "1 ± 1e999 mm",
    "1 ± 1e999 %",
    "0 ± 1e999",
    "1.2.3 m",
    "\n",
]


def inside(quantity: Quantity) -> float:
    """A number between the limits of a quantity."""
    return (quantity.low + quantity.high) / 2


@pytest.mark.parametrize("quantity", quantities().values(), ids=lambda quantity: quantity.name)
def test_every_spelling_of_every_unit_is_read(quantity) -> None:
    """Kind of truth: a round trip; that the scales are right is looked up elsewhere in a general library."""
    value = inside(quantity)
    for unit in [unit for unit in units().values() if unit.si == quantity.unit]:
        written = f"{value / unit.scale!r} {unit.unit}" if unit.unit != "1" else repr(value)
        found = read(quantity.name, written)
        assert found == (pytest.approx(value, rel=1e-12), 0.0)
        half = f"{plain(abs(value) / unit.scale / 8, 17)}{' ' + unit.unit if unit.unit != '1' else ''}"
        assert read(quantity.name, f"{written} ± {half}").spread == pytest.approx(abs(value) / 8, rel=1e-9)


@pytest.mark.parametrize("odd", [*ODD, *WRITTEN], ids=lambda odd: type(odd).__name__)
def test_what_cannot_be_used_earns_a_sentence(odd) -> None:
    """Kind of truth: limit. Nothing else is raised; what is found stays short where it is no text of the maker's."""
    for name in quantities():
        with pytest.raises(MisreadError) as told:
            read(name, odd)
        error = told.value
        assert error.must and error.found and str(error).endswith(".")
        assert isinstance(odd, str) or len(error.found) < 60


@given(st.sampled_from(sorted(quantities())), st.text("0123456789.±+-e /%mKΩ°C1", max_size=14))
def test_a_text_is_read_within_limits_or_refused(name, text) -> None:
    quantity = quantities()[name]
    try:
        found = read(name, text)
    except MisreadError:
        return
    assert quantity.low <= found.value <= quantity.high
    assert 0 <= found.spread < math.inf


@pytest.mark.parametrize("name", PLAIN)
@pytest.mark.parametrize("wrong", [None, "much", "3 kg", "3 furlongs"])
def test_a_plain_number_is_not_asked_for_a_unit(name, wrong) -> None:
    with pytest.raises(MisreadError) as told:
        read(name, wrong)
    assert told.value.must.startswith("a number, such as ")
    example = told.value.must.removeprefix("a number, such as ")
    assert read(name, float(example)) == read(name, example), "the example itself can be used"


@pytest.mark.parametrize("name", [name for name in quantities() if name not in PLAIN])
def test_the_example_with_a_unit_can_be_used(name) -> None:
    with pytest.raises(MisreadError) as told:
        read(name, None)
    must, example, _ = told.value.must.split('"')
    assert must == "a number with a unit, such as "
    assert read(name, example).spread == 0.0


@pytest.mark.parametrize("name", WHOLE)
def test_a_whole_number_and_one_with_a_point_are_the_same(name) -> None:
    value = math.floor(quantities()[name].high)
    found = read(name, value)
    assert found == read(name, float(value))
    assert type(found.value) is float


@pytest.mark.parametrize(
    ("name", "odd", "plain_text"),
    [
        ("t", "50 \u03bcm", "50 µm"),  # the Greek letter, not the sign of micro
        ("t", "50 ± 5 \u03bcm", "50 ± 5 µm"),
        ("Re", "6.1 \u2126", "6.1 Ω"),  # the sign of ohm, not the Greek letter
        ("Re", "6.1 ± 0.1 \u2126", "6.1 ± 0.1 Ω"),
        ("z", "\u22123 mm", "-3 mm"),  # a true minus
        ("T", "\u22125 \u00baC", "-5 °C"),  # the ordinal of a Spanish keyboard
        ("T", "20 \u02daC", "20 °C"),  # a ring above
        ("alpha_20", "0.00393 1/\u212a", "0.00393 1/K"),  # the sign of kelvin
    ],
)
def test_signs_that_look_the_same_are_the_same(name, odd, plain_text) -> None:
    """Kind of truth: Unicode's own names of these signs; a maker sees no difference and is asked for none."""
    assert odd != plain_text
    assert read(name, odd) == read(name, plain_text)


@pytest.mark.parametrize(
    ("name", "written", "value"),
    [
        ("Re", "6.1 Ohm", 6.1),
        ("Re", "6.1 ohms", 6.1),
        ("Re", "6.1 Ohms", 6.1),
        ("R_m", "0.34 ohm/m", 0.34),
        ("Sd", "95 cm2", 0.0095),
        ("Sd", "9500 mm2", 0.0095),
        ("Sd", "0.0095 m2", 0.0095),
        ("Vas", "0.012 m3", 0.012),
        ("rho_A", "160 g/m2", 0.16),
        ("rho_A", "0.16 kg/m2", 0.16),
        ("rho_m", "8890 kg/m3", 8890),
        ("rho_m", "8.89 g/cm3", 8890),
        ("J", "3.5 A/mm2", 3.5e6),
        ("E", "3000 N/mm²", 3e9),
        ("E", "3000 N/mm2", 3e9),
        ("E", "3000 ± 500 N/mm2", 3e9),
    ],
)
def test_plain_spellings(name, written, value) -> None:
    """Kind of truth: closed form. Powers of ten of the SI prefixes; 1 N/mm² is 1 MPa."""
    assert read(name, written).value == pytest.approx(value, rel=1e-12)
