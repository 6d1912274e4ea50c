"""The few words that belong to the layout itself, in the language that is spoken."""

from __future__ import annotations

from handwound.sheet.said import say


def layout_words(T_room: str) -> dict[str, str]:
    """Each under the name by which the layout asks for it."""
    return {
        "page_of": say("page [1] of [2]"),
        "stop": say("STOP"),
        "before": say("Before you begin"),
        "needs": say("What to get ready"),
        "materials": say("Material"),
        "tools": say("Tools"),
        "ready": "",
        "from_shelf": say("from the shelf"),
        "what_of_it": say("what of it"),
        "take": say("take"),
        "left": say("stays"),
        "together": say("How the parts go together"),
        "wound": say("How the coils are wound"),
        "wired": say("How they are wired"),
        "steps": say("The build, step by step"),
        "hold_point": say("HOLD: measure"),
        "with_it": say("With:"),
        "wait": say("WAIT"),
        "read": say("read"),
        "if_low": say("Low:"),
        "if_high": say("High:"),
        "gap": say("The gap"),
        "layer": say("layer"),
        "travel": say("travels"),
        "turns": say("turns"),
        "turns_in": say("turns in it"),
        "turns_so_far": say("turns so far"),
        "over_it": say("⌀ after, mm"),
        "wide_mm": say("⌀, mm"),
        "ohm_20": say("Ω at 20 °C"),
        "ohm_room": say("Ω at {T_room}", T_room=T_room),
        "low": say("low"),
        "high": say("high"),
        "end": say("end"),
        "hold": say("hold"),
        "tape": say("tape"),
        "templates": say("Templates"),
        "true_size": say(
            "At true size. Print these pages at 100 %, nothing fitted to the page, and lay a ruler on the bar of each: "
            "100 mm, or print again. Cut on the firm lines, score the dashed ones, the thin ones are marks."
        ),
        "template": say("template"),
        "cut_from": say("cut from"),
        "how": say("how"),
        "step": say("step"),
        "expect": say("Numbers to expect"),
        "each_band": say(
            "Each with the band for nine builds of ten. Outside it: measure again, then look for the cause."
        ),
        "curves": say("Curves"),
        "flux": say("Where the flux runs"),
    }
