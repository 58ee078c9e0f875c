"""Print: recipes on pages and cards, set by Typst (extra ``print``): ``book(jobs, paper)`` gives a PDF's bytes.

The words of a recipe never become Typst source: they travel as data, so that no sign in them can mean anything.
"""

from __future__ import annotations

from rewriter.writing.print.book import PAPERS, Curve, book

__all__ = ["PAPERS", "Curve", "book"]
