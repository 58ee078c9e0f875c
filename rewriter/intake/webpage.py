"""Web pages: the schema.org Recipe in them (JSON-LD, then microdata), else the text that a reader sees."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from rewriter.errors import Unusable
from rewriter.intake import schema
from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.taken import Taken

if TYPE_CHECKING:
    from lxml.html import HtmlElement

_FURNITURE = "script|style|noscript|template|nav|footer|aside|form|iframe|svg|button|select|object|video|audio"
_HIDDEN = re.compile(r"display\s*:\s*none|visibility\s*:\s*hidden", re.I)
_BLANKS = re.compile(r"\n{3,}")
_MAIN = 200  # visible characters that <article> or <main> must have to be taken for the page


def read(data: bytes, _: Limits = LIMITS) -> Taken:
    """The recipes of a page. Raises Unusable where there are no words on it."""
    from w3lib.encoding import html_to_unicode

    page = html_to_unicode(None, data, default_encoding="utf-8", auto_detect_fun=_guess)[1]
    found = _structured(page)
    whole = [one for one in found if schema.whole(one)]
    if whole:
        return _pieces([schema.as_text(one) for one in whole])
    text = visible(page)
    partial = [schema.as_text(one) for one in found]
    if partial and len("".join(partial)) > len(text):
        told = "its recipe data lacks ingredients or method, and the page itself holds less"
        return replace(_pieces(partial), warnings=(told,))
    if not text.strip():
        raise Unusable("there are no words on this page", "open it in a browser and save the whole page")
    warnings = ("its recipe data lacks ingredients or method: the words of the page are taken",) if found else ()
    return Taken(text, kind="web page", warnings=warnings)


def visible(page: str) -> str:
    r"""The text that a reader of a page sees, without menus and scripts.

    >>> visible("<nav>Home</nav><script>x()</script><p>2 cups<br>flour</p>")
    '2 cups\nflour\n'
    """
    from inscriptis import Inscriptis
    from inscriptis.model.config import ParserConfig

    tree = _tree(page)
    if tree is None:
        return ""
    for element in tree.xpath("//*"):
        if not isinstance(element.tag, str):
            continue
        if re.fullmatch(_FURNITURE, element.tag.lower()) or _unseen(element):
            _drop(element)
    text = Inscriptis(_main(tree), ParserConfig()).get_text()
    lines = (line.rstrip().replace("\xa0", " ") for line in text.split("\n"))
    return _BLANKS.sub("\n\n", "\n".join(lines)).strip("\n") + "\n"


def _structured(page: str) -> list[dict[str, Any]]:
    """Every Recipe of the page's data; where JSON-LD has none, of its microdata."""
    if "schema.org" not in page and "ld+json" not in page:
        return []
    from extruct.jsonld import JsonLdExtractor
    from extruct.w3cmicrodata import MicrodataExtractor

    found: list[dict[str, Any]] = []
    try:
        found = _once(schema.recipes(JsonLdExtractor().extract(page)))
    except (ValueError, RecursionError, TypeError, AttributeError):
        found = []  # damaged data on the page: its words remain
    if any(schema.whole(one) for one in found):
        return found
    try:
        items = MicrodataExtractor(nested=True).extract(page)
        return _once(schema.recipes(_flat(items))) or found
    except (ValueError, RecursionError, TypeError, AttributeError):
        return found


def _once(found: Any) -> list[dict[str, Any]]:
    """The same recipe often stands twice on its page."""
    seen: dict[str, dict[str, Any]] = {}
    for one in found:
        seen.setdefault(schema.as_text(one), one)
    return list(seen.values())


def _flat(item: object, depth: int = 0) -> object:
    """Microdata's {type, properties} as JSON-LD has it."""
    if depth > 12:
        return None
    if isinstance(item, list):
        return [_flat(one, depth + 1) for one in item]
    if isinstance(item, dict) and "properties" in item:
        flat = {name: _flat(value, depth + 1) for name, value in item["properties"].items()}
        return {"@type": item.get("type", ""), **flat}
    return item


def _pieces(texts: list[str]) -> Taken:
    cuts, at = [], 0
    for text in texts:
        cuts.append((at, at + len(text)))
        at += len(text) + 1
    return Taken("\n".join(texts), kind="web page", cuts=tuple(cuts))


def _tree(page: str) -> HtmlElement | None:
    from lxml import etree, html

    cleaned = re.sub(r"^\s*<\?xml[^>]*\?>", "", page.replace("\0", ""))
    try:
        return html.document_fromstring(cleaned)
    except (etree.ParserError, etree.XMLSyntaxError, ValueError):
        return None


def _drop(element: HtmlElement) -> None:
    if element.getparent() is None:
        element.clear()
    else:
        element.drop_tree()


def _unseen(element: HtmlElement) -> bool:
    return "hidden" in element.attrib or bool(_HIDDEN.search(element.get("style", "")))


def _main(tree: HtmlElement) -> HtmlElement:
    """The page's one article or main part, where it marks one and the words are there."""
    for tag in ("article", "main"):
        found = tree.xpath(f"//{tag}")
        if len(found) == 1 and len(found[0].text_content().strip()) > _MAIN:
            part: HtmlElement = found[0]
            return part
    return tree


def _guess(data: bytes) -> str | None:
    from rewriter.codec import decode

    try:
        return decode(data)[1].encoding
    except Unusable:
        return None
