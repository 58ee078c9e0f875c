"""PDF: the words of its text layer, each with its box; a page that is only a picture is read as a photo is."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from math import degrees
from statistics import median
from typing import Any

from rewriter.errors import Unusable
from rewriter.intake import guards
from rewriter.intake.columns import Box, Sheet, arranged
from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.taken import Taken

FEWEST = 8  # characters of a text layer; with fewer the page is taken for a picture
SCAN_DPI = 200
Corners = tuple[float, float, float, float]  # left, top, right, bottom
_PRINT = "print it to a new PDF, or give a photo of it"
_HYPHENS = {"\x02": "-", "\ufffe": "-", "\u00ad": "-"}  # how the library gives a hyphen at a line's end


def read(data: bytes, limits: Limits = LIMITS) -> Taken:
    """The text of a PDF in reading order and its pages, numbered from 1.

    Boxes are in points (1/72 inch) from the top left of the page as it is shown, rotation and crop applied. Raises
    Unusable where it is damaged, locked, a bomb, too long, or has no words and the extra ``photo`` is missing.
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
    boxes: list[Box] = []
    sheets: dict[int, Sheet] = {}
    warnings: list[str] = []
    for number in range(1, len(document) + 1):
        page = document[number - 1]
        found, sheets[number], told = _page(page, number, limits)
        boxes += found
        warnings += told
        page.close()
    text, pages = arranged(boxes, sheets)
    if not text.strip():
        raise Unusable("no words are found in this PDF", "; ".join(warnings) or _PRINT)
    return Taken(text, pages, kind="pdf", warnings=tuple(dict.fromkeys(warnings)))


def _page(page: Any, number: int, limits: Limits) -> tuple[list[Box], Sheet, list[str]]:
    width, height = page.get_size()
    text = page.get_textpage()
    try:
        boxes, turns = _words(page, text, number)
    finally:
        text.close()
    if sum(len(box.text) for box in boxes) >= FEWEST or not any(True for _ in page.get_objects()):
        return boxes, Sheet(width, height, _skew(turns)), []
    scale = min(SCAN_DPI / 72, (limits.pixels / max(width * height, 1)) ** 0.5)
    try:
        from rewriter.intake import photo

        seen, skew, told = photo.recognise(page.render(scale=scale).to_pil(), number, scale)
    except ModuleNotFoundError:
        lacking = f"page {number} is a picture; pip install 'rewriter[photo]' to read it"
        return boxes, Sheet(width, height), [lacking]
    return seen, Sheet(width, height, skew), told


def _words(page: Any, text: Any, number: int) -> tuple[list[Box], list[float]]:
    """Words as runs of characters without a gap, and how far each character is turned."""
    runs: list[list[tuple[str, Corners]]] = []
    turns: list[float] = []
    going = False
    for sign, corners, turn in _signs(page, text):
        if sign.isspace() or not sign.isprintable():
            going = False
            continue
        turns.append(turn)
        if going and _follows(runs[-1][-1][1], corners):
            runs[-1].append((sign, corners))
        else:
            runs.append([(sign, corners)])
        going = True
    return [_box(run, number) for run in runs], turns


def _box(run: list[tuple[str, Corners]], number: int) -> Box:
    lefts, tops, rights, bottoms = zip(*(corners for _, corners in run), strict=True)
    return Box("".join(sign for sign, _ in run), min(lefts), min(tops), max(rights), max(bottoms), number)


def _follows(last: Corners, new: Corners) -> bool:
    """Whether a character stands right behind another, in its line; the letters of a ligature share a box."""
    tall = max(min(last[3] - last[1], new[3] - new[1]), 1.0)
    beside = new[0] > last[0] - 0.1 * tall and new[0] - last[2] < 0.4 * tall
    return beside and min(last[3], new[3]) - max(last[1], new[1]) > 0.25 * tall


def _signs(page: Any, text: Any) -> Iterator[tuple[str, Corners, float]]:
    """Each character with its box from the top left of the page as shown, and its turn in degrees, clockwise."""
    import pypdfium2.raw as raw

    left, bottom, right, top = page.get_cropbox(fallback_ok=True)
    rotation = page.get_rotation()
    box = raw.FS_RECTF()
    for index in range(text.count_chars()):
        code = raw.FPDFText_GetUnicode(text.raw, index)
        sign = chr(code) if 0 < code < 0x110000 and not 0xD800 <= code < 0xE000 else " "
        if not raw.FPDFText_GetLooseCharBox(text.raw, index, ctypes.byref(box)):
            continue
        corners = {
            0: (box.left - left, top - box.top, box.right - left, top - box.bottom),
            90: (box.bottom - bottom, box.left - left, box.top - bottom, box.right - left),
            180: (right - box.right, box.bottom - bottom, right - box.left, box.top - bottom),
            270: (top - box.top, right - box.right, top - box.bottom, right - box.left),
        }[rotation]
        turn = (degrees(raw.FPDFText_GetCharAngle(text.raw, index)) + rotation + 180) % 360 - 180
        yield _HYPHENS.get(sign, sign), corners, turn


def _skew(turns: list[float]) -> float:
    """The turn of most characters; none where it is too small to see or too large to be a slip."""
    turn = median(turns) if turns else 0.0
    return turn if 0.05 < abs(turn) < 30 else 0.0
