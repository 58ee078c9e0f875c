"""docx: a word-processor document in which every change is a tracked change with its reason as a comment.

Accepting all gives the corrected recipe and its notes, rejecting all the pasted text (up to line ends and control
characters, which the format cannot hold). The pasted text itself rides along as a custom part.
Format: ECMA-376, Office Open XML, WordprocessingML (w:ins, w:del, w:comment) and Open Packaging Conventions.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator
from typing import Any

from lxml import etree

from rewriter.writing.block import plain
from rewriter.writing.corrected import pieces
from rewriter.writing.lines import line_end
from rewriter.writing.notes import Notes, notes
from rewriter.writing.openxml import ORIGINAL, attribute, package, w
from rewriter.writing.registry import Job, style
from rewriter.writing.rows import few, full
from rewriter.writing.seal import digest

AUTHOR = "rewriter"
_UNHELD = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_BREAK = re.compile(r"\r\n|\n|\r")


class _Writer:
    """Builds the document's paragraphs and comments, numbering changes as it goes."""

    def __init__(self) -> None:
        self.body = w.body()
        self.comments = w.comments()
        self.paragraph = w.p()
        self.body.append(self.paragraph)
        self.number = 0

    def tracked(self, tag: str, words: str) -> None:
        """Words as inserted ("ins") or deleted ("del")."""
        element = getattr(w, tag)(**self._marks())
        element.append(_run(words, "delText" if tag == "del" else "t"))
        self.paragraph.append(element)

    def text(self, words: str) -> None:
        """Words of the pasted text; each line end begins a paragraph."""
        for index, line in enumerate(_BREAK.split(words)):
            if index:
                self.new_paragraph(inserted=False)
            if line:
                self.paragraph.append(_run(line))

    def new_paragraph(self, *, inserted: bool) -> None:
        """End this paragraph; an inserted end goes with the change when it is rejected."""
        if inserted:
            self.paragraph.insert(0, w.pPr(w.rPr(w.ins(**self._marks()))))
        self.paragraph = w.p()
        self.body.append(self.paragraph)

    def comment(self, words: str, start: int) -> None:
        """A comment on what this paragraph holds from its child number ``start`` on."""
        mark = {attribute("id"): str(len(self.comments))}
        self.paragraph.insert(start, w.commentRangeStart(**mark))
        self.paragraph.append(w.commentRangeEnd(**mark))
        self.paragraph.append(w.r(w.commentReference(**mark)))
        self.comments.append(
            w.comment(w.p(_run(words)), **mark, **{attribute("author"): AUTHOR, attribute("initials"): "r"})
        )

    def _marks(self) -> dict[str, str]:
        self.number += 1
        return {attribute("id"): str(self.number), attribute("author"): AUTHOR}


def _run(words: str, tag: str = "t") -> Any:
    """A run; tabs are elements of their own, what XML cannot hold is left out."""
    run = w.r()
    for index, piece in enumerate(_UNHELD.sub("", words).split("\t")):
        if index:
            run.append(w.tab())
        if piece:
            element = getattr(w, tag)(piece)
            element.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
            run.append(element)
    return run


@style("docx", suffix=".docx", binary=True)
def docx(job: Job) -> bytes:
    """The document's bytes."""
    told = notes(job)
    writer = _Writer()
    at = 0
    for start, stop, words, why in _in_order(job, told):
        writer.text(job.text[at : max(start, at)])
        at = max(at, stop)
        if words:
            _put(writer, job.text[start:stop], words, why)
        else:
            writer.comment(why, max(len(writer.paragraph) - 1, 0))
    writer.text(job.text[at:])
    _block(writer, list(plain(told, job.explain)))
    return package(writer.body, writer.comments, job.text)


def _in_order(job: Job, told: Notes) -> list[tuple[int, int, str, str]]:
    """What is put where, with its reason; words are empty for what is only said in a comment."""
    out = [
        (piece.start, piece.end, piece.words, full(piece.change) if job.explain == "full" else few(piece.change))
        for piece in pieces(job.text, job.changes, line_end(job.text), job.recipes)
    ]
    out += [
        (change.end, change.end, "", f"{'Or: ' * (change.step == 'offer')}{change.new}")
        for change in job.changes
        if change.step == "offer" or (change.direction == "note" and not change.addition)
    ]
    for section in told.sections:
        out += [(a.query.end, a.query.end, "", f"Question {a.number}: {a.text}") for a in section.asked]
    return sorted(out, key=lambda item: item[:2])


def _put(writer: _Writer, old: str, new: str, why: str) -> None:
    """Old words deleted and new ones inserted, the reason their comment; an inserted line is a paragraph."""
    start = len(writer.paragraph)
    if old:
        writer.tracked("del", old)
    for index, line in enumerate(_BREAK.split(new)):
        if index:
            writer.new_paragraph(inserted=True)
            start = 0
        if line:
            writer.tracked("ins", line)
            if why:
                writer.comment(why, start)


def _block(writer: _Writer, lines: list[str]) -> None:
    """The block as inserted paragraphs."""
    for line in ["", *lines]:
        writer.new_paragraph(inserted=True)
        if line:
            writer.tracked("ins", line)


def pasted(data: bytes) -> str | None:
    """The pasted text that rides along in a document, or None where there is none or its proof does not hold."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            root = etree.fromstring(parts.read(ORIGINAL), etree.XMLParser(resolve_entities=False))
        text = bytes.fromhex(root.text or "").decode("utf-8", "surrogatepass")
    except (zipfile.BadZipFile, KeyError, etree.XMLSyntaxError, ValueError):
        return None
    return text if root.get("sha256") == digest(text) else None


def paragraphs(data: bytes, *, accept: bool) -> Iterator[str]:
    """The document's paragraphs with all changes accepted, or all rejected."""
    with zipfile.ZipFile(io.BytesIO(data)) as parts:
        body = etree.fromstring(parts.read("word/document.xml"), etree.XMLParser(resolve_entities=False))[0]
    line = ""
    for paragraph in body.iterchildren(attribute("p")):
        for node in paragraph.iter(attribute("t"), attribute("delText"), attribute("tab")):
            gone = {"ins": not accept, "del": accept}
            if not any(gone.get(etree.QName(parent).localname, False) for parent in node.iterancestors()):
                line += "\t" if node.tag == attribute("tab") else node.text or ""
        joined = not accept and paragraph.find(f"{attribute('pPr')}/{attribute('rPr')}/{attribute('ins')}") is not None
        if not joined:
            yield line
            line = ""
    if line:
        yield line
