"""What every test may count on: one thread per process, and property tests that find the same cases each time."""

from __future__ import annotations

import os

# Before numpy is imported anywhere: more threads only get in each other's way, and may change a sum's last bit.
for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import hypothesis  # noqa: E402

hypothesis.settings.register_profile("house", deadline=None, derandomize=True)
hypothesis.settings.load_profile("house")
