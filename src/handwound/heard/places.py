"""What the driver could be built into, and what each gives: a wall, a board, closed boxes, a box with a port."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import isfinite

import numpy as np

from handwound.heard.boards import least_air
from handwound.mounting import Lodging, tuned
from handwound.parts.design import Brief, Design
from handwound.parts.heat import Box
from handwound.parts.mounting import Baffle, Port
from handwound.parts.prediction import Chain
from handwound.parts.sound import Mounted, Place
from handwound.physics import air, alignment, vents
from handwound.physics import driver as driver_physics
from handwound.sounding import LOWEST, R_source, beside_reference, mount

T_BOARD = 15e-3
"""Thickness of the boards of a box that is only suggested. [m]"""
EVEN, BOOMY = 2**-0.5, 1.0
"""Total quality factors in a closed box: the flattest; the most that many still like (common practice, no source)."""
MOST_BOOM = 3.0
"""A small box may boom so far and no further. [dB] Common practice, no source."""
SMALLEST, LARGEST = 0.5e-3, 0.2
"""No box is suggested beyond these, nor one too small to hold the driver. [m³]"""
WIDEST = 2.0
"""No board is suggested beyond this. [m]"""
Q_LEAK = 7.0
"""Of a usual box (from memory, see :func:`handwound.physics.box.leak_resistance`)."""
PORT_SHARE = 4.0
"""Area of the diaphragm over that of a suggested port. Common practice, no source."""
LEAST = "the smallest for the lowest note"
"""Why such a place is told."""
CLOSER = 1.01
"""How closely a size is found, as a factor."""


def places(design: Design, brief: Brief, found: Chain) -> tuple[Place, ...]:
    """As the brief has it, and what else there is."""

    def give(lodging: Lodging) -> Mounted:
        got = mount(found, lodging._replace(back=design.back), R_source(brief), float(brief.T_room))
        f_c, f_10, f_3, dL_peak = (float(each) for each in (got.f_c, got.f_10, got.f_3, got.dL_peak))
        return Mounted(f_c=f_c, f_10=f_10, f_3=f_3, dL_peak=dL_peak)

    def plays(lodging: Lodging) -> bool:
        at = (lodging._replace(back=design.back), R_source(brief), float(brief.T_room))
        return bool(beside_reference(float(brief.f_low), found, *at)[0] >= -LOWEST)

    asked = Lodging.of(brief, design.back)
    own = [_place(asked, "as the brief has it", give, brief)] if asked.box or asked.baffle else []
    least = max(SMALLEST, least_air(design, brief))
    tried = (_boards(brief, plays), _closed(found, brief, give, plays, least), _vented(found, brief, least))
    others = [_place(lodging, why, give, brief) for each in tried for lodging, why in each]
    # the air in a back of its own can make a driver boom more in a box than its Q says
    good = [each for each in others if each.V_box is None or each.found.dL_peak <= MOST_BOOM]
    return tuple([*own, _place(Lodging(), "nothing goes round", give, brief), *good])


Give = Callable[[Lodging], Mounted]
Plays = Callable[[Lodging], bool]


def _place(lodging: Lodging, why: str, give: Give, brief: Brief) -> Place:
    box, port, board = lodging.box, lodging.port, lodging.baffle
    kind = "box with a port" if port else "closed box" if box else "open board" if board else "endless wall"
    return Place(
        kind=kind,
        why=why,
        found=give(lodging),
        is_least=why == LEAST,
        W_baffle=float(board.W_baffle) if board else None,
        V_box=float(box.V_box) if box else None,
        d_port=float(port.d_port) if port else None,
        l_port=float(port.l_port) if port else None,
        f_box=float(tuned(box, port, air.speed(brief.T_room))) if box and port else None,
    )


def _boards(brief: Brief, plays: Plays) -> Iterator[tuple[Lodging, str]]:
    """The smallest square board that plays the lowest note that is wished for."""

    def board(width: float) -> Lodging:
        return Lodging(baffle=Baffle(W_baffle=width, H_baffle=width))

    least = float(brief.D_outline)
    width = _smallest(lambda width: plays(board(width)), least, WIDEST)
    yield board(width or WIDEST), LEAST if width else "the largest that one still carries"


def _closed(found: Chain, brief: Brief, give: Give, plays: Plays, least: float) -> Iterator[tuple[Lodging, str]]:
    """The even box, the one that booms a little, the smallest that plays the lowest note."""
    fs, Qts = float(found.driver.fs), float(Q_on(found, brief))
    for Qtc, why in ((EVEN, "as even as can be"), (BOOMY, "small, a little boom")):
        if Qtc > Qts:
            V_box = float(alignment.closed_box(fs, Qts, float(found.driver.Vas), Qtc)[1])
            if least <= V_box <= LARGEST:
                yield Lodging(box=_box(V_box)), why

    def enough(V_box: float) -> bool:
        box = Lodging(box=_box(V_box))
        return plays(box) and bool(give(box).dL_peak <= MOST_BOOM)

    smallest = _smallest(enough, least, LARGEST)
    if smallest:
        yield Lodging(box=_box(smallest)), LEAST


def _vented(found: Chain, brief: Brief, least: float) -> Iterator[tuple[Lodging, str]]:
    """A box with one port, where the driver brakes its diaphragm well enough for one."""
    driver, c_0 = found.driver, float(air.speed(brief.T_room))
    aligned = alignment.vented_alignment(Q_LEAK, Q_on(found, brief))
    if not isfinite(aligned.h):
        return
    V_box, f_box = float(driver.Vas / aligned.alpha), float(driver.fs * aligned.h)
    d_port = float(np.sqrt(4 * found.moving.Sd / np.pi / PORT_SHARE))
    l_port = float(vents.port_length(V_box, f_box, 1, d_port, vents.FLANGED + vents.FREE, c_0))
    if least <= V_box <= LARGEST and l_port > 0:
        port = Port(n_port=1, d_port=d_port, l_port=l_port, Q_leak=Q_LEAK)
        yield Lodging(box=_box(V_box), port=port), "as even as can be with a port"


def Q_on(found: Chain, brief: Brief) -> float:
    """The driver's total quality factor with what is in series with it. [1]"""
    driver = found.driver
    Qes = driver.Qes * (1 + R_source(brief) / driver.Re)
    return float(driver_physics.Q_ts(driver.Qms, Qes))


def _box(V_box: float) -> Box:
    return Box(V_box=V_box, t_box=T_BOARD)


def _smallest(enough: Callable[[float], bool], low: float, high: float) -> float | None:
    """The smallest size that is enough; None where the largest is not."""
    if not enough(high):
        return None
    while high > CLOSER * low:
        middle = (low * high) ** 0.5
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high
