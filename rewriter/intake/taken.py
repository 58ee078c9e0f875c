"""What an intake gives: the text, where its words stood, and what to mistrust."""

from __future__ import annotations

from dataclasses import dataclass

from rewriter.codec import Form
from rewriter.model import Page


@dataclass(frozen=True, slots=True)
class Taken:
    """A file's text.

    text: what it says, word for word. pages: for a PDF or a photo, where each word of ``text`` stood.
    origin: the name it came by ("cards.zip: aunt/rusk.txt" for a member of an archive). kind: "text", "markdown",
    "web page", "recipe data", "document", "pdf", "photo". warnings: what a person should look at, a sentence each.
    cuts: (start, end) of each recipe in ``text`` where the file itself tells them apart, else empty.
    form: for a text file, how to turn ``text`` into the same bytes again. data: the bytes themselves.
    """

    text: str
    pages: tuple[Page, ...] = ()
    origin: str = ""
    kind: str = "text"
    warnings: tuple[str, ...] = ()
    cuts: tuple[tuple[int, int], ...] = ()
    form: Form | None = None
    data: bytes = b""
