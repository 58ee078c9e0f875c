"""Open documents (.odt, ISO/IEC 26300): paragraphs, headings, lists and tables in their order."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from io import BytesIO
from typing import TYPE_CHECKING

from rewriter.errors import Unusable
from rewriter.intake import guards
from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.taken import Taken

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_DRAW = "{urn:oasis:names:tc:opendocument:xmlns:drawing:1.0}"
_STYLE = "{urn:oasis:names:tc:opendocument:xmlns:style:1.0}"
_UNREAD = (f"{_TEXT}tracked-changes", f"{_OFFICE}annotation", f"{_TEXT}note", f"{_TEXT}table-of-content")
_SAVE = "open it where it was made, and save it again"
_MOST_BLANKS = 1000


def read(data: bytes, limits: Limits = LIMITS) -> Taken:
    """The words of a document, a line a paragraph, table cells apart by tabs.

    Raises Unusable where it is damaged, a bomb, locked, or without words.
    """
    content, styles = _opened(data, limits)
    body = content.find(f"{_OFFICE}body/{_OFFICE}text")
    lines = list(_blocks(body, _numbered(content, styles))) if body is not None else []
    text = "\n".join(lines).strip("\n") + "\n"
    if not text.strip():
        raise Unusable("there are no words in this document", "if it holds pictures of recipes, give the pictures")
    pictures = sum(1 for _ in content.iter(f"{_DRAW}image"))
    return Taken(text, kind="document", warnings=(f"{pictures} pictures in it are not read",) if pictures else ())


def _opened(data: bytes, limits: Limits) -> tuple[Element, Element | None]:
    """The XML of the content and of the styles."""
    try:
        with zipfile.ZipFile(BytesIO(data)) as packed:
            guards.zip_fits(packed, limits)
            names = packed.namelist()
            if "META-INF/manifest.xml" in names:
                manifest = guards.member_bytes(packed, packed.getinfo("META-INF/manifest.xml"), limits.file)
                if b"encryption-data" in manifest:
                    raise Unusable("this document is locked with a password", "save it without one")
            content = guards.member_bytes(packed, packed.getinfo("content.xml"), limits.file)
            styles = None
            if "styles.xml" in names:
                styles = guards.xml(guards.member_bytes(packed, packed.getinfo("styles.xml"), limits.file))
            return guards.xml(content), styles
    except (zipfile.BadZipFile, KeyError, OSError, ValueError) as error:
        if isinstance(error, Unusable):
            raise
        raise Unusable(f"this document is damaged ({error})", _SAVE) from None


def _numbered(*parts: Element | None) -> frozenset[str]:
    """The names of the list styles whose first level counts."""
    found = set()
    for part in parts:
        for style in part.iter(f"{_TEXT}list-style") if part is not None else ():
            first = next(iter(style), None)
            if first is not None and first.tag == f"{_TEXT}list-level-style-number":
                found.add(style.get(f"{_STYLE}name", ""))
    return frozenset(found)


def _blocks(parent: Element, numbered: frozenset[str]) -> Iterator[str]:
    for block in parent:
        if block.tag in (f"{_TEXT}p", f"{_TEXT}h"):
            yield from "".join(_words(block)).split("\n")
        elif block.tag == f"{_TEXT}list":
            yield from _list(block, numbered)
        elif block.tag == f"{_TABLE}table":
            yield from _rows(block)
        elif block.tag not in _UNREAD:
            yield from _blocks(block, numbered)


def _list(block: Element, numbered: frozenset[str]) -> Iterator[str]:
    counts = block.get(f"{_TEXT}style-name", "") in numbered
    for number, item in enumerate(block.findall(f"{_TEXT}list-item"), start=1):
        lines = list(_blocks(item, numbered))
        yield from [f"{number}. {lines[0]}", *lines[1:]] if counts and lines else lines


def _words(paragraph: Element) -> Iterator[str]:
    """The text of a paragraph as it stands: comments, notes and deleted words are not in."""
    yield paragraph.text or ""
    for child in paragraph:
        if child.tag == f"{_TEXT}s":
            yield " " * min(_count(child.get(f"{_TEXT}c", "1")), _MOST_BLANKS)
        elif child.tag == f"{_TEXT}tab":
            yield "\t"
        elif child.tag == f"{_TEXT}line-break":
            yield "\n"
        elif child.tag == f"{_DRAW}frame":
            for box in child.iter(f"{_DRAW}text-box"):
                yield "\n" + "\n".join(_blocks(box, frozenset())) + "\n"
        elif child.tag not in _UNREAD:
            yield from _words(child)
        yield child.tail or ""


def _count(told: str) -> int:
    return int(told) if told.isdecimal() else 1


def _rows(table: Element) -> Iterator[str]:
    """A line a row, what is repeated only for its looks once."""
    for row in table.iter(f"{_TABLE}table-row"):
        cells = [" ".join(" ".join(_blocks(cell, frozenset())).split()) for cell in row.findall(f"{_TABLE}table-cell")]
        yield "\t".join(cells).rstrip()
    yield ""
