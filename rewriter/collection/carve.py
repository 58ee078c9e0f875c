"""Rows out of a damaged box by its bare pages, where SQLite itself gives up.

The layout of table leaf pages, cells, records and overflow pages is that of the published file format:
https://www.sqlite.org/fileformat2.html, sections 1.6 and 2.1.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass

_LEAF = 0x0D
_SIZES = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}
_LARGEST = 200_000_000  # bytes of one row


@dataclass(frozen=True, slots=True)
class Carved:
    """A row: the page it was found on, its row id, its values (the first is None where the row id stands for it)."""

    page: int
    rowid: int
    values: tuple[object, ...]


def carve(data: bytes) -> Iterator[Carved]:
    """Every row that can be read on any table leaf page of a database, in the order of the pages.

    A row whose overflow pages are damaged is left out. Rows that were deleted, but lie on a page that was freed and not
    yet used again, may be found too.
    """
    size = page_size(data)
    for number in range(1, len(data) // size + 1):
        yield from _page(data, size, number)


def with_log(data: bytes, log: bytes) -> bytes:
    """A database with the pages of its write-ahead log laid over it, up to the last finished transaction.

    Section 4 of the same description. A log that is none, or of another page size, changes nothing.
    """
    if len(log) < 32 or log[:4] not in (b"\x37\x7f\x06\x82", b"\x37\x7f\x06\x83"):
        return data
    size, salts = int.from_bytes(log[8:12], "big"), log[16:24]
    if size < 512 or size & (size - 1):
        return data
    pages, waiting = {}, {}
    for at in range(32, len(log) - size - 23, size + 24):
        if log[at + 8 : at + 16] != salts:
            break  # left over from an earlier log
        waiting[int.from_bytes(log[at : at + 4], "big")] = log[at + 24 : at + 24 + size]
        if int.from_bytes(log[at + 4 : at + 8], "big"):
            pages.update(waiting)
            waiting = {}
    whole = bytearray(data)
    for number, page in pages.items():
        end = number * size
        whole.extend(bytes(max(0, end - len(whole))))
        whole[end - size : end] = page
    return bytes(whole)


def page_size(data: bytes) -> int:
    """The size of a page: from the header, where that is whole, else the usual one."""
    size = int.from_bytes(data[16:18], "big")
    size = 65536 if size == 1 else size
    return size if 512 <= size <= 65536 and not size & (size - 1) and len(data) % size == 0 else 4096


def _page(data: bytes, size: int, number: int) -> Iterator[Carved]:
    start = (number - 1) * size
    page = data[start : start + size]
    head = 100 if number == 1 else 0
    if page[head] != _LEAF:
        return
    count = int.from_bytes(page[head + 3 : head + 5], "big")
    if head + 8 + 2 * count > size:
        return
    for index in range(count):
        place = head + 8 + 2 * index
        cell = int.from_bytes(page[place : place + 2], "big")
        if not head + 8 <= cell < size:
            continue
        try:
            row = _cell(data, page, size, cell)
        except (IndexError, ValueError, struct.error):
            continue
        if row is not None:
            yield Carved(number, *row)


def _cell(data: bytes, page: bytes, size: int, at: int) -> tuple[int, tuple[object, ...]] | None:
    length, at = _varint(page, at)
    rowid, at = _varint(page, at)
    if not 0 < length < _LARGEST:
        return None
    most = size - 35
    if length <= most:
        payload = page[at : at + length]
    else:
        least = (size - 12) * 32 // 255 - 23
        local = least + (length - least) % (size - 4)
        local = local if local <= most else least
        follow = int.from_bytes(page[at + local : at + local + 4], "big")
        payload = page[at : at + local] + _overflow(data, size, follow, length - local)
    return (rowid, _values(payload)) if len(payload) == length else None


def _overflow(data: bytes, size: int, number: int, left: int) -> bytes:
    parts, seen = [], set()
    while number and left > 0:
        start = (number - 1) * size
        if number in seen or start + size > len(data):
            raise ValueError("broken chain")
        seen.add(number)
        parts.append(data[start + 4 : start + 4 + min(left, size - 4)])
        left -= len(parts[-1])
        number = int.from_bytes(data[start : start + 4], "big")
    return b"".join(parts)


def _values(payload: bytes) -> tuple[object, ...]:
    head, at = _varint(payload, 0)
    types = []
    while at < head:
        kind, at = _varint(payload, at)
        types.append(kind)
    if at != head:
        raise ValueError("broken record")
    values: list[object] = []
    for kind in types:
        value, at = _value(payload, at, kind)
        values.append(value)
    if at != len(payload):
        raise ValueError("broken record")
    return tuple(values)


def _value(payload: bytes, at: int, kind: int) -> tuple[object, int]:
    if kind in (0, 8, 9):
        return {0: None, 8: 0, 9: 1}[kind], at
    if kind in _SIZES:
        end = at + _SIZES[kind]
        return int.from_bytes(payload[at:end], "big", signed=True), end
    if kind == 7:
        return struct.unpack(">d", payload[at : at + 8])[0], at + 8
    if kind < 12:
        raise ValueError("broken record")
    end = at + (kind - 12) // 2
    if end > len(payload):
        raise ValueError("broken record")
    return (payload[at:end].decode("utf-8") if kind % 2 else payload[at:end]), end


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """A big-endian number of one to nine bytes.

    >>> _varint(bytes([0x81, 0x00]), 0)
    (128, 2)
    """
    value = 0
    for index in range(9):
        byte = data[at + index]
        if index == 8:
            return value << 8 | byte, at + 9
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + index + 1
    raise ValueError("no number")
