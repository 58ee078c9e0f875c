"""The styles: each is a module in writing/styled that registers one writer. Loaded only when asked for.

>>> "inline" in styles()
True
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from importlib.resources import files
from typing import Protocol

from rewriter.errors import Unusable
from rewriter.model import Air, Change, Plan, Query, Recipe


@dataclass(frozen=True, slots=True)
class Job:
    """All that a style writes from: the pasted text, what was read, planned and measured, and how much to explain."""

    text: str
    recipes: Sequence[Recipe]
    plans: Sequence[Plan]
    changes: Sequence[Change]
    queries: Sequence[Query]
    air: Air
    explain: str = "short"


class Writer(Protocol):
    """Writes a job: text, or bytes for styles that are files."""

    def __call__(self, job: Job) -> str | bytes:
        """The finished text or file."""


@dataclass(frozen=True, slots=True)
class Style:
    """A style: its name, its writer, its file ending, and whether ``strip`` gives the pasted text back."""

    name: str
    write: Writer
    suffix: str = ".txt"
    reversible: bool = True
    binary: bool = False


_STYLES: dict[str, Style] = {}


def style(
    name: str, *, suffix: str = ".txt", reversible: bool = True, binary: bool = False
) -> Callable[[Writer], Writer]:
    """Register a function as the writer of a style."""

    def register(write: Writer) -> Writer:
        _STYLES[name] = Style(name, write, suffix, reversible, binary)
        return write

    return register


@cache
def styles() -> tuple[str, ...]:
    """The names of all styles, inline first."""
    folder = files("rewriter.writing") / "styled"
    names = {entry.name[:-3] for entry in folder.iterdir() if entry.name.endswith(".py") and entry.name[0] != "_"}
    return ("inline", *sorted(names - {"inline"}))


def find(name: str) -> Style:
    """A style by its name.

    Raises Unusable (a ValueError) for an unknown one, and where what it is written with is not installed.
    """
    if name not in _STYLES:
        if name not in styles():
            raise Unusable(f'there is no style "{name}"', f"choose one of {', '.join(styles())}")
        try:
            import_module(f"rewriter.writing.styled.{name}")
        except ModuleNotFoundError as missing:
            raise Unusable(f"the {name} style needs {missing.name}", 'pip install "rewriter[docs]"') from missing
    return _STYLES[name]
