"""Reading: pasted text to recipes with offsets, and the questions it leaves open."""

from rewriter.reading.answers import AnswerError
from rewriter.reading.pipeline import load, read, read_ingredient
from rewriter.reading.second import second_reader

__all__ = ["AnswerError", "load", "read", "read_ingredient", "second_reader"]
