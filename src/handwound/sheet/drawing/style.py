"""The look of the drawings: millimetres on paper and a few calm colours that a grey printer keeps apart."""

from __future__ import annotations

SMALL, TEXT, LARGE = 2.5, 2.9, 3.6
"""Sizes of letters. [mm of paper]"""
HAIR, THIN, FIRM = 0.13, 0.18, 0.35
"""Widths of lines. [mm of paper]"""

INK, SOFT, FAINT = "#1d2326", "#55606a", "#9aa3aa"
PAPER = "#ffffff"
IRON, HATCH = "#e4e7e9", "#7d868c"
MAGNET, METAL = "#c3ccd4", "#f0dcc0"
COPPER, COPPER_INK, ENAMEL = "#e2b48c", "#8a4b1d", "#f6e3cc"
CARD, FOAM, SPOOL = "#cdb98a", "#a9bdb4", "#f3ecd9"
KNEE, SATURATED = "#efcd88", "#d98a6a"
CURVE, SECOND, SHADE = "#12607a", "#b3541e", "#cfdde2"
