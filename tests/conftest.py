"""What every test may count on: one thread per process, and property tests that find the same cases each time."""

from __future__ import annotations

import os

# Before numpy is imported anywhere: more threads only get in each other's way, and may change a sum's last bit.
for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")

from collections.abc import Iterator  # noqa: E402

import hypothesis  # noqa: E402
import pytest  # noqa: E402

from tests.examples import CHOSEN, Built, built  # noqa: E402
from tests.sounded import Studied, studied  # noqa: E402

hypothesis.settings.register_profile("house", deadline=None, derandomize=True)
hypothesis.settings.load_profile("house")


@pytest.fixture(scope="session", autouse=True)
def kept(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """One empty cache for all tests: what one has solved the next need not, and the user's own stays as it is.

    Processes that share the tests have a folder each, in one that is theirs together.
    """
    own = tmp_path_factory.getbasetemp()
    together = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HANDWOUND_CACHE", str(together / "cache"))
        patch.delenv("COLUMNS", raising=False)  # set in processes that share the tests: no terminal is so narrow
        yield


@pytest.fixture(scope="session", params=CHOSEN)
def example(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Built:
    """Each example with its build, and what it does."""
    return built(tmp_path_factory.mktemp("job") / request.param, request.param)


@pytest.fixture(scope="session")
def open_day(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """One of them."""
    return built(tmp_path_factory.mktemp("job") / "open-day", "open-day")


@pytest.fixture(scope="session")
def wound(tmp_path_factory: pytest.TempPathFactory) -> Studied:
    """All of the sound of the open-day driver: a cone in a flat ring of foam, no spider."""
    return studied(tmp_path_factory.mktemp("sound") / "open-day")


@pytest.fixture(scope="session")
def repaired(tmp_path_factory: pytest.TempPathFactory) -> Studied:
    """The repair-pair driver, which has a spider."""
    return studied(tmp_path_factory.mktemp("sound") / "repair-pair")
