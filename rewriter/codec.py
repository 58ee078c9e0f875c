r"""Bytes to text and back, so that what a person did not change comes back byte for byte.

Byte-order marks, older encodings and line ends are kept. An encoding that does not say its name is guessed by the
characters that recipes have: a fraction or a degree sign where the other reading has a letter of another alphabet.

>>> text, form = decode("1½ cups".encode("cp1252"))
>>> text, form.encoding, encode(text, form) == b"1\xbd cups"
('1½ cups', 'cp1252', True)
"""

from __future__ import annotations

import codecs
from dataclasses import dataclass

from rewriter.errors import Unusable

_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
# Eight-bit encodings of Windows, DOS and the old Macintosh; latin-1 takes whatever they leave.
_OLDER = ("cp1252", "cp437", "mac_roman", "latin-1")
_LIKELY = frozenset("½¼¾°éèêëàâäáåæçñóöøüûúîïíßÉ’‘“”–—•…×£\u00a0")
_KINDS = (
    (b"%PDF", "a PDF"),
    (b"PK\x03\x04", "a word-processor document or an archive"),
    (b"\xff\xd8\xff", "a photo"),
    (b"\x89PNG", "a picture"),
    (b"GIF8", "a picture"),
    (b"{\\rtf", "a rich-text document"),
    (b"\xd0\xcf\x11\xe0", "a word-processor document"),
)
_COPY = "copy the recipe's words out of it and paste those"


@dataclass(frozen=True, slots=True)
class Form:
    """How text stood in a file: its encoding, and the byte-order mark before it (b"" where there was none)."""

    encoding: str = "utf-8"
    mark: bytes = b""


def decode(data: bytes) -> tuple[str, Form]:
    r"""Text and the form it had; ``encode(text, form)`` gives the same bytes. Line ends are left as they are.

    Raises Unusable where the bytes are no text.

    >>> decode(b"\xef\xbb\xbf2 eggs\r\n")
    ('2 eggs\r\n', Form(encoding='utf-8', mark=b'\xef\xbb\xbf'))
    """
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _marked(data, Form(encoding, mark)), Form(encoding, mark)
    for start, kind in _KINDS:
        if data.startswith(start):
            raise Unusable(f"this is {kind}, not text", _COPY)
    wide = _wide(data)
    if wide:
        return _marked(data, Form(wide)), Form(wide)
    try:
        return data.decode("utf-8"), Form()
    except UnicodeDecodeError:
        return _older(data)


def encode(text: str, form: Form) -> bytes:
    """Bytes of text in a form. Raises UnicodeEncodeError where the encoding lacks a character."""
    return form.mark + text.encode(form.encoding)


def _marked(data: bytes, form: Form) -> str:
    try:
        return data[len(form.mark) :].decode(form.encoding)
    except UnicodeDecodeError:
        raise Unusable(f"the file says it is {form.encoding.upper()} text, but is damaged or binary", _COPY) from None


def _wide(data: bytes) -> str:
    """Name UTF-16 without its mark: every other byte of western text is then zero."""
    if len(data) < 4 or len(data) % 2 or b"\0" not in data[:400]:
        return ""
    for encoding, zeros, letters in (("utf-16-le", data[1::2], data[::2]), ("utf-16-be", data[::2], data[1::2])):
        if zeros.count(0) > 0.7 * len(zeros) and letters.count(0) == 0:
            return encoding
    return ""


def _older(data: bytes) -> tuple[str, Form]:
    best: tuple[int, str, str] | None = None
    for encoding in _OLDER:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        score = sum(1 if sign in _LIKELY else -1 for sign in text if sign > "\x7f")
        if best is None or score > best[0]:
            best = (score, text, encoding)
    if best is None:  # latin-1 takes every byte; here only for the type
        raise Unusable("this is no text", _COPY)
    return best[1], Form(best[2])
