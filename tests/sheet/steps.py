"""The demo's build sheet, and one operation or reading of it."""

from __future__ import annotations

import re

from handwound.sheet.build.operations import operations
from tests.sheet import demo

DESIGN, BRIEF, MADE = demo.job()


def check(what: str, design=DESIGN, brief=BRIEF, made=MADE):
    (one,) = [c for o in operations(design, brief, made) for c in o.checks if what in c.what]
    return one


def step(title: str, design=DESIGN, brief=BRIEF, made=MADE):
    (one,) = [o for o in operations(design, brief, made) if o.title.startswith(title)]
    return one


def reading(code: str, design=DESIGN, made=MADE, brief=BRIEF):
    """The reading with this code."""
    (one,) = [c for o in operations(design, brief, made) for c in o.checks if o.reading(c) == code]
    return one


def first_number(text: str) -> float:
    return float(re.findall(r"\d+\.?\d*", text)[0])
