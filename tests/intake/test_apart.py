"""A file that crashes, hangs or bloats its reader costs only that file."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from corpus.family_folder import pdf_of
from rewriter import intake
from rewriter.errors import Unusable
from rewriter.intake import Limits
from rewriter.intake.apart import Apart, apart
from rewriter.intake.guards import Harmful

CARD = "Pell Oat Rounds\n\n1 cup flour\n1 cup oats\n\nBake at 350 F."
READER = """
import os, time
from rewriter.intake.taken import Taken

def read(data, limits):
    if data == b"crash":
        os.kill(os.getpid(), 11)
    if data == b"hang":
        time.sleep(600)
    if data == b"grow":
        return Taken("x" * 9_000_000_000)
    if data == b"print":
        print("noise on standard output")
    if data == b"fault":
        raise ZeroDivisionError("oven")
    return Taken(data.decode(), kind="pdf")
"""


@pytest.fixture
def odd(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Apart]:
    """A process whose reader of PDFs misbehaves on demand."""
    (tmp_path / "odd").mkdir()
    (tmp_path / "odd" / "__init__.py").touch()
    (tmp_path / "odd" / "reader.py").write_text(READER, encoding="utf-8")
    monkeypatch.setenv("PYTHONPATH", ":".join([str(tmp_path), *filter(None, sys.path)]))
    reader = Apart(seconds=20, modules={"pdf": "odd.reader"})
    yield reader
    reader.close()


@pytest.mark.parametrize(("data", "told"), [(b"crash", "failed badly"), (b"fault", "ZeroDivisionError: oven")])
def test_a_crash_or_a_fault_is_told_and_the_next_file_is_read(odd: Apart, data: bytes, told: str) -> None:
    with pytest.raises(Unusable, match=told):
        odd.read("pdf", data)
    assert odd.read("pdf", b"2 cups flour").text == "2 cups flour"


@pytest.mark.skipif(sys.platform != "linux", reason="other systems do not bound the address space")
def test_memory_is_bounded(odd: Apart) -> None:
    with pytest.raises(Unusable, match="too much memory"):
        odd.read("pdf", b"grow")


def test_a_file_that_takes_too_long_is_given_up(odd: Apart) -> None:
    assert odd.read("pdf", b"warm").text == "warm"
    odd._seconds = 0.5
    with pytest.raises(Unusable, match=r"took longer than 0\.5 s"):
        odd.read("pdf", b"hang")
    odd._seconds = 20
    assert odd.read("pdf", b"2 eggs").text == "2 eggs"


def test_what_a_library_prints_does_not_disturb(odd: Apart) -> None:
    assert odd.read("pdf", b"print").text == "print"


def test_the_answer_is_that_of_the_reader_itself() -> None:
    data = pdf_of(CARD)
    with apart() as reader:
        [there] = intake.take_each(data, "card.pdf", reader=reader)
        here = intake.take(data, "card.pdf")
        assert there == here
        assert here.pages[0].words


def test_complaints_come_back_as_they_are() -> None:
    with apart(Limits(pages=0)) as reader:
        with pytest.raises(Unusable, match="more than 0 pages"):
            reader.read("pdf", pdf_of(CARD))
        with pytest.raises(Unusable, match="damaged"):
            reader.read("photo", b"\x89PNG\r\n\x1a\nno")
    bomb = b"%PDF-1.4\nstream\nx" + __import__("zlib").compress(bytes(2_000_000))[1:] + b"endstream"
    with apart(Limits(unpacked=1_000_000)) as reader, pytest.raises(Harmful, match="unpacks to more"):
        reader.read("pdf", bomb)
