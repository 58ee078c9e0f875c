"""Take one file, or each file in an archive."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from typing import Any

from rewriter.codec import decode
from rewriter.errors import Unusable
from rewriter.intake import guards
from rewriter.intake.apart import KINDS, Apart
from rewriter.intake.limits import LIMITS, Limits, check
from rewriter.intake.sniff import sniff
from rewriter.intake.taken import Taken

# kind: the module that reads it; each has ``read(data, limits) -> Taken`` and is loaded only when it is needed.
READERS = {
    "web page": "webpage",
    "recipe data": "data",
    **KINDS,
}
# Control characters that no recipe has; a few of them may be scanning dirt, many are a program or a picture.
_BINARY = re.compile("[\x00-\x08\x0e-\x1a\x7f]")


def take(source: str | Path | bytes, name: str = "", limits: Limits = LIMITS) -> Taken:
    r"""A file's text, whatever kind of file it is.

    source: a path, or the bytes themselves; name: what to call it (by default the path's last part); its ending helps
    to tell what it is. Raises Unusable, with what is wrong and how to mend it, where it is damaged, too large, made to
    harm, of a kind that is not read, an archive (see :func:`take_each`), or not there; ModuleNotFoundError where
    reading it needs an extra that is not installed.

    >>> take(b"Snow Cake\n2 cups flour\n", "snow.txt").kind
    'text'
    """
    data, name = _bytes(source, name, limits)
    kind = sniff(data, name)
    if kind == "archive":
        raise Unusable(f"{name or 'this'} is an archive of several files", "unpack it, or bring it into a recipe box")
    return _taken(data, name, kind, limits)


def take_each(
    source: str | Path | bytes,
    name: str = "",
    limits: Limits = LIMITS,
    known: Callable[[bytes], bool] | None = None,
    reader: Apart | None = None,
) -> Iterator[Taken | tuple[str, bytes, Exception]]:
    """Every file in an archive, or the one file that it is; nothing is unpacked to disk.

    Where one cannot be read, its name, its bytes (b"" where it was refused unread) and the error stand in its place,
    and the rest go on. ``known`` is asked about each file's bytes first; what it knows is given as a :class:`Taken` of
    the kind "known" without being read. reader: reads PDFs, photos and documents in a process of its own.
    """
    try:
        data, name = _bytes(source, name, limits)
    except Unusable as error:
        yield name or str(source), b"", error
        return
    yield from _each(data, name, _Way(limits, known or _unknown, reader), 0)


def _unknown(_: bytes) -> bool:
    return False


@dataclass(frozen=True, slots=True)
class _Way:
    limits: Limits
    known: Callable[[bytes], bool]
    reader: Apart | None


def _each(data: bytes, name: str, way: _Way, depth: int) -> Iterator[Taken | tuple[str, bytes, Exception]]:
    try:
        kind = sniff(data, name)
        if kind == "archive":
            yield from _members(data, name, way, depth)
        elif way.known(data):
            yield Taken("", origin=name, kind="known", data=data)
        else:
            yield _taken(data, name, kind, way.limits, way.reader)
    except (Unusable, ModuleNotFoundError) as error:
        yield name, data, error
    except (MemoryError, RecursionError) as error:
        yield name, data, Unusable(f"this is too much to read ({type(error).__name__})", "split it")


def _members(data: bytes, name: str, way: _Way, depth: int) -> Iterator[Taken | tuple[str, bytes, Exception]]:
    if depth >= way.limits.depth:
        raise guards.bomb(f"archives within archives, {way.limits.depth + 1} deep")
    from rewriter.intake.archive import members

    empty = True
    for inner, content in members(data, way.limits):
        empty = False
        if isinstance(content, Unusable):
            yield f"{name}: {inner}", b"", content
        else:
            yield from _each(content, f"{name}: {inner}", way, depth + 1)
    if empty:
        raise Unusable("there are no files in this archive", "")


def _bytes(source: str | Path | bytes, name: str, limits: Limits) -> tuple[bytes, str]:
    if isinstance(source, bytes):
        check(name or "this", len(source), limits.file)
        return source, name
    path = Path(source)
    name = name or path.name
    try:
        if not path.is_file():
            raise Unusable(f"{path} is no file" if path.exists() else f"{path} is not there", "check its name")
        check(name, path.stat().st_size, limits.file)
        with path.open("rb") as opened:
            data = opened.read(limits.file + 1)
    except OSError as error:
        raise Unusable(f"{path} cannot be read: {error.strerror}", "check its name and who may read it") from None
    check(name, len(data), limits.file)
    return data, name


def _taken(data: bytes, name: str, kind: str, limits: Limits, reader: Apart | None = None) -> Taken:
    if reader is not None and kind in KINDS:
        taken = reader.read(kind, data)
    elif kind in READERS:
        module: Any = import_module(f"rewriter.intake.{READERS[kind]}")
        taken = module.read(data, limits)
    else:
        taken = _text(data, kind)
    check(f"the text of {name or 'this'}", len(taken.text), limits.text)
    return replace(taken, origin=name, data=data)


def _text(data: bytes, kind: str) -> Taken:
    text, form = decode(data)
    if not text.strip("\ufeff\u200b \t\r\n\v\f"):
        raise Unusable("the file is empty", "")
    start = text[:20_000]
    if len(_BINARY.findall(start)) > 0.02 * len(start):
        raise Unusable("this is binary data, not text", "give it a recipe")
    return Taken(text, kind=kind, form=form)
