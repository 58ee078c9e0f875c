"""Six recipes of the corpus in every text style, kept as files and reviewed by eye.

After a change that is meant: ``REWRITER_SNAPSHOTS=write python -m pytest tests/writing/test_snapshots.py``, then read
what ``git diff tests/writing/snapshots`` shows, as a baker would, before keeping it.
"""

import os
from pathlib import Path

import pytest

import rewriter
from rewriter.writing import write
from rewriter.writing.registry import find, styles

HERE = Path(__file__).parent / "snapshots"
CORPUS = Path(__file__).parents[2] / "corpus" / "recipes" / "train"
RECIPES = (
    "101-teague-birthday-layer-cake",  # a card with headings
    "106-ninebark-angel-food",  # sugar divided in the method
    "107-teague-buttermilk-biscuits",  # water beside buttermilk
    "118-british-sandwich-cake-pell",  # dual weights, gas marks, self-raising flour
    "201-sundquist-cardamom-butter-cake",  # vulgar fractions, dual volumes
    "205-old-silver-cake-prose",  # running prose in words
)
STYLES = tuple(name for name in styles() if not find(name).binary)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("name", RECIPES)
def test_it_is_written_as_it_was_reviewed(name: str, style: str) -> None:
    text = (CORPUS / f"{name}.txt").read_bytes().decode("utf-8")
    got = rewriter.rewrite(text, elevation="6,500 ft")
    shown = write(got.source, got.recipes, got.plans, got.changes, got.review, got.air, style=style)
    kept = HERE / f"{name}.{style}{find(style).suffix}"
    if os.environ.get("REWRITER_SNAPSHOTS") == "write":
        kept.parent.mkdir(exist_ok=True)
        kept.write_bytes(shown.encode("utf-8"))
    assert kept.read_bytes().decode("utf-8") == shown
