"""Amounts in the method that are part of a changed one: they change with it, and still add up."""

from __future__ import annotations

from rewriter.model import Change, Edit, Recipe
from rewriter.writing.manner import Voice


def portion_changes(
    text: str, recipe: Recipe, edits: tuple[Edit, ...], changes: list[Change], voice: Voice, taken: set[tuple[int, int]]
) -> list[Change]:
    return []
