"""How near a magnet is to losing strength for good, in words."""

from __future__ import annotations

from math import isfinite

from handwound.parts.prediction import MagnetState
from handwound.sheet.said import show

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


def knee_words(state: MagnetState) -> str:
    """When the magnet would lose strength for good, and whether that can happen."""
    T = float(state.T_knee)
    if state.dH <= 0:
        return f"strength is lost for good at {show('T', float(state.T))}; use a harder grade or a thicker magnet."
    if not isfinite(T) or T < -273:
        return "no strength is ever lost."
    if state.word == "hot" and state.T_end is not None and T <= state.T_end:
        T_end = show("T_end", float(state.T_end), 2)
        return f"strength is lost for good: it gets {T_end}, and can bear {show('T_knee', T, 2)}. Use a harder grade."
    words = f"strength would be lost for good when as {state.word} as {show('T_knee', T, 2)}"
    return f"{words}. Take care: that can happen." if knee_is_near(state) else f"{words}, which is far off."
