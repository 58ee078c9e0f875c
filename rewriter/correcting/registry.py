"""Corrections register here: one function a file in ``corrections/``, each yielding edits, notes and questions."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from rewriter.correcting.batch import Batch
from rewriter.correcting.kitchen import Kitchen
from rewriter.model import Edit, Note, Query, Recipe

Finding = Edit | Note | Query


@dataclass(frozen=True, slots=True)
class Case:
    """What a correction looks at: a recipe in a kitchen, and its batches."""

    recipe: Recipe
    kitchen: Kitchen
    batches: tuple[Batch, ...]


OnBatch = Callable[[Batch, Kitchen], Iterator[Finding]]
OnCase = Callable[[Case], Iterator[Finding]]

_ON_BATCH: dict[str, OnBatch] = {}
_ON_CASE: dict[str, OnCase] = {}


def for_batch(name: str) -> Callable[[OnBatch], OnBatch]:
    """Register a correction of one batter or dough."""

    def keep(function: OnBatch) -> OnBatch:
        _ON_BATCH[name] = function
        return function

    return keep


def for_recipe(name: str) -> Callable[[OnCase], OnCase]:
    """Register a correction or caution of the whole recipe."""

    def keep(function: OnCase) -> OnCase:
        _ON_CASE[name] = function
        return function

    return keep


@lru_cache(maxsize=1)
def corrections() -> tuple[tuple[OnBatch, ...], tuple[OnCase, ...]]:
    """Every registered correction, those of a batch and those of a recipe, by file name."""
    from rewriter.correcting import corrections as room

    for module in sorted(pkgutil.iter_modules(room.__path__), key=lambda found: found.name):
        importlib.import_module(f"{room.__name__}.{module.name}")
    return tuple(_ON_BATCH.values()), tuple(_ON_CASE.values())
