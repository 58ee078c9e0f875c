"""The annotated page: the page as it was, the labels on a transparent one over it, the notes below or behind."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rewriter.errors import Unusable
from rewriter.intake import Taken
from rewriter.model import Page
from rewriter.overlay.frame import Frame, rows
from rewriter.overlay.ink import ink
from rewriter.overlay.labels import labels
from rewriter.overlay.places import MARGIN, Placed, placed
from rewriter.writing.print.sheet import sheets
from rewriter.writing.print.typeset import measured, template, typeset
from rewriter.writing.registry import Job

HERE = "rewriter.overlay"
_PRINT = "print it to a new PDF and give that"
TALLEST = 0.75  # of the page: notes that need a higher strip get a page of their own


@dataclass(frozen=True, slots=True)
class Extra:
    """Points added to a page on its left and right."""

    left: float = 0.0
    right: float = 0.0


def annotated(taken: Taken, job: Job, notes: str = "auto") -> bytes:
    """A PDF of the pages an intake took, each change written near its amount.

    job: of ``taken.text``, unchanged. notes: "below" (a strip under the last page), "page" (a page of their own) or
    "auto": in the room the last page leaves at its foot, else below a single page, else on a page of their own.
    Raises Unusable where the file had no pages.
    """
    if not taken.pages:
        raise Unusable(f"{taken.origin or 'this'} has no printed page to write on", "give a PDF or a photo of it")
    from pypdf import PdfReader, PdfWriter

    base = _writable(_base(taken))
    layout, bare = places(taken, job)
    extras = [_extra(page, layout[page.number]) for page in taken.pages]
    over = PdfReader(io.BytesIO(_labels(taken.pages, layout, extras)))
    last = taken.pages[-1]
    wide = last.width + extras[-1].left + extras[-1].right
    strip = PdfReader(io.BytesIO(_strip(job, taken.pages, wide))).pages[0]
    way, foot = _foot(notes, float(strip.mediabox.height), bare, len(taken.pages), last.height)
    writer = PdfWriter()
    for index, (page, extra) in enumerate(zip(taken.pages, extras, strict=True)):
        added = foot if page is last else 0.0
        sheet = writer.add_blank_page(page.width + extra.left + extra.right, page.height + added)
        old = base.pages[index]
        move = (extra.left - float(old.cropbox.left), added - float(old.cropbox.bottom))
        sheet.merge_translated_page(old, *move)
        sheet.merge_translated_page(over.pages[index], 0, added)
        if page is last and way != "page":
            sheet.merge_page(strip)
    if way == "page":
        writer.append(io.BytesIO(_strip(job, taken.pages, wide, last.height)))
    writer.add_metadata({"/Title": f"{job.recipes[0].title or 'Recipe'}, annotated"})
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def _writable(data: bytes) -> Any:
    """The pages, upright, ready to be written on. Raises Unusable where the file forbids it or is too damaged."""
    from pypdf import PdfReader, PdfWriter
    from pypdf.errors import PyPdfError

    try:
        reader = PdfReader(io.BytesIO(data))
        if reader.is_encrypted:
            raise Unusable("this PDF is protected", _PRINT)
        base = PdfWriter(clone_from=reader)
        for sheet in base.pages:
            sheet.transfer_rotation_to_content()
    except (PyPdfError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise Unusable(f"this PDF cannot be written on ({type(error).__name__})", _PRINT) from None
    return base


def _foot(notes: str, high: float, bare: float, pages: int, page_height: float) -> tuple[str, float]:
    """Where the notes go ("inside", "below" or "page") and what is added to the foot of the last page for them."""
    if notes == "auto" and high + 6 <= bare:
        return "inside", 0.0
    if notes == "below" or (notes == "auto" and pages == 1 and high <= TALLEST * page_height):
        return "below", high
    return "page", 0.0


def places(taken: Taken, job: Job) -> tuple[dict[int, list[Placed]], float]:
    """Where each label goes, by page number, on pages set straight; and how much of the last page's foot is bare."""
    found, _ = labels(job, taken.pages)
    words = {"words": [label.words for label in found]}
    sizes = measured(template("widths.typ", package=HERE), words) if found else []
    pictures = _pictures(taken)
    out: dict[int, list[Placed]] = {}
    bare = 0.0
    for index, page in enumerate(taken.pages):
        here = [(label, size[0]) for label, size in zip(found, sizes, strict=True) if label.page == page.number]
        frame = Frame(page.width, page.height, page.skew)
        ground = ink(pictures(index), frame) if here or index == len(taken.pages) - 1 else None
        if ground is not None:
            own = [label for label, _ in here]
            out[page.number] = placed(own, [width for _, width in here], frame, ground, rows(page, taken.text))
            low = max((one.box.y1 for one in out[page.number]), default=0.0)
            bare = 0.0 if page.skew else min(ground.bare_foot(page.height), page.height - low)
        else:
            out[page.number] = []
    return out, bare


def _base(taken: Taken) -> bytes:
    """The pages themselves as a PDF; a photo becomes a page."""
    if taken.kind == "pdf":
        return taken.data
    from rewriter.intake.photo import opened

    picture = opened(taken.data)
    page = taken.pages[0]
    out = io.BytesIO()
    picture.save(out, "PDF", resolution=72 * picture.width / page.width, quality=90)
    return out.getvalue()


def _pictures(taken: Taken) -> Any:
    """A function from a page's index to its picture."""
    if taken.kind == "photo":
        from rewriter.intake.photo import opened

        return lambda _: opened(taken.data)
    import pypdfium2

    document = pypdfium2.PdfDocument(taken.data)
    return lambda index: document[index].render(scale=2).to_pil()


def _extra(page: Page, here: Sequence[Placed]) -> Extra:
    """The margins that the labels of a page need beside it."""
    frame = Frame(page.width, page.height, page.skew)
    xs = [frame.turned(x, y)[0] for one in here if one.way == "margin" for x, y in _corners(one)]
    left = max((-x for x in xs if x < 0), default=0.0)
    right = max((x - page.width for x in xs if x > page.width), default=0.0)
    return Extra(left + MARGIN if left else 0.0, right + MARGIN if right else 0.0)


def _corners(one: Placed) -> list[tuple[float, float]]:
    box = one.box
    return [(box.x0, box.y0), (box.x1, box.y0), (box.x0, box.y1), (box.x1, box.y1)]


def _labels(pages: Sequence[Page], layout: dict[int, list[Placed]], extras: Sequence[Extra]) -> bytes:
    """The transparent pages."""
    data = []
    for page, extra in zip(pages, extras, strict=True):
        frame = Frame(page.width, page.height, page.skew)
        shown = []
        leaders = []
        for one in layout[page.number]:
            x, y = frame.turned(one.box.x0, one.box.y0)
            shown.append({"x": x + extra.left, "y": y, "turn": page.skew, "size": one.size, "words": one.label.words})
            for x0, y0, x1, y1 in one.leader:
                (a, b), (c, d) = frame.turned(x0, y0), frame.turned(x1, y1)
                leaders.append((a + extra.left, b, c + extra.left, d))
        wide = page.width + extra.left + extra.right
        data.append({"width": wide, "height": page.height, "labels": shown, "leaders": leaders})
    return typeset(template("labels.typ", package=HERE), {"pages": data})


def _strip(job: Job, pages: Sequence[Page], width: float, height: float = 0.0) -> bytes:
    """The notes of every recipe, as wide as the page; labels too long for it stand before them.

    height: of the pages they are set on; 0 for one strip, as high as they need.
    """
    _, long = labels(job, pages)
    size = min(max(width / 55, 8.5), 11)
    data = {
        "width": width,
        "height": height,
        "margin": width / 16,
        "size": size,
        "long": list(long),
        "recipes": sheets(job),
    }
    own = template("notes.typ") + template("strip.typ", package=HERE)
    return typeset(own, data)
