"""Photos: optical character recognition by rapidocr on onnxruntime (extra ``photo``), loaded when first needed."""

from __future__ import annotations

import logging
import re
import warnings as python_warnings
from collections.abc import Iterator
from functools import cache
from io import BytesIO
from math import atan2, degrees, hypot
from statistics import median
from typing import Any

from rewriter.errors import Unusable
from rewriter.intake.columns import Box, Sheet, arranged
from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.taken import Taken

DOUBT = 0.85  # below this a piece that holds a figure is named in a warning
LONG_SIDE = 792.0  # points: a photo is as large as a letter page
_LARGEST = 2600  # pixels; a longer side is scaled down before reading, nothing legible is lost
_SMALLEST = 1100  # a shorter one is scaled up, so that small print can be read
_MOST = 0.999  # what a machine read is never as sure as a text layer, whose words have 1
_LEGIBLE = 0.85  # read less surely than this, a picture may stand on its head
_TURN = "turn it upright and give it again"
_RETAKE = "take it again in better light, or type it"
_FIGURE = re.compile(r"\d|[½¼¾⅓⅔⅛]")


def read(data: bytes, limits: Limits = LIMITS) -> Taken:
    """The text of a photo in reading order, and its page: the photo, upright, its long side 792 points.

    Raises Unusable where it is damaged, too large, not upright, or no words are found; ModuleNotFoundError
    without the extra.
    """
    picture = opened(data, limits)
    scale = max(picture.size) / LONG_SIDE
    boxes, skew, warnings = recognise(picture, 1, scale)
    text, pages = arranged(boxes, {1: Sheet(picture.width / scale, picture.height / scale, skew)})
    if not text.strip():
        raise Unusable("no words are found in this photo", _RETAKE)
    return Taken(text, pages, kind="photo", warnings=tuple(warnings))


def opened(data: bytes, limits: Limits = LIMITS) -> Any:
    """The picture, upright and in colour. Raises Unusable where it is damaged or has too many pixels."""
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with python_warnings.catch_warnings():
            python_warnings.simplefilter("error", Image.DecompressionBombWarning)
            picture = Image.open(BytesIO(data))
            if picture.width * picture.height > limits.pixels:
                raise Unusable(f"this picture has more than {limits.pixels // 1_000_000} megapixels", "make it smaller")
            picture.load()
            return ImageOps.exif_transpose(picture).convert("RGB")
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise Unusable("this picture is far too large", "make it smaller") from None
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, EOFError) as error:
        if isinstance(error, Unusable):
            raise
        raise Unusable(f"this picture is damaged ({error})", "copy it again from where it came") from None


def recognise(picture: Any, page: int, scale: float) -> tuple[list[Box], float, list[str]]:
    """The words of a picture, boxes in units of ``scale`` pixels; how far its lines are turned; what was hard to read.

    Raises Unusable where the picture lies on its side or stands on its head.
    """
    import numpy

    zoom = _zoom(max(picture.size))
    if zoom != 1.0:
        picture = picture.resize((max(round(picture.width * zoom), 1), max(round(picture.height * zoom), 1)))
    pixels = numpy.asarray(picture.convert("RGB"))[:, :, ::-1]  # the engine takes blue, green, red
    found = _engine()(pixels, use_cls=False, return_word_box=True)
    if found.boxes is None or not len(found.boxes):
        return [], 0.0, []
    if len(found.boxes) > 2 and sum(map(_tall, found.boxes)) > 0.6 * len(found.boxes):
        raise Unusable("this photo lies on its side", _TURN)
    if _sure(found) < _LEGIBLE and _sure(_engine()(pixels[::-1, ::-1], use_cls=False)) > _sure(found) + 0.1:
        raise Unusable("this photo stands on its head", _TURN)
    lines = zip(found.txts, found.word_results, strict=True)
    boxes = [box for text, words in lines for box in _boxes(text, words, page, scale * zoom)]
    told = [
        f'"{box.text}" on page {page} was hard to read: compare it with the card'
        for box in boxes
        if box.confidence < DOUBT and _FIGURE.search(box.text)
    ]
    return boxes, _skew(list(found.boxes)), told


def _sure(found: Any) -> float:
    """How sure the engine was of its lines, on the whole."""
    return sum(found.scores) / len(found.scores) if found.scores else 0.0


def _zoom(longest: int) -> float:
    if longest > _LARGEST:
        return _LARGEST / longest
    return min(_SMALLEST / longest, 3.0) if longest < _SMALLEST else 1.0


def _boxes(text: str, words: Any, page: int, scale: float) -> Iterator[Box]:
    """The words of one line; one stands glued to the word before it where the line as read has no space there."""
    at = 0
    for word, confidence, corners in words:
        if not word.strip():
            continue
        place = text.find(word, at)
        glued = place == at and at > 0
        at = place + len(word) if place >= 0 else at
        across, down = [float(x) / scale for x, _ in corners], [float(y) / scale for _, y in corners]
        yield Box(word, min(across), min(down), max(across), max(down), page, min(float(confidence), _MOST), glued)


def _tall(corners: Any) -> bool:
    across = hypot(corners[1][0] - corners[0][0], corners[1][1] - corners[0][1])
    down = hypot(corners[3][0] - corners[0][0], corners[3][1] - corners[0][1])
    return bool(down > 1.5 * across)


def _skew(lines: list[Any]) -> float:
    """The usual turn of the longer lines; none where it is too small to see."""
    turns = [(hypot(c[1][0] - c[0][0], c[1][1] - c[0][1]), _turn(c)) for c in lines]
    longest = max(length for length, _ in turns)
    turn = median(turn for length, turn in turns if length >= 0.4 * longest)
    return turn if abs(turn) > 0.1 else 0.0


def _turn(corners: Any) -> float:
    top = atan2(float(corners[1][1] - corners[0][1]), float(corners[1][0] - corners[0][0]))
    bottom = atan2(float(corners[2][1] - corners[3][1]), float(corners[2][0] - corners[3][0]))
    return degrees((top + bottom) / 2)


@cache
def _engine() -> Any:
    """The engine, loaded once; its models lie in its package, so nothing is fetched."""
    from rapidocr import RapidOCR

    logging.getLogger("RapidOCR").setLevel(logging.ERROR)
    return RapidOCR(params={"Global.log_level": "error"})
