"""A word-processor package: its parts, their types and their relations.

Format: ECMA-376, Office Open XML, WordprocessingML and Open Packaging Conventions.
"""

from __future__ import annotations

import io
import zipfile
from typing import Any

from lxml import etree
from lxml.builder import ElementMaker

from rewriter.writing.seal import digest

W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_ML = "application/vnd.openxmlformats-officedocument.wordprocessingml"
OURS = "urn:rewriter:pasted-text"
ORIGINAL = "customXml/item1.xml"
_STAMP = (1980, 1, 1, 0, 0, 0)  # one date for every part: the same recipe gives the same bytes
w = ElementMaker(namespace=W, nsmap={"w": W})


def attribute(name: str) -> str:
    """A WordprocessingML attribute or tag in full."""
    return f"{{{W}}}{name}"


def package(body: Any, comments: Any, text: str) -> bytes:
    """The file of a document body and its comments, carrying ``text`` as a part of its own."""
    held = etree.Element(f"{{{OURS}}}pasted", nsmap={None: OURS}, length=str(len(text)), sha256=digest(text))
    held.text = text.encode("utf-8", "surrogatepass").hex()
    parts = {
        "[Content_Types].xml": _types(),
        "_rels/.rels": _relations([("officeDocument", "word/document.xml")]),
        "word/_rels/document.xml.rels": _relations(
            [("comments", "comments.xml"), ("styles", "styles.xml"), ("customXml", f"../{ORIGINAL}")]
        ),
        "word/document.xml": w.document(body),
        "word/comments.xml": comments,
        "word/styles.xml": _styles(),
        ORIGINAL: held,
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as out_file:
        for name, root in parts.items():
            data = etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)
            entry = zipfile.ZipInfo(name, _STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            out_file.writestr(entry, data)
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
    fonts = w.rFonts(**{attribute("ascii"): "Georgia", attribute("hAnsi"): "Georgia"})
    size = w.sz(**{attribute("val"): "24"})
    spacing = w.spacing(**{attribute("after"): "0"})
    defaults = w.docDefaults(w.rPrDefault(w.rPr(fonts, size)), w.pPrDefault(w.pPr(spacing)))
    normal = w.style(
        w.name(**{attribute("val"): "Normal"}), **{attribute("type"): "paragraph", attribute("styleId"): "Normal"}
    )
    normal.set(attribute("default"), "1")
    return w.styles(defaults, normal)
