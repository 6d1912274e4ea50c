"""Words that no file of the project may hold: places of one machine, addresses of package hosts, talk about its making.

The patterns are written so that they do not match themselves.
"""

from __future__ import annotations

import re

import pytest

from tests.rules import house

FORBIDDEN = {
    "a path of one machine": r"/wor[k]/|/roo[t]/|/hom[e]/\w|/tm[p]/bash|/opt/py[p]i|[A-Z]:\\User[s]\\",
    "a folder outside the project": r"\bshare[d]/(?!lib)",
    "the address of a package host": r"py[p]i\.org|pythonhoste[d]|deb\.debia[n]|npm[j]s|conda\.anacond[a]|-index-ur[l]",
    "talk about the making": r"(?i)\bsub-?agen[t]|\bclaud[e]\b|\banthropi[c]\b|\bopena[i]\b|\bchat ?gp[t]|\bllm[s]?\b"
    r"|\bAI (agen[t]|assistan[t])|language mode[l]\b|\bthis sessio[n]\b",
}
TEXTS = {".py", ".md", ".toml", ".txt", ".csv", ".typ", ".svg", ".html", ".js", ".css", ".yml", ".yaml", ".cfg", ""}
FILES = [path for path in house.files() if path.suffix in TEXTS]


def found(text: str) -> list[str]:
    """Each forbidden word of a text, with its kind."""
    return [f"{kind}: {hit[0]}" for kind, pattern in FORBIDDEN.items() for hit in re.finditer(pattern, text)]


def test_no_file_holds_a_forbidden_word() -> None:
    assert {house.short(path): hits for path in FILES if (hits := found(path.read_text(encoding="utf8")))} == {}


def test_the_files_that_matter_are_among_them() -> None:
    assert {"run.py", "lock.txt", ".ci/run", "src/handwound/quantities.csv"} <= {house.short(path) for path in FILES}


@pytest.mark.parametrize(
    "text",
    ["see /wor" + "k/main", "in shar" + "ed/x.md", "--extra-index-" + "url", "a sub" + "agent said", "an LL" + "M"],
)
def test_the_rule_can_fail(text) -> None:
    assert len(found(text)) == 1


@pytest.mark.parametrize("text", ["work/load", "a release agent for the mandrel", "/usr/share/fonts", "ssh and rooted"])
def test_plain_words_are_free(text) -> None:
    assert found(text) == []
