"""PDF: its text layer by pypdfium2, with the box of every word; pages that are pictures are read as photos are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rewriter.errors import Unusable
from rewriter.intake import guards
from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.taken import Taken
from rewriter.model import Page, Word

_DPI = 200
_PRINT = "print it to a new PDF, or give a photo of it"
_HYPHENS = {"\x02": "-", "\ufffe": "-", "\u00ad": "-"}  # how the library gives a hyphen at a line's end


def read(data: bytes, limits: Limits = LIMITS) -> Taken:
    """The text of a PDF and its pages, numbered from 1; boxes in points (1/72 inch) from the top left.

    Raises Unusable where it is damaged, locked, a bomb, too long, or has no words and the extra ``photo`` is missing.
    """
    guards.pdf_fits(data, limits)
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as error:
        locked = "password" in str(error).lower()
        raise Unusable("this PDF is locked" if locked else f"this PDF is damaged ({error})", _PRINT) from None
    try:
        if len(document) > limits.pages:
            raise Unusable(f"this PDF has more than {limits.pages} pages", "give a part of it")
        return _read(document, limits)
    finally:
        document.close()


def _read(document: Any, limits: Limits) -> Taken:
    text, pages, warnings = "", [], []
    for number in range(1, len(document) + 1):
        sheet = document[number - 1]
        width, height = sheet.get_size()
        added, words = _layer(sheet, number, len(text), height)
        if not added.strip():
            added, words, told = _scanned(sheet, number, len(text), limits)
            warnings += told
        text += added
        pages.append(Page(number, width, height, tuple(words)))
        if number < len(document) and text and not text.endswith("\n\n"):
            text += "\n" if text.endswith("\n") else "\n\n"
        sheet.close()
    if not text.strip():
        raise Unusable("no words are found in this PDF", "; ".join(warnings) or _PRINT)
    return Taken(text.rstrip("\n") + "\n", tuple(pages), kind="pdf", warnings=tuple(dict.fromkeys(warnings)))


def _layer(sheet: Any, number: int, offset: int, height: float) -> tuple[str, list[Word]]:
    """A page's text layer in its own order, and its words."""
    layer = sheet.get_textpage()
    try:
        signs = list(_signs(layer, sheet))
    finally:
        layer.close()
    text, words, current = "", [], []
    left, bottom, _, top = sheet.get_cropbox()
    for sign, box in signs:
        if sign.isspace():
            words += _word(current, number, offset, (left, top))
            current = []
            if sign == "\n" or (sign != "\r" and not text.endswith((" ", "\n"))):
                text += sign if sign == "\n" else " "
            continue
        current.append((sign, box, len(text)))
        text += sign
    words += _word(current, number, offset, (left, top))
    del bottom
    return (text + "\n" if text and not text.endswith("\n") else text), words


def _signs(layer: Any, sheet: Any) -> Iterator[tuple[str, tuple[float, float, float, float]]]:
    import pypdfium2.raw as raw

    for index in range(layer.count_chars()):
        code = raw.FPDFText_GetUnicode(layer.raw, index)
        sign = chr(code) if 0 < code < 0x110000 and not 0xD800 <= code < 0xE000 else ""
        sign = _HYPHENS.get(sign, sign)
        if sign and (sign.isspace() or sign.isprintable()):
            yield sign, (0, 0, 0, 0) if sign.isspace() else layer.get_charbox(index, loose=True)


def _word(
    signs: list[tuple[str, tuple[float, float, float, float], int]],
    page: int,
    offset: int,
    corner: tuple[float, float],
) -> list[Word]:
    if not signs:
        return []
    left, top = corner
    boxes = [box for _, box, _ in signs]
    return [
        Word(
            "".join(sign for sign, _, _ in signs),
            min(box[0] for box in boxes) - left,
            top - max(box[3] for box in boxes),
            max(box[2] for box in boxes) - left,
            top - min(box[1] for box in boxes),
            page,
            offset + signs[0][2],
            offset + signs[-1][2] + len(signs[-1][0]),
        )
    ]


def _scanned(sheet: Any, number: int, offset: int, limits: Limits) -> tuple[str, list[Word], list[str]]:
    """A page without a text layer, read from its picture where the extra is installed."""
    width, height = sheet.get_size()
    scale = min(_DPI / 72, (limits.pixels / max(width * height, 1)) ** 0.5)
    try:
        from rewriter.intake.photo import recognise
    except ModuleNotFoundError:
        return "", [], [f"page {number} is a picture; pip install 'rewriter[photo]' to read it"]
    try:
        picture = sheet.render(scale=scale, grayscale=False).to_pil()
        text, words, told = recognise(picture, number, offset, scale)
    except ModuleNotFoundError:
        return "", [], [f"page {number} is a picture; pip install 'rewriter[photo]' to read it"]
    return text, list(words), told
