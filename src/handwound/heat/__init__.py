"""The driver's heat in full: from cold, on other supplies, in a duty, with music, and what would help. Read ``study``
first; each question has its file."""

from handwound.heat.study import study

__all__ = ["study"]
