"""Frozen records that are quick to make.

A frozen dataclass sets each of its fields through ``object.__setattr__``, which takes half the time of making it. Here
a new record is a plain object of the same slots while its fields are set, and only then becomes what it is.

>>> @record
... class Point:
...     x: int
...     y: int = 0
>>> Point(3)
Point(x=3, y=0)
>>> Point(3).x = 4
Traceback (most recent call last):
dataclasses.FrozenInstanceError: cannot assign to field 'x'
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, TypeVar, cast, dataclass_transform

_Made = TypeVar("_Made")


@dataclass_transform(frozen_default=True)
def record(cls: type[_Made]) -> type[_Made]:
    """As ``dataclass(frozen=True, slots=True)``, with a quicker ``__init__``; a default cannot be a factory."""
    made: Any = dataclass(frozen=True, slots=True)(cls)
    slow = made.__init__
    names = [field.name for field in fields(made)]
    lines = [
        f"def __init__(self, {', '.join(names)}):",
        " become(self, '__class__', Draft)",
        *(f" self.{name} = {name}" for name in names),
        " self.__class__ = Made",
    ]
    draft = type("Draft", (), {"__slots__": names})
    room: dict[str, Any] = {"become": object.__setattr__, "Draft": draft, "Made": made}
    exec("\n".join(lines), room)  # its words are the names of the fields
    quick = room["__init__"]
    for name in ("__defaults__", "__annotations__", "__qualname__", "__module__"):
        setattr(quick, name, getattr(slow, name))
    made.__init__ = quick
    return cast("type[_Made]", made)
