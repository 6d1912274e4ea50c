"""What the driver is built into: board, box and ports in brief.toml, the closed back and the rim in design.toml."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, sin

from handwound.files.iron_fits import TOUCH, Misfit
from handwound.files.lines import Path as Key
from handwound.files.row import Number, Row, Whole, as_part
from handwound.files.tables import row
from handwound.files.toml import Document
from handwound.parts.heat import Box
from handwound.parts.mounting import Back, Baffle, Flange, Port
from handwound.parts.moving import Surround
from handwound.quantities import Measured, show

OF_A_BOX = ("V_box", "t_box")
OF_A_PORT = ("d_port", "l_port")
WITH_A_PORT = ("n_port", "Q_leak")
RIM_WEB = 2e-3
"""What the rim keeps outside its screw holes at the least. [m] Common practice, no source."""
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
    D_vent: Number | None = None


class FlangeRow(Row):
    """``[flange]``"""

    n_screw: Whole
    d_screw: Number
    D_screw: Number


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
    if each.D_vent is not None and not each.n_vent:
        document.fault((*key, "D_vent"), "left out where n_vent is 0", "D_vent")
    elif each.D_vent is not None and each.d_vent is not None:
        _apart(document, (*key, "D_vent"), each.n_vent, each.d_vent, each.D_vent)
    numbers = {"V_back": each.V_back} | {name: number or Measured(0.0, 0.0) for name, number in holes.items()}
    numbers |= {"D_vent": each.D_vent} if each.D_vent is not None else {}
    return Back(n_vent=each.n_vent, n_taped=each.n_taped, **as_part(numbers))


def read_flange(document: Document, surround: Surround | None) -> Flange | None:
    """The screws of the frame's rim; None where there is none, or where something in it is at fault."""
    key: Key = ("flange",)
    each = row(document, key, FlangeRow) if "flange" in document.data else None
    if each is None:
        return None
    _apart(document, (*key, "D_screw"), each.n_screw, each.d_screw, each.D_screw)
    if surround is not None and each.D_screw.value - each.d_screw.value < surround.d_out:
        free = show("D_screw", float(surround.d_out) + each.d_screw.value, 4)
        found, do = show("D_screw", each.D_screw.value, 4), "The screws go through the rim outside the surround."
        document.fault((*key, "D_screw"), f"at least d_out of the surround and d_screw, {free}", found, do)
    return Flange(n_screw=each.n_screw, **as_part({"d_screw": each.d_screw, "D_screw": each.D_screw}))


def rim_holds(flange: Flange, D_outline: float) -> Iterator[Misfit]:
    """The screws go through the rim, not through its edge or beside it."""
    most = D_outline - float(flange.d_screw) - 2 * RIM_WEB
    if flange.D_screw > most + TOUCH:
        must = f"at most {show('D_screw', most, 4)}, so that the rim keeps {show('t', RIM_WEB)} outside its holes"
        do = f"The rim is {show('D_outline', D_outline, 4)} across, the D_outline of the brief."
        yield Misfit(("flange", "D_screw"), must, show("D_screw", float(flange.D_screw), 4), do)


def _apart(document: Document, key: Key, count: int, hole: Measured, circle: Measured) -> None:
    """Note holes that run into each other on their circle: the chord from one to the next is D sin(pi / n)."""
    if count > 1 and hole.value >= circle.value * sin(pi / count):
        least, found = (show(str(key[-1]), D, 4) for D in (hole.value / sin(pi / count), circle.value))
        document.fault(key, f"more than {least}, or {count} holes run into each other", found)
