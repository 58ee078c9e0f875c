r"""What kind of file it is: by its first bytes, then by its name, then by its words.

>>> sniff(b"%PDF-1.7", "card"), sniff(b"2 eggs", "card.txt"), sniff(b"<!doctype html><p>2 eggs", "card")
('pdf', 'text', 'web page')
"""

from __future__ import annotations

import re
import zipfile
from io import BytesIO
from pathlib import PurePosixPath

from rewriter.errors import Unusable

_PICTURES = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"GIF8", b"BM", b"II*\0", b"MM\0*")
_TEXT_NAMES = {
    ".md": "markdown",
    ".markdown": "markdown",
    ".html": "web page",
    ".htm": "web page",
    ".xhtml": "web page",
    ".json": "recipe data",
    ".jsonl": "recipe data",
    ".jsonld": "recipe data",
    ".ndjson": "recipe data",
}
_COMPRESSED = (b"\x1f\x8b", b"BZh", b"\xfd7zXZ\0")
_UNREAD = (
    (
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1",
        "a document of an older word processor",
        "save it as .docx, .odt or .rtf",
    ),
    (b"7z\xbc\xaf\x27\x1c", "an archive of a kind that is not read", "pack it as .zip"),
    (b"Rar!", "an archive of a kind that is not read", "pack it as .zip"),
    (b"SQLite format 3\0", "a database", "if it is a recipe box, take its recipes out of it as JSON Lines"),
    (b"\x7fELF", "a program", "give it recipes"),
    (b"MZ", "a program", "give it recipes"),
)
_OPEN_TEXT = b"application/vnd.oasis.opendocument.text"
_PAGE = re.compile(
    rb"\s*(?:<!--.*?-->\s*)*<(?:!doctype\s+html|html|head|body|\?xml[^>]*>\s*<(?:!doctype\s+)?html)", re.I
)


def sniff(data: bytes, name: str = "") -> str:
    """The kind of a file: one of :class:`Taken`'s kinds, or "archive".

    Raises Unusable where it is of a kind that is never read, and says what to do.
    """
    suffix = PurePosixPath(name.replace("\\", "/")).suffix.lower()
    if data[:1024].lstrip().startswith(b"%PDF-"):
        return "pdf"
    if _picture(data, suffix):
        return "photo"
    if data.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        return _zipped(data)
    if data.startswith(_COMPRESSED) or data[257:262] == b"ustar":
        return "archive"
    if data.startswith(b"{\\rtf"):
        return "rich text"
    for start, what, mend in _UNREAD:
        if data.startswith(start) and (len(start) > 2 or b"\0" in data[:200]):
            raise Unusable(f"this is {what}", mend)
    if _PAGE.match(data[:4096].removeprefix(b"\xef\xbb\xbf")):
        return "web page"
    return _TEXT_NAMES.get(suffix, "text")


def _picture(data: bytes, suffix: str) -> bool:
    if data[4:8] == b"ftyp" and data[8:12] in (b"heic", b"heix", b"mif1", b"avif"):
        raise Unusable("this is a photo of a kind that is not read", "save it as JPEG or PNG")
    if data.startswith(b"RIFF") and data[8:12] == b"WEBP":
        return True
    return data.startswith(_PICTURES) and (not data.startswith(b"BM") or suffix == ".bmp")


def _zipped(data: bytes) -> str:
    try:
        with zipfile.ZipFile(BytesIO(data)) as packed:
            names = set(packed.namelist())
            said = packed.open("mimetype").read(99) if "mimetype" in names else b""
    except (zipfile.BadZipFile, ValueError, NotImplementedError, OSError) as error:
        raise Unusable(
            f"this archive or document is damaged ({error})", "fetch it again, or open and save it"
        ) from None
    if "word/document.xml" in names:
        return "document"
    if said.startswith(_OPEN_TEXT):
        return "open document"
    if "[Content_Types].xml" in names or "mimetype" in names:
        raise Unusable("this is an office document of a kind that is not read", "save it as .docx or as text")
    return "archive"
