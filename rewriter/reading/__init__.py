"""Reading: pasted text to recipes with offsets, and the questions it leaves open."""

from rewriter.reading.answers import AnswerError
from rewriter.reading.pipeline import load, read, read_ingredient

__all__ = ["AnswerError", "load", "read", "read_ingredient"]
