"""Lines of keys: every value that tomllib finds has its line, and its key stands there."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from typing import Any

import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from handwound.files.lines import Path, index

TEXT = '''\
# [not.a.table]
top = "[no] = table" # key = 1

[a."b c"]      # a heading
"x y" = """
z = 1
""\\""""
d.e = [1, # one
  {f = 'g = 2', h = [
    true]}]

[[list]]
n = 1979-05-27 07:32:00
[list.sub]
m = \'\'\'
n = 3\'\'\'
[[list]]
n = {o.p = "}", q = -1e3}
[[list.more]]
r = ""
'''


def paths(value: Any, path: Path = ()) -> Iterator[Path]:
    """The path of everything in a document."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in pairs:
        yield (*path, key)
        yield from paths(inner, (*path, key))


def test_each_key_of_a_tangled_text_has_its_line() -> None:
    """Kind of truth: counted by hand."""
    found = index(TEXT)
    expected: dict[Path, int] = {
        ("top",): 2,
        ("a", "b c"): 4,
        ("a", "b c", "x y"): 5,
        ("a", "b c", "d", "e"): 8,
        ("a", "b c", "d", "e", 0): 8,
        ("a", "b c", "d", "e", 1, "f"): 9,
        ("a", "b c", "d", "e", 1, "h", 0): 10,
        ("list", 0): 12,
        ("list", 0, "n"): 13,
        ("list", 0, "sub", "m"): 15,
        ("list", 1): 17,
        ("list", 1, "n", "o", "p"): 18,
        ("list", 1, "n", "q"): 18,
        ("list", 1, "more", 0, "r"): 20,
    }
    assert {path: found.get(path) for path in expected} == expected
    assert set(paths(tomllib.loads(TEXT))) <= set(found)


def test_windows_line_ends_count_as_one() -> None:
    assert index(TEXT.replace("\n", "\r\n")) == index(TEXT)


KEYS = st.text("abz-_.# '[]=é", min_size=1, max_size=6)
PLAIN = st.one_of(st.text("ab\"'\\\n#[]{}=,.é ", max_size=12), st.integers(-9, 9), st.booleans(), st.floats(-9, 9))
VALUES = st.recursive(
    PLAIN,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=12,
)


@given(st.dictionaries(KEYS, VALUES, max_size=4))
def test_every_value_of_any_document_has_a_line_with_its_key(data) -> None:
    """Kind of truth: two general libraries, one that writes TOML and one that reads it."""
    text = tomlkit.dumps(data)
    found, lines = index(text), text.split("\n")
    for path in paths(tomllib.loads(text)):
        assert path in found
        key = next(part for part in reversed(path) if isinstance(part, str))
        assert key in lines[found[path] - 1]
