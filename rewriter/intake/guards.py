"""Guards against files made to harm: archives that unpack without end, names that climb out of their folder, bombs.

>>> safe_name("aunt/rusk.txt")
'aunt/rusk.txt'
>>> safe_name("../../etc/passwd")
Traceback (most recent call last):
rewriter.intake.guards.Harmful: the name "../../etc/passwd" leads out of its archive; ...
"""

from __future__ import annotations

import re
import zipfile
import zlib
from typing import TYPE_CHECKING

from rewriter.errors import Unusable
from rewriter.intake.limits import LIMITS, Limits, shown

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_ODD_NAME = re.compile(r"[\x00-\x1f\x7f]|^[A-Za-z]:")
_STREAM = re.compile(rb"stream\r?\n")
_CHUNK = 1_000_000


def safe_name(name: str) -> str:
    """The name of an archive's member with forward slashes.

    Raises Unusable where it is absolute, climbs upward, names a drive or holds control characters. Nothing is ever
    written under such a name; it is refused all the same, since nobody packs recipes so.
    """
    plain = name.replace("\\", "/")
    if plain.startswith("/") or ".." in plain.split("/") or _ODD_NAME.search(plain):
        shown_name = _ODD_NAME.sub("?", name)
        raise Harmful(f'the name "{shown_name}" leads out of its archive', "the archive is not to be trusted")
    return plain


def zip_fits(packed: zipfile.ZipFile, limits: Limits = LIMITS) -> None:
    """Raise Unusable where a zip holds too many members, unpacks too large, packs too tight or overlaps itself."""
    members = packed.infolist()
    if len(members) > limits.members:
        raise Unusable(f"the archive holds more than {limits.members:,} files", "unpack it, and give the folder")
    total = 0
    packed_total = 0
    for member in members:
        total += member.file_size
        packed_total += member.compress_size
        if member.file_size > 1_000_000 and member.file_size > limits.ratio * max(member.compress_size, 1):
            raise bomb(
                f"{member.filename} unpacks to {member.file_size // max(member.compress_size, 1):,} times its size"
            )
        if total > limits.unpacked:
            raise bomb(f"it unpacks to more than {shown(limits.unpacked)}")
    if members and packed.fp is not None:
        packed.fp.seek(0, 2)
        if packed_total > packed.fp.tell():
            raise bomb("its members overlap one another")


def member_bytes(packed: zipfile.ZipFile, member: zipfile.ZipInfo, limit: int) -> bytes:
    """What a member holds. Raises Unusable where it is larger than it says, or than the limit, or damaged."""
    try:
        with packed.open(member) as opened:
            data = opened.read(limit + 1)
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, EOFError, OSError) as error:
        raise Unusable(
            f"{member.filename} in it cannot be unpacked ({error})", "unpack it, and give the file"
        ) from None
    if len(data) > limit:
        raise bomb(f"{member.filename} unpacks to more than {shown(limit)}")
    return data


def xml(data: bytes) -> Element:
    """XML that defines nothing of its own: no entities, no document type. Raises Unusable for any other."""
    from defusedxml import DefusedXmlException
    from defusedxml.ElementTree import ParseError, fromstring

    try:
        return fromstring(data, forbid_dtd=True)  # type: ignore[no-any-return]
    except DefusedXmlException:
        raise bomb("it defines XML entities of its own") from None
    except (ParseError, ValueError) as error:
        raise Unusable(f"its XML is damaged ({error})", "open it where it was made, and save it again") from None


def pdf_fits(data: bytes, limits: Limits = LIMITS) -> None:
    """Raise Unusable where the packed streams of a PDF unpack beyond the limit, once or twice over."""
    total = 0
    for match in _STREAM.finditer(data):
        if data[match.end() : match.end() + 1] not in (b"x", b"h", b"8", b"X", b"H"):  # first byte of a zlib stream
            continue
        end = data.find(b"endstream", match.end())
        total += _unpacked(data[match.end() : end if end > 0 else len(data)], limits.unpacked - total)
        if total > limits.unpacked:
            raise bomb(f"it unpacks to more than {shown(limits.unpacked)}")


def _unpacked(packed: bytes, limit: int, again: bool = True) -> int:
    """Bytes that a zlib stream unpacks to, and where what comes out is packed again, to what that unpacks to."""
    machine = zlib.decompressobj()
    inner = zlib.decompressobj() if again else None
    total, rest = 0, packed
    try:
        while rest and total <= limit:
            out = machine.decompress(rest, _CHUNK)
            rest = machine.unconsumed_tail
            total += len(out)
            if inner is not None:
                if total == len(out) and out[:1] not in (b"x", b"h", b"8", b"X", b"H"):
                    inner = None
                else:
                    total += _drained(inner, out, limit - total)
            if not out:
                break
    except zlib.error:
        pass  # not zlib, or damaged: the PDF library will stop there as well
    return total


def _drained(inner: zlib._Decompress, packed: bytes, limit: int) -> int:
    total = 0
    while packed and total <= limit:
        try:
            out = inner.decompress(packed, _CHUNK)
        except zlib.error:
            return total
        packed = inner.unconsumed_tail
        total += len(out)
        if not out:
            break
    return total


class Harmful(Unusable):
    """A file made to harm, or one that looks so: it is refused, and its bytes are not kept."""


def bomb(why: str) -> Harmful:
    """The complaint about a file made to harm, or one that looks so.

    >>> raise bomb("it unpacks to more than 256 MB")
    Traceback (most recent call last):
    rewriter.intake.guards.Harmful: this is refused: it unpacks to more than 256 MB; it would fill ...
    """
    return Harmful(f"this is refused: {why}", "it would fill the memory or the disk; give the recipes by themselves")
