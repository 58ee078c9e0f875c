"""Overlay: a recipe's changes written on the very page it came from, beside the amounts they change.

``annotated(taken, job)`` gives a PDF: the page as it was, new amounts in free places near the old ones, a fine leader
to each, and the notes on a strip below or on a page of their own. ``checked`` holds back what rests on an amount that a
machine read from a picture and that can hardly be meant, and asks
about it; ``settled`` takes a person's word for what a line says.
"""

from __future__ import annotations

from rewriter.overlay.annotate import annotated
from rewriter.overlay.doubts import checked, doubts
from rewriter.overlay.settle import settled, told

__all__ = ["annotated", "checked", "doubts", "settled", "told"]
