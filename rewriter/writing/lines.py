r"""Line ends: which kind a text uses, so that what is added uses the same.

>>> line_end("a\r\nb\r\n"), kind("a\r\nb\n")
('\r\n', 'mixed')
"""

from __future__ import annotations

ENDS = {"LF": "\n", "CRLF": "\r\n", "CR": "\r"}


def _counts(text: str) -> dict[str, int]:
    both = text.count("\r\n")
    return {"LF": text.count("\n") - both, "CRLF": both, "CR": text.count("\r") - both}


def line_end(text: str) -> str:
    """The line end a text uses most; a line feed where it has none."""
    if "\r" not in text:
        return "\n"
    counts = _counts(text)
    return ENDS[max(counts, key=lambda name: counts[name])]


def kind(text: str) -> str:
    """LF, CRLF or CR where all line ends are of one kind (LF where there are none), else mixed."""
    if "\r" not in text:
        return "LF"
    used = [name for name, count in _counts(text).items() if count]
    return used[0] if len(used) == 1 else "mixed"


def convert(text: str, name: str) -> str:
    """All line ends of a text as ``name``; unchanged for mixed."""
    if name not in ENDS:
        return text
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    return plain if name == "LF" else plain.replace("\n", ENDS[name])
