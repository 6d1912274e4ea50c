"""What the driver is built into: the board, the box and its ports in brief.toml, the closed back in design.toml."""

from __future__ import annotations

from math import pi

from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Whole, as_part
from handwound.files.tables import row
from handwound.files.toml import Document
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Baffle, Port
from handwound.quantities import Measured, show

OF_A_BOX = ("V_box", "t_box")
OF_A_PORT = ("d_port", "l_port")
WITH_A_PORT = ("n_port", "Q_leak")
TIGHT = Measured(7.0, 3.0)
"""Q of the leaks of a box that was built with care: from memory of a common assumption, weak."""


class MountingRow(Row):
    """What brief.toml tells of the board or the box."""

    W_baffle: Number | None = None
    H_baffle: Number | None = None
    V_box: Number | None = None
    t_box: Number | None = None
    n_port: Whole | None = None
    d_port: Number | None = None
    l_port: Number | None = None
    Q_leak: Number | None = None


class BackRow(Row):
    """``[back]``"""

    V_back: Number
    n_vent: Whole = 0
    d_vent: Number | None = None
    t_vent: Number | None = None
    n_taped: Whole = 0


def read_box(document: Document, each: MountingRow) -> Box | None:
    """The closed box around the motor: its air and its wall say something only together."""
    given = [name for name in OF_A_BOX if getattr(each, name) is not None]
    if len(given) == 1:
        (lacks,) = set(OF_A_BOX) - set(given)
        document.fault((lacks,), f"given with {given[0]}", f"only {given[0]}", "Give both, or neither.")
        return None
    return Box(spread=each.spread(*OF_A_BOX), **each.numbers(*OF_A_BOX)) if given else None


def read_baffle(document: Document, each: MountingRow, D_outline: Measured) -> Baffle | None:
    """The open board; as high as wide where only its width is told."""
    if each.W_baffle is None:
        if each.H_baffle is not None:
            document.fault(("W_baffle",), "given with H_baffle", "only H_baffle")
        return None
    if each.V_box is not None:
        document.fault(("W_baffle",), "left out where there is a box", "W_baffle and V_box", "Keep one of them.")
    sides = {"W_baffle": each.W_baffle, "H_baffle": each.H_baffle or each.W_baffle}
    for name, side in sides.items():
        if getattr(each, name) is not None and side.value < D_outline.value:
            must = f"at least D_outline, {show('D_outline', D_outline.value, 4)}"
            document.fault((name,), must, show(name, side.value, 4))
    return Baffle(**as_part(sides))


def read_port(document: Document, each: MountingRow) -> Port | None:
    """The tubes of a vented box; None where there are none, or where ``n_port`` is 0: all are stopped up."""
    given = [name for name in (*OF_A_PORT, *WITH_A_PORT) if getattr(each, name) is not None]
    if given and each.V_box is None:
        document.fault((given[0],), "given with V_box and t_box", "no box", "A port lets the air out of a box.")
        return None
    lacking = [name for name in OF_A_PORT if given and getattr(each, name) is None]
    for name in lacking:
        document.fault((name,), f"given with {given[0]}", f"only {', '.join(given)}")
    if lacking or each.V_box is None or each.d_port is None or each.l_port is None:
        return None
    n_port, wide = 1 if each.n_port is None else each.n_port, each.V_box.value ** (1 / 3)
    if each.d_port.value >= wide:
        must = f"less than the width of the box, {show('d_port', wide)} if it is a cube"
        document.fault(("d_port",), must, show("d_port", each.d_port.value))
    taken = n_port * pi / 4 * each.d_port.value**2 * each.l_port.value
    if taken >= each.V_box.value:
        found = f"tubes of {show('V_box', taken)} in {show('V_box', each.V_box.value)}"
        document.fault(("l_port",), "such that the tubes leave air in the box", found)
    numbers = {"d_port": each.d_port, "l_port": each.l_port, "Q_leak": each.Q_leak or TIGHT}
    return Port(n_port=n_port, **as_part(numbers)) if n_port else None


def read_back(document: Document) -> Back | None:
    """The closed back of the frame; None where there is none, or where something in it is at fault."""
    key: Key = ("back",)
    each = row(document, key, BackRow) if "back" in document.data else None
    if each is None:
        return None
    holes = {"d_vent": each.d_vent, "t_vent": each.t_vent}
    for name, number in holes.items():
        if (number is None) is bool(each.n_vent):
            must = "given with n_vent" if each.n_vent else "left out where n_vent is 0"
            document.fault((*key, name), must, "nothing" if each.n_vent else name)
    if each.n_taped > each.n_vent:
        document.fault((*key, "n_taped"), f"at most n_vent, {each.n_vent}", str(each.n_taped))
    numbers = {"V_back": each.V_back} | {name: number or Measured(0.0, 0.0) for name, number in holes.items()}
    return Back(n_vent=each.n_vent, n_taped=each.n_taped, **as_part(numbers))
