"""How much an intake accepts: above it a file is refused before it can fill the memory or the disk."""

from __future__ import annotations

from dataclasses import dataclass

from rewriter.errors import Unusable


@dataclass(frozen=True, slots=True)
class Limits:
    """Sizes in bytes of one file, of its text (UTF-8) and of an unpacked archive; counts; pixels of a picture.

    ratio: how many times larger an archive's member may be than it is packed, once it has a megabyte.
    depth: archives within archives.
    """

    file: int = 64_000_000
    text: int = 5_000_000
    unpacked: int = 256_000_000
    members: int = 10_000
    ratio: int = 200
    depth: int = 2
    pages: int = 500
    pixels: int = 60_000_000


LIMITS = Limits()
SPLIT = "split it, and give each part by itself"


def shown(count: int) -> str:
    """A number of bytes for a person.

    >>> shown(64_000_000), shown(900)
    ('64 MB', '900 bytes')
    """
    return f"{count // 1_000_000} MB" if count >= 1_000_000 else f"{count:,} bytes"


def check(what: str, size: int, limit: int) -> None:
    """Raise Unusable where a size passes its limit.

    >>> check("the file", 5, 10)
    """
    if size > limit:
        raise Unusable(f"{what} is larger than {shown(limit)}", SPLIT)
