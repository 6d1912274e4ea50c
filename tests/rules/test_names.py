"""One word per quantity: every number of a part and of a physics function stands in the table, in the table's unit."""

from __future__ import annotations

import ast
import dataclasses
import inspect
import re

import pytest

from handwound.quantities import quantities
from tests.rules import house

NUMBERS = {"Num", "Count", "float", "int", "Array", "Phasors", "tuple[float, ...]", "tuple[float, float]"}
ORDER = ["Parameters", "Returns", "Notes", "References", "Examples"]

# Arguments and results of physics functions that are no quantity. Each has its reason; a number needs a good one.
NOT_QUANTITIES = {
    "curve": "a B-H curve, an object",
    "changed": "problems that are a little different, objects",
    "problem": "what the field solver is asked, an object",
    "solution": "what the field solver found, an object",
    "start": "a solution to begin from, an object",
    "fineness": "how fine the grid is, an object",
    "coil": "a rectangle in r-z, an object",
    "coils": "rectangles in r-z, objects",
    "harmonic": "what coils do to alternating current, an object",
    "model": "a compact model of an impedance, an object",
    "connection": "a word: series or parallel",
    "word": "a word for a state",
    "kind": "the name of a response's shape",
    "order": "degree of the solver's elements, a setting",
    "names": "names of rings",
    "piece": "a ring, an object",
    "pieces": "shells, objects",
    "shell": "a body of revolution cut into elements, an object",
    "ribs": "what each element of a shell has of ribs, three quantities in a row",
    "node": "the number of a node of a shell",
    "held": "numbers of nodes of a shell",
    "hinged": "numbers of nodes of a shell",
    "moved": "numbers of nodes of a shell",
    "at": "the number of a node of a shell",
    "lossy": "yes or no",
    "K": "a stiffness matrix over a shell's components",
    "M": "a mass matrix over a shell's components",
    "shapes": "motions of a shell, of no size of their own",
    "points": "working points of magnets, objects",
    "cost": "named changes with their levels, objects",
}

# Numbers of parts that are no quantity of their own, each with its reason.
NOT_OF_THE_TABLE = {
    "value": "a reading of whichever quantity stands beside it",
    "came": "builds counted by the search",
    "passed": "builds counted by the search",
    "tried": "builds counted by the search",
    "head": "width and height of a bolt's head, a d_out and a t",
}

# Quantities that no module names, each with its reason.
ONLY_READ: dict[str, str] = {}

# Physics functions that arrange things and compute no quantity: no equation to show.
NO_EQUATION: dict[str, str] = {
    "features": "collects the edges of a drawing",
}

PARTS = [
    cls
    for module in house.modules("handwound.parts")
    for cls in vars(module).values()
    if isinstance(cls, type) and dataclasses.is_dataclass(cls) and cls.__module__ == module.__name__
]
PHYSICS = house.functions("handwound.physics")


def unknown_numbers(part: type) -> list[str]:
    """The fields of a dataclass that hold a number, a row of them, or a number or nothing, and stand in no table."""
    found = []
    for field in dataclasses.fields(part):
        kinds = {kind.strip() for kind in str(field.type).split("|")} - {"None"}
        if kinds and kinds <= NUMBERS and field.name not in quantities().keys() | NOT_OF_THE_TABLE:
            found.append(field.name)
    return found


def name_faults(item: house.Item) -> list[str]:
    """What is wrong with the name and the unit of an argument or a result."""
    if item.unit is None:
        return [f"{item.name}: its words do not end with a [unit]"]
    if item.name in NOT_QUANTITIES:
        return []
    if item.name not in quantities():
        return [f"{item.name} [{item.unit}]: not in quantities.csv"]
    wanted = quantities()[item.name].unit
    return [] if item.unit == wanted else [f"{item.name}: [{item.unit}], but the table says [{wanted}]"]


def docstring_faults(function: object) -> list[str]:
    """What a physics function's docstring lacks, or says otherwise than its signature."""
    sections = house.sections(function.__doc__ or "")
    signature = inspect.signature(function)  # type: ignore[arg-type]
    faults = []
    first, _, rest = sections["summary"].partition("\n")
    if not re.fullmatch(r"[A-Z0-9µΩ].*[.:]", first) or rest[:1].strip():
        faults.append("the summary is one line, a sentence, then an empty line")
    wanted = ORDER[:-1] if signature.parameters else ORDER[1:-1]
    faults += [f"no section {name}" for name in wanted if not sections.get(name, "").strip()]
    known = [name for name in sections if name in ORDER]
    if known != sorted(known, key=ORDER.index):
        faults.append(f"sections in the order {known}")
    if ".. math::" not in sections["summary"] and function.__name__ not in NO_EQUATION:  # type: ignore[attr-defined]
        faults.append("no equation (.. math::)")
    arguments = house.items(sections.get("Parameters", ""))
    if [item.name for item in arguments] != list(signature.parameters):
        faults.append(f"Parameters {[i.name for i in arguments]}, signature {list(signature.parameters)}")
    results = house.items(sections.get("Returns", ""))
    if not results:
        faults.append("Returns names nothing")
    return faults + [fault for item in arguments + results for fault in name_faults(item)]


def test_there_is_something_to_look_at() -> None:
    assert {"Wire", "Design", "Layer"} <= {part.__name__ for part in PARTS}
    assert "winding_capacity" in {function.__name__ for function in PHYSICS}


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.__name__)
def test_every_number_of_a_part_is_in_the_table(part) -> None:
    assert unknown_numbers(part) == []


@pytest.mark.parametrize("function", PHYSICS, ids=lambda f: f"{f.__module__.removeprefix('handwound.')}.{f.__name__}")
def test_a_physics_docstring_is_a_contract(function) -> None:
    assert docstring_faults(function) == []


def names_in(text: str) -> set[str]:
    """Every name that a module uses: variables, arguments, attributes, and texts that are names, dotted or not."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(text)):
        match node:
            case ast.Name(id=name) | ast.Attribute(attr=name) | ast.arg(arg=name) | ast.keyword(arg=str(name)):
                found.add(name)
            case ast.Constant(value=str(words)):
                found.update(words.split("."))
    return found


def test_no_quantity_outlives_its_use() -> None:
    used = set().union(*(names_in(path.read_text(encoding="utf8")) for path in house.sources()))
    for function in PHYSICS:
        used.update(item.name for item in house.items(house.sections(function.__doc__ or "").get("Returns", "")))
    assert sorted(set(quantities()) - used) == sorted(ONLY_READ)


def test_the_rule_on_use_can_fail() -> None:
    assert names_in("def f(Re):\n    'The fs of it.'\n    return Re.Bl, g(Qts=1), 'motor.W_m'") == {
        "Re", "Bl", "g", "Qts", "motor", "W_m", "The fs of it", "",
    }  # fmt: skip


@pytest.mark.parametrize("name", sorted(NOT_QUANTITIES | NOT_OF_THE_TABLE))
def test_no_exception_is_also_a_quantity(name) -> None:
    assert name not in quantities()


def test_no_exception_outlives_its_use() -> None:
    sections = [house.sections(function.__doc__ or "") for function in PHYSICS]
    texts = [section.get(name, "") for section in sections for name in ("Parameters", "Returns")]
    used = {item.name for text in texts for item in house.items(text)}
    assert sorted(set(NOT_QUANTITIES) - used) == []
    fields = {field.name for part in PARTS for field in dataclasses.fields(part)}
    assert sorted(set(NOT_OF_THE_TABLE) - fields) == []


@dataclasses.dataclass
class Odd:
    """A part with four numbers that no table knows."""

    d_cu: Num  # type: ignore[name-defined] # noqa: F821
    width_of_it: float
    height_of_it: Num | None  # type: ignore[name-defined] # noqa: F821
    turns_of_it: int
    way_of_it: Array  # type: ignore[name-defined] # noqa: F821
    word: str


def test_the_rule_on_parts_can_fail() -> None:
    assert unknown_numbers(Odd) == ["width_of_it", "height_of_it", "turns_of_it", "way_of_it"]


def turns(h_w: float, d_o: float, slack: float) -> float:
    """Turns of a layer

    Parameters
    ----------
    d_o : float
        Overall diameter. [mm]
    h_w : float
        Height of the winding,
        along the axis. [m]
    slack : float
        Room left over.

    Returns
    -------
    turns_of_it : int
        Turns. [1]

    References
    ----------
    .. [1] none
    """
    return (h_w - slack) / d_o


def test_the_rule_on_docstrings_can_fail() -> None:
    assert docstring_faults(turns) == [
        "the summary is one line, a sentence, then an empty line",
        "no section Notes",
        "no equation (.. math::)",
        "Parameters ['d_o', 'h_w', 'slack'], signature ['h_w', 'd_o', 'slack']",
        "d_o: [mm], but the table says [m]",
        "slack: its words do not end with a [unit]",
        "turns_of_it [1]: not in quantities.csv",
    ]
