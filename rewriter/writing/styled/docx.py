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
from lxml.builder import ElementMaker

from rewriter.model import Change
from rewriter.writing.block import plain
from rewriter.writing.notes import Notes, few, full, notes
from rewriter.writing.registry import Job, style
from rewriter.writing.seal import digest

W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_ML = "application/vnd.openxmlformats-officedocument.wordprocessingml"
OURS = "urn:rewriter:pasted-text"
ORIGINAL = "customXml/item1.xml"
AUTHOR = "rewriter"
_STAMP = (1980, 1, 1, 0, 0, 0)  # one date for every part: the same recipe gives the same bytes
_UNHELD = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_BREAK = re.compile(r"\r\n|\n|\r")
w = ElementMaker(namespace=W, nsmap={"w": W})


def _attr(name: str) -> str:
    return f"{{{W}}}{name}"


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
        mark = {_attr("id"): str(len(self.comments))}
        self.paragraph.insert(start, w.commentRangeStart(**mark))
        self.paragraph.append(w.commentRangeEnd(**mark))
        self.paragraph.append(w.r(w.commentReference(**mark)))
        self.comments.append(w.comment(w.p(_run(words)), **mark, **{_attr("author"): AUTHOR, _attr("initials"): "r"}))

    def _marks(self) -> dict[str, str]:
        self.number += 1
        return {_attr("id"): str(self.number), _attr("author"): AUTHOR}


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
    for start, stop, change, question in _in_order(job, told):
        writer.text(job.text[at : max(start, at)])
        at = max(at, stop)
        if change is not None:
            _change(writer, job, change)
        else:
            _commented(writer, question)
    writer.text(job.text[at:])
    _block(writer, list(plain(told, job.explain)))
    return _package(writer, job.text)


def _in_order(job: Job, told: Notes) -> list[tuple[int, int, Change | None, str]]:
    """Changes and questions by their place; a change replaces what it spans, an addition and a question nothing."""
    out: list[tuple[int, int, Change | None, str]] = []
    for change in job.changes:
        if change.step != "next":
            beside = change.addition or change.step == "offer" or change.direction == "note"
            out.append((change.end if beside else change.start, change.end, change, ""))
    for section in told.sections:
        out += [(a.query.end, a.query.end, None, f"Question {a.number}: {a.text}") for a in section.asked]
    return sorted(out, key=lambda item: item[:2])


def _change(writer: _Writer, job: Job, change: Change) -> None:
    why = full(change) if job.explain == "full" else few(change)
    start = len(writer.paragraph)
    if change.step == "offer" or (change.direction == "note" and not change.addition):
        _commented(writer, f"{'Or: ' if change.step == 'offer' else ''}{change.new}")
        return
    if change.direction == "insert" and _own_line(job.text, change.end):
        start = _inserted_line(writer, change.new.removeprefix("+ "), job.text[change.end - 1 : change.end] in "\r\n")
    elif change.addition:
        writer.tracked("ins", f" {change.new}")
    else:
        writer.tracked("del", change.old)
        writer.tracked("ins", change.new)
    if why:
        writer.comment(why, start)


def _own_line(text: str, offset: int) -> bool:
    """Whether a place is the beginning or the end of a line."""
    return text[offset - 1 : offset] in "\r\n" or text[offset : offset + 1] in "\r\n"


def _inserted_line(writer: _Writer, words: str, before: bool) -> int:
    """An inserted paragraph before or after this one; gives where its words stand in the paragraph written last."""
    if not before:
        writer.new_paragraph(inserted=True)
        writer.tracked("ins", words)
        return 0
    writer.tracked("ins", words)
    writer.new_paragraph(inserted=True)
    return 0


def _commented(writer: _Writer, words: str) -> None:
    """A comment on the last words written."""
    start = max(len(writer.paragraph) - 1, 0)
    writer.comment(words, start)


def _block(writer: _Writer, lines: list[str]) -> None:
    """The block as inserted paragraphs."""
    for line in ["", *lines]:
        writer.new_paragraph(inserted=True)
        if line:
            writer.tracked("ins", line)


def _package(writer: _Writer, text: str) -> bytes:
    held = etree.Element(f"{{{OURS}}}pasted", nsmap={None: OURS}, length=str(len(text)), sha256=digest(text))
    held.text = text.encode("utf-8", "surrogatepass").hex()
    parts = {
        "[Content_Types].xml": _types(),
        "_rels/.rels": _relations([("officeDocument", "word/document.xml")]),
        "word/_rels/document.xml.rels": _relations(
            [("comments", "comments.xml"), ("styles", "styles.xml"), ("customXml", f"../{ORIGINAL}")]
        ),
        "word/document.xml": w.document(writer.body),
        "word/comments.xml": writer.comments,
        "word/styles.xml": _styles(),
        ORIGINAL: held,
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        for name, root in parts.items():
            data = etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)
            entry = zipfile.ZipInfo(name, _STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            package.writestr(entry, data)
    return out.getvalue()


def _types() -> Any:
    space = f"{_PACKAGE}/content-types"
    e = ElementMaker(namespace=space, nsmap={None: space})
    return e.Types(
        e.Default(Extension="rels", ContentType="application/vnd.openxmlformats-package.relationships+xml"),
        e.Default(Extension="xml", ContentType="application/xml"),
        e.Override(PartName="/word/document.xml", ContentType=f"{_ML}.document.main+xml"),
        e.Override(PartName="/word/comments.xml", ContentType=f"{_ML}.comments+xml"),
        e.Override(PartName="/word/styles.xml", ContentType=f"{_ML}.styles+xml"),
    )


def _relations(targets: list[tuple[str, str]]) -> Any:
    space = f"{_PACKAGE}/relationships"
    e = ElementMaker(namespace=space, nsmap={None: space})
    return e.Relationships(
        *(
            e.Relationship(Id=f"rId{number}", Type=f"{_OFFICE}/relationships/{kind}", Target=target)
            for number, (kind, target) in enumerate(targets, 1)
        )
    )


def _styles() -> Any:
    fonts = w.rFonts(**{_attr("ascii"): "Georgia", _attr("hAnsi"): "Georgia"})
    size = w.sz(**{_attr("val"): "24"})
    spacing = w.spacing(**{_attr("after"): "0"})
    defaults = w.docDefaults(w.rPrDefault(w.rPr(fonts, size)), w.pPrDefault(w.pPr(spacing)))
    normal = w.style(w.name(**{_attr("val"): "Normal"}), **{_attr("type"): "paragraph", _attr("styleId"): "Normal"})
    normal.set(_attr("default"), "1")
    return w.styles(defaults, normal)


def pasted(data: bytes) -> str | None:
    """The pasted text that rides along in a document, or None where there is none or its proof does not hold."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            root = etree.fromstring(package.read(ORIGINAL), etree.XMLParser(resolve_entities=False))
        text = bytes.fromhex(root.text or "").decode("utf-8", "surrogatepass")
    except (zipfile.BadZipFile, KeyError, etree.XMLSyntaxError, ValueError):
        return None
    return text if root.get("sha256") == digest(text) else None


def paragraphs(data: bytes, *, accept: bool) -> Iterator[str]:
    """The document's paragraphs with all changes accepted, or all rejected."""
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        body = etree.fromstring(package.read("word/document.xml"), etree.XMLParser(resolve_entities=False))[0]
    line = ""
    for paragraph in body.iterchildren(_attr("p")):
        for node in paragraph.iter(_attr("t"), _attr("delText"), _attr("tab")):
            gone = {"ins": not accept, "del": accept}
            if not any(gone.get(etree.QName(parent).localname, False) for parent in node.iterancestors()):
                line += "\t" if node.tag == _attr("tab") else node.text or ""
        joined = not accept and paragraph.find(f"{_attr('pPr')}/{_attr('rPr')}/{_attr('ins')}") is not None
        if not joined:
            yield line
            line = ""
    if line:
        yield line
