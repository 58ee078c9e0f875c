"""Archives: zip and tar (plain, gzip, bzip2, xz), read member by member in memory, never unpacked to disk."""

from __future__ import annotations

import lzma
import tarfile
import zipfile
import zlib
from collections.abc import Iterator
from io import BytesIO
from typing import IO

from rewriter.errors import Unusable
from rewriter.intake import guards
from rewriter.intake.limits import LIMITS, Limits, shown

_HIDDEN = ("__MACOSX/", ".DS_Store", "Thumbs.db", "desktop.ini")
_BROKEN = (tarfile.TarError, zlib.error, lzma.LZMAError, EOFError, OSError, ValueError)


def members(data: bytes, limits: Limits = LIMITS) -> Iterator[tuple[str, bytes | Unusable]]:
    """Name and content of each file in an archive, or in place of the content why that one is refused.

    Raises Unusable where the archive as a whole is damaged or made to harm.
    """
    if data.startswith(b"PK"):
        yield from _zip(data, limits)
    else:
        yield from _tar(data, limits)


def hidden(name: str) -> bool:
    """Whether a name is what computers leave in folders by themselves.

    >>> hidden("__MACOSX/._rusk.txt"), hidden("rusk.txt")
    (True, False)
    """
    last = name.rsplit("/", 1)[-1]
    return name.startswith(_HIDDEN[0]) or last in _HIDDEN or last.startswith("._")


def _zip(data: bytes, limits: Limits) -> Iterator[tuple[str, bytes | Unusable]]:
    try:
        packed = zipfile.ZipFile(BytesIO(data))
    except (zipfile.BadZipFile, ValueError, OSError) as error:
        raise Unusable(f"this archive is damaged ({error})", "pack it again") from None
    with packed:
        guards.zip_fits(packed, limits)
        for member in packed.infolist():
            if member.is_dir() or hidden(member.filename):
                continue
            try:
                name = guards.safe_name(member.filename)
                if member.flag_bits & 1:
                    raise Unusable(f"{name} is locked with a password", "unpack it, and give the file")
                yield name, guards.member_bytes(packed, member, limits.file)
            except Unusable as error:
                yield member.filename, error


class _Counted:
    """A stream that refuses to give more than a number of bytes."""

    def __init__(self, stream: IO[bytes], limit: int) -> None:
        self.stream, self.left, self.limit = stream, limit, limit

    def read(self, size: int = -1) -> bytes:
        data = self.stream.read(min(size, self.left + 1) if size >= 0 else self.left + 1)
        self.left -= len(data)
        if self.left < 0:
            raise guards.bomb(f"it unpacks to more than {shown(self.limit)}")
        return data


def _opened(data: bytes) -> IO[bytes]:
    import bz2
    import gzip

    raw = BytesIO(data)
    if data.startswith(b"\x1f\x8b"):
        return gzip.GzipFile(fileobj=raw)  # type: ignore[return-value]
    if data.startswith(b"BZh"):
        return bz2.BZ2File(raw)
    if data.startswith(b"\xfd7zXZ\0"):
        return lzma.LZMAFile(raw)
    return raw


def _tar(data: bytes, limits: Limits) -> Iterator[tuple[str, bytes | Unusable]]:
    stream = _Counted(_opened(data), limits.unpacked)
    count = 0
    try:
        with tarfile.open(fileobj=stream, mode="r|") as packed:  # type: ignore[call-overload]
            for member in packed:
                count += 1
                if count > limits.members:
                    raise Unusable(f"the archive holds more than {limits.members:,} files", "unpack it first")
                if member.isdir() or hidden(member.name):
                    continue
                yield _tar_member(packed, member, limits)
    except _BROKEN as error:
        if isinstance(error, Unusable):
            raise
        raise Unusable(f"this archive is damaged ({error})", "pack it again, as .zip or .tar") from None


def _tar_member(packed: tarfile.TarFile, member: tarfile.TarInfo, limits: Limits) -> tuple[str, bytes | Unusable]:
    try:
        name = guards.safe_name(member.name)
        if not member.isreg():
            raise Unusable(f"{name} is a link or a device, not a file", "pack the file itself")
        if member.size > limits.file:
            raise Unusable(f"{name} is larger than {shown(limits.file)}", "split it")
        opened = packed.extractfile(member)
        return name, opened.read() if opened else b""
    except Unusable as error:
        return member.name, error
