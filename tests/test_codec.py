"""Bytes in, bytes out."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.codec import decode, encode
from rewriter.errors import Unusable

CARD = "Buns\r\n1½ cups milk – “warm”\r½ tsp salt\n350°F"


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252", "mac_roman"]
)
def test_encodings_are_told_and_kept(encoding: str) -> None:
    card = CARD.replace("½", "1/2") if encoding == "mac_roman" else CARD  # the Macintosh had no ½
    data = card.encode(encoding)
    text, form = decode(data)
    assert text == card
    assert encode(text, form) == data


def test_the_fractions_of_dos_are_told_from_the_quotes_of_windows() -> None:
    """IBM code page 437: ½ is AB, ¼ is AC, the degree sign F8; Windows 1252 has « ¬ ø there."""
    text, form = decode(b"1\xab cups milk, \xac tsp salt, 350\xf8F")
    assert text == "1½ cups milk, ¼ tsp salt, 350°F"
    assert encode(text, form) == b"1\xab cups milk, \xac tsp salt, 350\xf8F"


@given(st.binary(max_size=200))
def test_any_bytes_come_back_or_are_refused(data: bytes) -> None:
    try:
        text, form = decode(data)
    except Unusable as error:
        assert error.mend  # noqa: PT017
    else:
        assert encode(text, form) == data


@given(st.text(max_size=60))
def test_any_text_comes_back(text: str) -> None:
    data = text.encode("utf-8")
    again, form = decode(data) if not data.startswith((b"%PDF", b"GIF8", b"{\\rtf")) else (text, decode(b"")[1])
    assert encode(again, form) == data


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"%PDF-1.7 ...", "a PDF"),
        (b"PK\x03\x04....", "word-processor"),
        (b"\xff\xd8\xff\xe0", "a photo"),
        (b"\x89PNG\r\n", "a picture"),
        (b"\xff\xfe\x00\xd8", "damaged"),
    ],
)
def test_what_is_no_text_is_named(data: bytes, says: str) -> None:
    with pytest.raises(Unusable, match=says):
        decode(data)
