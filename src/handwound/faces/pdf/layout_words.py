"""The few words that belong to the layout itself, in the language that is spoken."""

from __future__ import annotations

from handwound.sheet.said import say

LAYOUT = {
    "page_of": "page [1] of [2]",
    "stop": "STOP",
    "before": "Before you begin",
    "needs": "What to get ready",
    "materials": "Material",
    "tools": "Tools",
    "from_shelf": "from the shelf",
    "what_of_it": "what of it",
    "take": "take",
    "left": "stays",
    "together": "How the parts go together",
    "wound": "How the coils are wound",
    "wired": "How they are wired",
    "steps": "The build, step by step",
    "hold_point": "HOLD: measure",
    "with_it": "With:",
    "wait": "WAIT",
    "read": "read",
    "if_low": "Low:",
    "if_high": "High:",
    "gap": "The gap",
    "layer": "layer",
    "travel": "travels",
    "turns": "turns",
    "turns_in": "turns in it",
    "turns_so_far": "turns so far",
    "over_it": "⌀ after, mm",
    "wide_mm": "⌀, mm",
    "ohm_20": "Ω at 20 °C",
    "low": "low",
    "high": "high",
    "end": "end",
    "hold": "hold",
    "tape": "tape",
    "templates": "Templates",
    "true_size": (
        "At true size. Print these pages at 100 %, nothing fitted to the page, and lay a ruler on the bar of each: "
        "100 mm, or print again. Cut on the firm lines, score the dashed ones, the thin ones are marks."
    ),
    "template": "template",
    "cut_from": "cut from",
    "how": "how",
    "step": "step",
    "expect": "Numbers to expect",
    "each_band": "Each with the band for nine builds of ten. Outside it: measure again, then look for the cause.",
    "curves": "Curves",
    "flux": "Where the flux runs",
}
"""Each under the name by which the layout asks for it."""


def layout_words(T_room: str) -> dict[str, str]:
    """All of them, and the head of a column of ohms in this room."""
    spoken = {name: say(message) for name, message in LAYOUT.items()}
    return {**spoken, "ohm_room": say("Ω at {T_room}", T_room=T_room)}
