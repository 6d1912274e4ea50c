"""The documents keep up with the code: dependencies explained, reference current, links alive, changes written down."""

from __future__ import annotations

import re
import tomllib

import pytest

from tests.rules import house
from tools import reference

PROJECT = tomllib.loads((house.ROOT / "pyproject.toml").read_text(encoding="utf8"))
PAGES = [path for path in house.files() if path.suffix == ".md"]
LINK = re.compile(r"\]\(([^)#\s]+)(?:#[^)]*)?\)")
MUST_SAY = ("**What for.**", "**Why not our own.**", "**Licence.**", "**Start-up.**")


def paragraphs(text: str) -> dict[str, str]:
    """What stands under each second-level heading."""
    pieces = re.split(r"^## (.+)\n", text, flags=re.M)
    return dict(zip(pieces[1::2], pieces[2::2], strict=True))


def dependencies() -> list[str]:
    """The name of everything that pyproject.toml asks for."""
    groups = PROJECT["dependency-groups"]
    asked = [*PROJECT["project"]["dependencies"], *groups["build"], *groups["test"]]
    return [name[0] for line in asked if (name := re.match(r"[\w-]+", line))]


@pytest.mark.parametrize("name", dependencies())
def test_a_dependency_has_its_paragraph(name) -> None:
    text = paragraphs((house.ROOT / "docs/why/dependencies.md").read_text(encoding="utf8"))
    assert name in text
    assert [words for words in MUST_SAY if words not in text[name]] == []


def test_no_paragraph_outlives_its_dependency() -> None:
    text = paragraphs((house.ROOT / "docs/why/dependencies.md").read_text(encoding="utf8"))
    assert sorted(set(text) - set(dependencies())) == []


@pytest.mark.parametrize("name", dependencies())
def test_a_dependency_is_locked(name) -> None:
    locked = (house.ROOT / "lock-test.txt").read_text(encoding="utf8")
    assert re.search(rf"^{name}==", locked, re.M), "make the locks again: python tools/lock.py"


def test_the_locks_agree_and_every_file_has_a_hash() -> None:
    def pins(name: str) -> set[str]:
        text = (house.ROOT / name).read_text(encoding="utf8").replace("\\\n", " ")
        lines = [line for line in text.splitlines() if line.strip()]
        assert [line for line in lines if "--hash=sha256:" not in line or "==" not in line] == []
        return {line.split(" --hash")[0].strip() for line in lines}

    assert pins("lock.txt") <= pins("lock-test.txt")


@pytest.mark.parametrize("name", reference.PAGES)
def test_the_reference_is_current(name) -> None:
    page = house.ROOT / "docs/reference" / name
    assert page.read_text(encoding="utf8") == reference.PAGES[name](), "make it again: python -m tools.reference"


@pytest.mark.parametrize("path", PAGES, ids=house.short)
def test_links_lead_somewhere(path) -> None:
    links = [link for link in LINK.findall(path.read_text(encoding="utf8")) if "://" not in link]
    assert [link for link in links if not (path.parent / link).exists()] == []


def wide_lines(text: str) -> list[str]:
    """Lines that no plain window holds; tables and what stands between fences cannot be folded."""
    running = re.sub(r"^```.*?^```", "", text, flags=re.M | re.S).splitlines()
    return [line for line in running if len(line) > 120 and not line.startswith("|")]


@pytest.mark.parametrize("path", [path for path in PAGES if "docs" in path.parts], ids=house.short)
def test_lines_are_not_wide(path) -> None:
    assert wide_lines(path.read_text(encoding="utf8")) == []


def test_the_rule_on_wide_lines_can_fail() -> None:
    wide = "a" * 121
    assert wide_lines(f"{wide}\n| {wide}\n```\n{wide}\n```\n{wide[1:]}\n") == [wide]


def test_changes_are_written_down() -> None:
    headings = paragraphs((house.ROOT / "CHANGELOG.md").read_text(encoding="utf8"))
    version = PROJECT["project"]["version"]
    assert any(
        re.match(rf"(Unreleased|{re.escape(version)})\b", heading) and headings[heading].strip() for heading in headings
    )


def test_the_version_is_said_once() -> None:
    from handwound import __version__

    assert __version__ == PROJECT["project"]["version"]


def test_the_search_for_paragraphs_and_links_can_fail() -> None:
    assert paragraphs("# a\n\n## numpy\n\nwords\n\n## scipy\n") == {"numpy": "\nwords\n\n", "scipy": ""}
    assert LINK.findall("[a](b.md#c) ![p](../d.svg)") == ["b.md", "../d.svg"]
