"""ascii: the inline style for plain printers: every mark and note in seven-bit characters."""

from __future__ import annotations

import unicodedata

from rewriter.writing import block
from rewriter.writing.manner import VULGAR
from rewriter.writing.marks import marks
from rewriter.writing.notes import notes
from rewriter.writing.registry import Job, style
from rewriter.writing.seal import sealed

_TYPED = {glyph: f"{part.numerator}/{part.denominator}" for part, glyph in VULGAR.items()}
_PLAIN = {
    "→": "->",
    "–": "-",
    "—": "-",
    "−": "-",
    "°": "",
    "’": "'",
    "‘": "'",
    "“": '"',
    "”": '"',
    "×": "x",
    "⁄": "/",
    "·": "-",
}


def plain(words: str) -> str:
    """Words in seven-bit characters.

    >>> plain("[→ 1½ cups crème, 190°C]")
    '[-> 1 1/2 cups creme, 190C]'
    """
    if words.isascii():
        return words
    out = ""
    for char in words:
        if char in _TYPED:
            out += (" " if out[-1:].isdigit() else "") + _TYPED[char]
        else:
            out += _PLAIN.get(char, char)
    return unicodedata.normalize("NFKD", out).encode("ascii", "ignore").decode("ascii")


@style("ascii")
def ascii_(job: Job) -> str:
    """The inline style with ``[-> new]`` marks."""
    told = notes(job)
    insertions = [(offset, plain(mark)) for offset, mark in marks(job, told, "->")]
    return sealed(job.text, insertions, [plain(line) for line in block.plain(told, job.explain)], "ascii")
