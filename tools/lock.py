"""Make lock.txt and lock-test.txt again from pyproject.toml:  python tools/lock.py   (needs `uv` on the PATH).

The locks hold a hash for each wheel of each system and no address: whatever index the machine is set up for will serve.
lock-test.txt repeats lock.txt and adds the test tools, at the same versions of what both hold. "fewest" takes one
version of each library for all Pythons where it can, so that a number does not depend on the Python it came from.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
COMPILE = (
    "uv pip compile --universal --generate-hashes --no-header --no-annotate --quiet --python-version 3.11 "
    "--fork-strategy fewest pyproject.toml --group build"
)
LOCKS = {"lock.txt": "", "lock-test.txt": "--group test --constraints lock.txt"}


def main() -> None:
    """Write both locks; extra arguments such as ``--upgrade`` go to uv."""
    for name, more in LOCKS.items():
        subprocess.run([*COMPILE.split(), *more.split(), *sys.argv[1:], "--output-file", name], cwd=ROOT, check=True)


if __name__ == "__main__":
    main()
