"""Word-processor documents (.docx): paragraphs, lists, tables and text boxes, in their order, by python-docx."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from io import BytesIO
from typing import TYPE_CHECKING, Any

from rewriter.errors import Unusable
from rewriter.intake import guards
from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.taken import Taken

if TYPE_CHECKING:
    from docx.document import Document

_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_SAVE = "open it where it was made, and save it again"


def read(data: bytes, limits: Limits = LIMITS) -> Taken:
    """The words of a document, a line a paragraph, table cells apart by tabs.

    Raises Unusable where it is damaged, a bomb, or without words.
    """
    _guard(data, limits)
    import docx
    from docx.opc.exceptions import PackageNotFoundError

    try:
        document = docx.Document(BytesIO(data))
        lines = list(_lines(document))
    except (PackageNotFoundError, KeyError, ValueError, AttributeError, zipfile.BadZipFile, SyntaxError) as error:
        raise Unusable(f"this document is damaged ({error})", _SAVE) from None
    text = "\n".join(lines).strip("\n") + "\n"
    if not text.strip():
        raise Unusable("there are no words in this document", "if it holds pictures of recipes, give the pictures")
    pictures = len(document.inline_shapes)
    warnings = (f"{pictures} pictures in it are not read",) if pictures else ()
    return Taken(text, kind="document", warnings=warnings)


def _guard(data: bytes, limits: Limits) -> None:
    """Refuse bombs before the library sees the document: sizes of the members, entities in the XML."""
    try:
        with zipfile.ZipFile(BytesIO(data)) as packed:
            guards.zip_fits(packed, limits)
            for member in packed.infolist():
                if member.filename.endswith((".xml", ".rels")):
                    guards.xml(guards.member_bytes(packed, member, limits.file))
    except (zipfile.BadZipFile, OSError, ValueError) as error:
        if isinstance(error, Unusable):
            raise
        raise Unusable(f"this document is damaged ({error})", _SAVE) from None


def _lines(document: Document) -> Iterator[str]:
    from docx.table import Table

    counters: dict[str, int] = {}
    for block in document.iter_inner_content():
        if isinstance(block, Table):
            yield from _rows(block)
        else:
            yield from _paragraph(block, counters)


def _paragraph(paragraph: Any, counters: dict[str, int]) -> Iterator[str]:
    words = "".join(_words(paragraph._p))
    style = (paragraph.style.name or "") if paragraph.style is not None else ""
    if style.startswith("List Number"):
        counters[style] = counters.get(style, 0) + 1
        words = f"{counters[style]}. {words}"
    elif words.strip():
        counters.clear()
    yield from words.split("\n")
    for box in paragraph._p.iter(f"{_W}txbxContent"):
        if not any(parent.tag.endswith("}Fallback") for parent in box.iterancestors()):
            for inner in box.iter(f"{_W}p"):
                yield from "".join(_words(inner)).split("\n")


def _words(paragraph: Any) -> Iterator[str]:
    """The text of a paragraph as it stands: insertions are in, deletions and text boxes are not."""
    for child in paragraph:
        tag = child.tag.removeprefix(_W) if isinstance(child.tag, str) else ""
        if tag == "r":
            yield from _run(child)
        elif tag in ("hyperlink", "ins", "smartTag", "sdt", "sdtContent", "moveTo", "fldSimple"):
            yield from _words(child)


def _run(run: Any) -> Iterator[str]:
    for child in run:
        tag = child.tag.removeprefix(_W) if isinstance(child.tag, str) else ""
        if tag == "t":
            yield child.text or ""
        elif tag == "tab":
            yield "\t"
        elif tag in ("br", "cr"):
            yield "\n"
        elif tag == "noBreakHyphen":
            yield "-"


def _rows(table: Any) -> Iterator[str]:
    """A line a row; in a column of its own a cell's paragraphs stay lines (two-column cards)."""
    for row in table.rows:
        cells, seen = [], set()
        for cell in row.cells:
            if id(cell._tc) not in seen:
                seen.add(id(cell._tc))
                cells.append(cell)
        if any(len(cell.paragraphs) > 2 for cell in cells):
            for cell in cells:
                for paragraph in cell.paragraphs:
                    yield from "".join(_words(paragraph._p)).split("\n")
                yield ""
        else:
            yield "\t".join(" ".join(cell.text.split()) for cell in cells).rstrip()
    yield ""
