"""handwound with nothing to set up first:  python3 run.py demo     (Windows: py run.py demo)

Only the standard library is used here. The first run makes a folder .venv beside this file, puts the locked libraries
into it (lock.txt names each file by its hash) and then handwound itself; later runs start at once. The file has to be
readable by Python 3.7, or an old Python could not say that it is too old: no newer syntax here, please.
"""

import hashlib
import importlib.util
import json
import os
import pathlib
import subprocess
import sys
import time
from typing import Callable, Dict, Optional, Sequence

OLDEST = (3, 11)
ROOT = pathlib.Path(__file__).resolve().parent
VENV = ROOT / ".venv"
SCRIPTS = VENV / ("Scripts" if os.name == "nt" else "bin")
SUFFIX = ".exe" if os.name == "nt" else ""
PYTHON = SCRIPTS / ("python" + SUFFIX)
HANDWOUND = SCRIPTS / ("handwound" + SUFFIX)
STAMPS = VENV / "set-up.json"

WHAT = """\
handwound: from the wire, steel and card in the workshop to a loudspeaker driver.

  {run} demo              see the whole job on an example
  {run} --help            every command of handwound; write it after run.py:
  {run} search open-day     ... like this
  {run} test              check the program itself (more words go to pytest)

The first time the libraries are fetched (about 110 MB) into the folder .venv beside this file.
To take everything away again, delete that folder."""

TOO_OLD = """\
handwound needs Python {need} or newer; this is Python {have}.
Newer ones may be here under another name: try  python3.13 run.py demo
Or install one: on Windows and macOS from the Python website or the app store, on Linux with its package manager."""

NO_VENV = """\
This Python cannot make a folder of its own for libraries: its module {missing} is missing.
On Debian and Ubuntu:  sudo apt install python3-venv
On other systems install the full Python. Then give the same command again."""

FAILED = """\
Setting up did not finish: {step}. What went wrong stands above.
Usual reasons: no network, a full disk, or a Python for which a library has no ready-made file
(the locks are made for Python 3.11 to 3.14; this is {have}). The same command tries again from the start."""

CHECKS = {
    "ruff check": ["ruff", "check"],
    "ruff format": ["ruff", "format", "--check"],
    "mypy": ["mypy"],
    "pytest": ["pytest"],
}


class SetUpError(Exception):
    """Setting up cannot go on; the text says why and what to do."""


def main(words: Sequence[str]) -> int:
    """Do what the words after ``run.py`` say; the answer is the exit status."""
    if not words:
        print(WHAT.format(run="py run.py" if os.name == "nt" else "python3 run.py"))
        return 0
    testing = words[0] == "test"
    try:
        set_up(testing)
        return test(words[1:]) if testing else call([HANDWOUND, *words])
    except SetUpError as stop:
        print(stop, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


def set_up(testing: bool) -> None:
    """Bring .venv to what the locks and pyproject.toml say; nothing is done where it is so already.

    The stamps are taken away before each step and written after it, so a broken step leads to a fresh start.
    """
    refuse(sys.version_info[:2])
    stamps = read_stamps()
    if stamps.get("libraries") != digest("lock.txt") or not PYTHON.exists():
        say("Setting up (only the first time, and when the libraries change) ...")
        stamps = {}
        step("making .venv", make_venv)
        step("fetching the libraries", lambda: pip("--require-hashes", "--only-binary=:all:", "-r", ROOT / "lock.txt"))
        keep(stamps, "libraries", "lock.txt")
    if stamps.get("handwound") != digest("pyproject.toml"):
        STAMPS.unlink()
        # The package is built by the locked hatchling, so no step can fetch anything that has no hash.
        step("installing handwound", lambda: pip("--no-deps", "--no-build-isolation", "--no-index", "-e", ROOT))
        keep(stamps, "handwound", "pyproject.toml")
    if testing and stamps.get("test tools") != digest("lock-test.txt"):
        STAMPS.unlink()
        locked = ("--require-hashes", "--only-binary=:all:", "-r", ROOT / "lock-test.txt")
        step("fetching the test tools", lambda: pip(*locked))
        keep(stamps, "test tools", "lock-test.txt")


def refuse(version: Sequence[int]) -> None:
    """Stop with clear words where this Python is too old or lacks what it takes to make .venv."""
    have = ".".join(str(number) for number in sys.version_info[:3])
    if tuple(version) < OLDEST:
        raise SetUpError(TOO_OLD.format(need=".".join(str(number) for number in OLDEST), have=have))
    for module in ("venv", "ensurepip"):
        if importlib.util.find_spec(module) is None:
            raise SetUpError(NO_VENV.format(missing=module))


def make_venv() -> None:
    """Make .venv afresh, whatever stands there."""
    import venv  # may be missing: `refuse` has looked

    venv.create(str(VENV), with_pip=True, clear=True, symlinks=os.name != "nt")


def pip(*words: object) -> None:
    """Run the pip of .venv."""
    quiet = ["--quiet", "--disable-pip-version-check", "--no-input"]
    command = [PYTHON, "-m", "pip", "install", *quiet, *words]
    subprocess.run([str(word) for word in command], check=True, cwd=str(ROOT), env=surroundings())


def step(what: str, do: Callable[[], None]) -> None:
    """Do one step of the setting up, with a word on the screen before and a clear end when it fails."""
    began = time.time()
    say(f"  {what} ...")
    try:
        do()
    except (subprocess.CalledProcessError, OSError) as error:
        say(f"  {error}")
        raise SetUpError(FAILED.format(step=what, have=sys.version.split()[0])) from None
    say(f"  {what} took {time.time() - began:.0f} s")


def digest(name: str) -> str:
    """What a step depends on: the file, this Python, and where the folder stands (its scripts hold the path)."""
    content = (ROOT / name).read_bytes() + sys.version.encode() + str(ROOT).encode("utf8", "replace")
    return hashlib.sha256(content).hexdigest()


def read_stamps() -> Dict[str, str]:
    """Which steps were finished, and for what; nothing where that cannot be read."""
    try:
        stamps = json.loads(STAMPS.read_text(encoding="utf8"))
    except (OSError, ValueError):
        return {}
    return stamps if isinstance(stamps, dict) else {}


def keep(stamps: Dict[str, str], what: str, name: str) -> None:
    """Write down that a step is finished."""
    stamps[what] = digest(name)
    STAMPS.write_text(json.dumps(stamps, indent=1) + "\n", encoding="utf8")


def test(words: Sequence[str]) -> int:
    """Run every check, show every result, fail if any fails. The words go to pytest."""
    results = {}
    for name, command in CHECKS.items():
        say(f"== {name}")
        more = list(words) if name == "pytest" else []
        results[name] = call([PYTHON, "-m", *command, *more], cwd=ROOT)
    say("== " + ", ".join("{} {}".format(name, "FAILED" if bad else "ok") for name, bad in results.items()))
    return results["pytest"] or max(results.values())


def call(command: Sequence[object], cwd: Optional[pathlib.Path] = None) -> int:
    """Run a program to its end; its exit status, in the shell's way where a signal ended it."""
    status = subprocess.call([str(word) for word in command], cwd=cwd and str(cwd), env=surroundings())
    return status if status >= 0 else 128 - status


def surroundings() -> Dict[str, str]:
    """The environment of every program started here."""
    env = dict(os.environ)
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        env.setdefault(name, "1")  # designs run side by side; threads inside one only get in each other's way
    env.setdefault("PYTHONUTF8", "1")  # Ω and µ on every screen and in every file
    return env


def say(text: str) -> None:
    """A word on the screen at once, in order with what the child programs print."""
    print(text, flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
