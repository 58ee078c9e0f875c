"""Carrying the pasted text along inside a page that cannot show it byte for byte.

The closing comment of a page holds the pasted text with its length and SHA-256, and a checksum of all before it.

>>> page = closed("<!DOCTYPE html><p>1 cup</p>", "1 cup")
>>> opened(page), opened(page.replace("<p>", "<b>"))
('1 cup', None)
"""

from __future__ import annotations

import re
from base64 import b64decode, b64encode
from binascii import Error
from hashlib import sha256

_HEAD = "<!-- end of the altitude notes: pasted text of "
_CLOSING = re.compile(
    r"<!-- end of the altitude notes: pasted text of (?P<length>\d+) characters, SHA-256 (?P<hash>[0-9a-f]{64}), "
    r"base64 (?P<data>[A-Za-z0-9+/=]*), check (?P<check>[0-9a-f]{16}) -->\s*(?:</body>\s*</html>\s*)?\Z"
)


def closed(front: str, text: str) -> str:
    """A page with its closing comment, which carries ``text``."""
    data = text.encode("utf-8", "surrogatepass")
    held = f"{len(text)} characters, SHA-256 {sha256(data).hexdigest()}, base64 {b64encode(data).decode()}"
    front = f"{front}{_HEAD}{held}, check "
    return f"{front}{_digest(front)} -->\n</body>\n</html>\n"


def _digest(words: str) -> str:
    return sha256(words.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def held(page: str) -> tuple[str, bool] | None:
    """The text a page carries, and whether the page is as it was written; None where there is none that is proved."""
    found = _CLOSING.match(page, max(page.rfind(_HEAD), 0))
    if found is None:
        return None
    try:
        data = b64decode(found["data"], validate=True)
        text = data.decode("utf-8", "surrogatepass")
    except (Error, UnicodeDecodeError):
        return None
    if sha256(data).hexdigest() != found["hash"] or len(text) != int(found["length"]):
        return None
    return text, _digest(page[: found.start("check")]) == found["check"]


def opened(page: str) -> str | None:
    """The text a page carries where nothing of it was edited, else None."""
    found = held(page)
    return found[0] if found is not None and found[1] else None
