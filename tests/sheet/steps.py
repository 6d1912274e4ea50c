"""The demo's build sheet, and one operation or reading of it."""

from __future__ import annotations

import re

from handwound.parts.design import Stock
from handwound.sheet.build.needs import Needs, needs
from handwound.sheet.build.operation import Build
from handwound.sheet.build.operations import operations
from handwound.sheet.template.templates import templates
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


def needed(build: Build, stock: Stock | None = None) -> Needs:
    """What its own operations and templates ask for."""
    whole = build.design, build.brief, build.prediction
    return needs(build, operations(*whole), templates(*whole), stock)


def first_number(text: str) -> float:
    return float(re.findall(r"\d+\.?\d*", text)[0])
