"""The closing lines of an annotated text, by which the pasted text is proved whole and given back.

Every reversible text style only inserts: nothing of the pasted text is replaced. The record line tells where the
insertions stand, the last line the length, final newline and SHA-256 of the pasted text, and a checksum of everything
before it. ``strip`` believes them only where all agree.

>>> marked = sealed("1 cup milk", [(5, " [→ 1 cup + 1 Tbsp]")], ["Notes."], "inline")
>>> marked.splitlines()[0], strip(marked)
('1 cup [→ 1 cup + 1 Tbsp] milk', '1 cup milk')
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from hashlib import sha256
from itertools import accumulate

from rewriter.writing.carry import held, opened
from rewriter.writing.lines import convert, kind, line_end

FIRST = "=== Altitude notes: "
CLOSERS = ("", "++}")
_RECORD = "record: "
_LAST = "=== end of the altitude notes: original "
_RECORD_LINE = re.compile(
    r"record: (?P<style>[a-z]+) (?P<ends>LF|CRLF|CR|mixed) (?P<body>\d+)(?P<marks>(?: \d+\+\d+)*)[ \t]*(?=[\r\n])"
)
_LAST_LINE = re.compile(
    r"=== end of the altitude notes: original (?P<length>\d+) characters, final newline (?P<newline>yes|no), "
    r"SHA-256 (?P<hash>[0-9a-f]{64}), check (?P<check>[0-9a-f]{16}) ===(?P<rest>.*)\Z",
    re.S,
)
_INLINE = re.compile(r" ?\[(?:→|->|\+|!) [^\[\]\r\n]*\]")
#: What each style's insertions look like, for the best reading of an edited text.
_MARKS = {
    "markdown": re.compile(r"~~ \*\*[^*\r\n]*\*\*|~~| ?\*\*[^*\r\n]*\*\*| ?\*\[question \d+\]\*|  (?=[\r\n])"),
    "criticmarkup": re.compile(
        r"\{~~|~>[^~\r\n]*~~\}(?:\{>>.*?<<\})?| ?\{\+\+[^\r\n]*?\+\+\}(?:\{>>.*?<<\})?| ?\{>>.*?<<\}"
    ),
    "terminal": re.compile(r" ?(?:\x1b\[[\d;]*m)+[^\x1b]*(?:\x1b\[[\d;]*m)+"),
}


@dataclass(frozen=True, slots=True)
class StripReport:
    """What became of taking annotations out.

    text: the pasted text where ``intact``, else the annotated text unchanged. message: what was found, in a sentence.
    best: where not intact, the best reading of what the pasted text was (the person's own edits kept).
    """

    text: str
    intact: bool
    message: str = ""
    best: str | None = None


def digest(text: str) -> str:
    """SHA-256 of a text's UTF-8 bytes, in hexadecimal."""
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def insert(text: str, insertions: Iterable[tuple[int, str]]) -> str:
    """``text`` with each string put in at its offset; those at one offset stand in the order given."""
    out, at = [], 0
    for offset, mark in sorted(insertions, key=lambda pair: pair[0]):
        out += [text[at:offset], mark]
        at = offset
    return "".join([*out, text[at:]])


def sealed(text: str, insertions: Sequence[tuple[int, str]], block: Sequence[str], style: str, close: str = "") -> str:
    """The annotated text: ``text`` with its insertions, the block's lines, the record and the last line.

    close: what a style that wraps its block needs after the last line, one of ``CLOSERS``.
    """
    end = line_end(text)
    body = insert(text, insertions)
    places, grown = [], 0
    last = 0
    for offset, mark in sorted(insertions, key=lambda pair: pair[0]):
        places.append(f" {offset + grown - last}+{len(mark)}")
        last = offset + grown
        grown += len(mark)
    record = f"{_RECORD}{style} {kind(text)} {len(body)}{''.join(places)}"
    gap = end if body.endswith(("\n", "\r")) or not body else end * 2
    front = body + gap + end.join([*block, record, ""])
    newline = "yes" if text.endswith(("\n", "\r")) else "no"
    front += f"{_LAST}{len(text)} characters, final newline {newline}, SHA-256 {digest(text)}, check "
    return f"{front}{digest(front)[:16]} ==={end}{close}"


@dataclass(frozen=True, slots=True)
class _Found:
    """A block at the end of a text: the text it holds if its record is followed, and whether its proofs hold."""

    original: str
    proved: bool
    untouched: bool
    body: int
    start: int
    stop: int
    marks: tuple[tuple[int, int], ...]
    newline: bool = True
    style: str = "inline"


def _find(text: str) -> _Found | None:
    at = text.rfind(_LAST)
    last = _LAST_LINE.match(text, at) if at >= 0 else None
    before = text.rfind(_RECORD, 0, at) if last else -1
    record = _RECORD_LINE.match(text, before, at) if before >= 0 else None
    if last is None or record is None:
        return None
    pairs = [tuple(map(int, pair.split("+"))) for pair in record["marks"].split()]
    starts = accumulate(step for step, _ in pairs)
    marks = tuple((start, start + length) for start, (_, length) in zip(starts, pairs, strict=True))
    body = int(record["body"])
    original = _without(text[:body], marks)
    proved = (
        len(original) == int(last["length"])
        and digest(original) == last["hash"]
        and original.endswith(("\n", "\r")) == (last["newline"] == "yes")
    )
    untouched = digest(text[: last.start("check")])[:16] == last["check"] and last["rest"].strip() in CLOSERS
    start = text.rfind(FIRST, 0, at)
    return _Found(
        original,
        proved,
        untouched,
        body,
        start if start >= 0 else before,
        last.start("rest"),
        marks,
        last["newline"] == "yes",
        record["style"],
    )


def _without(body: str, marks: Iterable[tuple[int, int]]) -> str:
    out, at = [], 0
    for start, end in marks:
        out.append(body[at:start])
        at = max(at, end)
    return "".join([*out, body[at:]])


def _peel(text: str) -> tuple[str | None, _Found | None]:
    """The text under one valid block, else None; and what was found."""
    found = _find(text)
    if found is not None and found.proved and found.untouched:
        return found.original, found
    if found is None:
        return (opened(text) if "<!-- end of the altitude notes" in text else None), None
    record = _RECORD_LINE.search(text, found.start)
    ends = record["ends"] if record else "mixed"
    if ends != "mixed" and kind(text) != ends:
        again = _find(convert(text, ends))
        if again is not None and again.proved and again.untouched:
            return again.original, again
    return None, found


def strip(annotated: str) -> str:
    """The pasted text back, byte for byte; a text without a valid block comes back unchanged.

    Where a person edited an annotated text, so that block and body no longer agree, it comes back unchanged too:
    see :func:`strip_report`.
    """
    text, peeled = annotated, _peel(annotated)[0]
    while peeled is not None:
        text, peeled = peeled, _peel(peeled)[0]
    return text


def strip_report(annotated: str) -> StripReport:
    """As :func:`strip`, telling what was found and offering the best reading of an edited text.

    >>> strip_report("1 cup milk").message
    'No altitude notes here: nothing to take out.'
    """
    text = strip(annotated)
    if text != annotated:
        return StripReport(text, True, "The pasted text is back, proved by its SHA-256.")
    found = _find(annotated)
    if found is not None:
        return _doubtful(annotated, found)
    page = held(annotated)
    if page is not None:
        message = "The page was edited, so nothing was taken out; it carries the pasted text whole."
        return StripReport(annotated, False, message, page[0])
    start = annotated.rfind(FIRST)
    if start < 0 or (start and annotated[start - 1] not in "\r\n"):
        return StripReport(annotated, True, "No altitude notes here: nothing to take out.")
    message = "The closing lines of the altitude notes are gone or changed, so nothing was taken out."
    return StripReport(annotated, False, message, _guess(_before_gap(annotated[:start], True), ()))


def _doubtful(annotated: str, found: _Found) -> StripReport:
    after = annotated[found.stop :].lstrip("\r\n").removeprefix("++}")
    if found.proved:
        message = "The marks or the notes were edited, so nothing was taken out; the recipe itself is as it was pasted."
        return StripReport(annotated, False, message, found.original + (after.lstrip("\r\n") if after.strip() else ""))
    message = (
        "The recipe was edited after it was annotated, so nothing was taken out; the best reading keeps the edits."
    )
    body = annotated[: found.start]
    wrapped = found.style == "criticmarkup" and body.rstrip().endswith("{++")
    body = body.rstrip().removesuffix("{++") if wrapped else _before_gap(body, found.newline)
    return StripReport(
        annotated, False, message, _guess(body, found.marks, found.style) + (after if after.strip() else "")
    )


def _before_gap(body: str, newline: bool) -> str:
    """A body without the blank line that sets off the block (and the line end it was given, if it had none)."""
    for _ in range(1 if newline else 2):
        body = body[:-2] if body.endswith("\r\n") else body[:-1] if body.endswith(("\n", "\r")) else body
    return body


def _guess(body: str, marks: Sequence[tuple[int, int]], style: str = "inline") -> str:
    """An edited body without our marks: for each mark on record the likest one near its place, drift allowed."""
    there = [match.span() for match in _MARKS.get(style, _INLINE).finditer(body)]
    if len(there) == len(marks):
        return _without(body, there)
    gone: list[tuple[int, int]] = []
    drift = 0
    for start, end in marks:
        near = [span for span in there if abs(span[0] - start - drift) < 200 and (not gone or span[0] >= gone[-1][1])]
        if near:
            best = min(near, key=lambda span: abs(span[0] - start - drift) + abs(span[1] - span[0] - end + start))
            gone.append(best)
            drift = best[1] - end
    return _without(body, gone if marks else there)
