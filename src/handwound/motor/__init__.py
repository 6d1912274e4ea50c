"""The motor in full: what its field gives, what each part of it is worth, what it pulls, how it takes alternating
current, and how it hums. Read ``study`` first; each question has its file."""

from handwound.motor.study import study

__all__ = ["study"]
