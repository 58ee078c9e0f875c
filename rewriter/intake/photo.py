"""Photos: optical character recognition by rapidocr on onnxruntime (extra ``photo``), loaded when first needed."""

from __future__ import annotations

import logging
import re
import warnings as python_warnings
from functools import cache
from io import BytesIO
from typing import Any

from rewriter.errors import Unusable
from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.places import Box, lay_out
from rewriter.intake.taken import Taken
from rewriter.model import Page, Word

DOUBT = 0.85  # below this a piece that holds a figure is named in a warning
_SIDE = 2600  # pixels; a longer side is scaled down before reading, nothing legible is lost
_RETAKE = "take it again in better light, or type it"


def read(data: bytes, limits: Limits = LIMITS) -> Taken:
    """The text of a photo; page coordinates are its pixels, turned upright.

    Raises Unusable where it is damaged, too large, or no words are found; ModuleNotFoundError without the extra.
    """
    picture = opened(data, limits)
    text, words, warnings = recognise(picture, 1, 0, 1.0)
    if not text.strip():
        raise Unusable("no words are found in this photo", _RETAKE)
    page = Page(1, float(picture.width), float(picture.height), words)
    return Taken(text, (page,), kind="photo", warnings=tuple(warnings))


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


def recognise(picture: Any, page: int, offset: int, scale: float) -> tuple[str, tuple[Word, ...], list[str]]:
    """Text of a picture, its words in units of ``1 / scale`` pixels, and what was hard to read."""
    import numpy

    shrink = min(1.0, _SIDE / max(picture.size))
    if shrink < 1.0:
        picture = picture.resize((round(picture.width * shrink), round(picture.height * shrink)))
    found = _engine()(numpy.asarray(picture)[:, :, ::-1])  # the engine takes blue, green, red
    if found.boxes is None or not len(found.boxes):
        return "", (), []
    factor = scale * shrink
    boxes = [_box(*one, factor) for one in zip(found.boxes, found.txts, found.scores, strict=True)]
    text, words = lay_out([box for box in boxes if box.text.strip()], picture.width / factor, page, offset)
    doubtful = [box for box in boxes if box.confidence < DOUBT and re.search(r"\d|[½¼¾⅓⅔⅛]", box.text)]
    told = [f'"{box.text}" on page {page} was hard to read: compare it with the card' for box in doubtful]
    return text, words, told


def _box(corners: Any, text: str, score: float, factor: float) -> Box:
    across, down = corners[:, 0] / factor, corners[:, 1] / factor
    edges = float(across.min()), float(down.min()), float(across.max()), float(down.max())
    return Box(text, *edges, confidence=float(score))


@cache
def _engine() -> Any:
    from rapidocr import RapidOCR

    logging.getLogger("RapidOCR").setLevel(logging.ERROR)
    return RapidOCR(params={"Global.log_level": "error"})
