"""handwound: from the wire, steel and card in the workshop to a loudspeaker driver that can be built from them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from handwound.job import Job

__version__ = "0.1.0"
__all__ = ["Job", "__version__"]


def __getattr__(name: str) -> object:
    """Import the front door only when it is asked for: the command line must start at once."""
    if name == "Job":
        from handwound.job import Job

        return Job
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
