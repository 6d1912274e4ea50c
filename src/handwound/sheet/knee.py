"""How near a magnet is to losing strength for good, in words."""

from __future__ import annotations

from math import isfinite

from handwound.parts.prediction import MagnetState
from handwound.sheet.said import Said, say, show

KNEE_NEAR = 50e3
"""A worst place nearer to the knee than this deserves a warning (this project's own). [A/m]"""
T_COLDEST, T_HOTTEST = -20.0, 80.0
"""Where a driver may be kept and how warm its magnet may become (common practice). [°C]"""


NEAR_END = 10.0
"""How much warmer than predicted a magnet may well get (this project's own). [K]"""


def knee_is_near(state: MagnetState) -> bool:
    """Whether the worst place of a magnet can meet its knee where a driver is kept and played."""
    T = float(state.T_knee)
    if state.dH < KNEE_NEAR:
        return True
    hottest = T_HOTTEST if state.T_end is None else max(T_HOTTEST, float(state.T_end) + NEAR_END)
    return isfinite(T) and (T > T_COLDEST if state.word == "cold" else T < hottest)


def knee_words(state: MagnetState) -> Said:
    """When the magnet would lose strength for good, and whether that can happen."""
    T = float(state.T_knee)
    if state.dH <= 0:
        return say(
            "strength is lost for good at {T}; use a harder grade or a thicker magnet.", T=show("T", float(state.T))
        )
    if not isfinite(T) or T < -273:
        return say("no strength is ever lost.")
    T_knee = show("T_knee", T, 2)
    if state.word == "hot" and state.T_end is not None and T <= state.T_end:
        return say(
            "strength is lost for good: it gets {T_end}, and can bear {T_knee}. Use a harder grade.",
            T_end=show("T_end", float(state.T_end), 2), T_knee=T_knee,
        )  # fmt: skip
    return say((NEAR if knee_is_near(state) else FAR)[state.word], T_knee=T_knee)


NEAR = {
    "cold": "strength would be lost for good when as cold as {T_knee}. Take care: that can happen.",
    "hot": "strength would be lost for good when as hot as {T_knee}. Take care: that can happen.",
}
FAR = {
    "cold": "strength would be lost for good when as cold as {T_knee}, which is far off.",
    "hot": "strength would be lost for good when as hot as {T_knee}, which is far off.",
}
"""By whether cold or heat harms the magnet."""
