"""The driver's sound in full: what moves, what holds it, where it bends, what is heard, places, one tone. Read
``study`` first; each question has its file."""

from handwound.sound.study import study

__all__ = ["study"]
