"""The recipe box: one file that holds a family's recipes, their revisions and bakes, and what came of them."""

from __future__ import annotations

from rewriter.collection.box import Box, salvage
from rewriter.collection.manner import Manner
from rewriter.collection.records import Added, Bake, Card, Revision
from rewriter.collection.search import Query
from rewriter.collection.store import Damaged

__all__ = ["Added", "Bake", "Box", "Card", "Damaged", "Manner", "Query", "Revision", "salvage"]
