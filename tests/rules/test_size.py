"""Small files, small functions: what cannot be read at one sitting is cut up."""

from __future__ import annotations

import ast
import io
import tokenize

import pytest

from tests.rules import house

MODULE_LINES, FUNCTION_LINES = 400, 40
QUIET = {tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT, tokenize.ENDMARKER}
PYTHON = [path for path in house.files() if path.suffix == ".py"]


def code_lines(text: str) -> dict[str, int]:
    """Lines of code in each function: those that hold more than a comment or a docstring."""
    loud = {
        line
        for token in tokenize.generate_tokens(io.StringIO(text).readline)
        if token.type not in QUIET
        for line in range(token.start[0], token.end[0] + 1)
    }
    found = {}
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = set(range(node.lineno, (node.end_lineno or node.lineno) + 1)) & loud
            if ast.get_docstring(node, clean=False) is not None:
                doc = node.body[0]
                lines -= set(range(doc.lineno, (doc.end_lineno or doc.lineno) + 1))
            found[f"{node.name}:{node.lineno}"] = len(lines)
    return found


@pytest.mark.parametrize("path", PYTHON, ids=house.short)
def test_files_and_functions_are_small(path) -> None:
    text = path.read_text(encoding="utf8")
    assert text.count("\n") <= MODULE_LINES
    assert {name: lines for name, lines in code_lines(text).items() if lines > FUNCTION_LINES} == {}


def test_the_count_leaves_out_words() -> None:
    text = 'def f(a,\n      b):\n    """One.\n\n    Two.\n    """\n    # why\n\n    return """x\n\ny"""  # here\n'
    assert code_lines(text) == {"f:1": 5}
