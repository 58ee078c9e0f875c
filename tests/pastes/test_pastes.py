"""Recipes in the ways people paste them, and what must and must not change at 6,500 ft.

Beside each text stands its ``.want``: the kind of bake, then every measured thing in the order it stands, with the
way it goes: ``up``, ``down``, ``insert`` (water goes in behind it) or ``stay``. Nothing else in the text may change.
Which way each goes is common practice, no source; how far is held by the tests of correcting.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import rewriter
from rewriter.errors import Unusable

HERE = Path(__file__).parent
PASTES = sorted(HERE.glob("*.txt"))
ELEVATIONS = ["6500 ft", "9000 ft"]


def wanted(path: Path) -> list[tuple[str, str]]:
    """The rows of a paste's ``.want``: the way, and the words."""
    rows = path.with_suffix(".want").read_text(encoding="utf-8").splitlines()
    return [(way.strip(), words[1:]) for way, words in (row.split("|", 1) for row in rows)]


@pytest.mark.parametrize("path", PASTES, ids=lambda path: path.stem)
def test_what_changes_and_what_stays(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    result = rewriter.rewrite(text, elevation="6500 ft")
    (_, kind), *rows = wanted(path)
    assert result.recipe.kind == kind
    changes = [change for change in result.changes if change.direction != "note"]
    at, found, covered = 0, [], set()
    for _, words in rows:
        start = text.index(words, at)
        at = start + len(words)
        inside = [change for change in changes if start <= change.start and change.end <= at]
        covered |= {(change.start, change.end) for change in inside}
        found.append(("+".join(sorted({change.direction for change in inside})) or "stay", words))
    assert found == rows
    assert [change for change in changes if (change.start, change.end) not in covered] == []


@pytest.mark.parametrize("elevation", ELEVATIONS)
@pytest.mark.parametrize("path", PASTES, ids=lambda path: path.stem)
def test_the_paste_comes_back_and_annotating_twice_is_once(path: Path, elevation: str) -> None:
    text = path.read_text(encoding="utf-8")
    once = rewriter.rewrite(text, elevation=elevation).text
    assert rewriter.strip(once) == text
    assert rewriter.rewrite(once, elevation=elevation).text == once


def test_the_source_of_a_page_is_refused_and_not_passed_over() -> None:
    page = "<h2>Muffins</h2><ul><li>2&nbsp;cups flour</li><li>&frac34; cup sugar</li></ul><p>Bake at 400&deg;F.</p>"
    with pytest.raises(Unusable, match="source of a web page"):
        rewriter.rewrite(page, elevation="6500 ft")


@pytest.mark.parametrize("tail", [" ", "\t", "-", "\u2003", "\r"])
def test_blanks_at_the_end_change_nothing(tail: str) -> None:
    text = "Cake\n2 cups flour\n1 cup sugar\n1 tsp baking powder\n1/2 cup butter\n1 cup milk\nBake at 350 F 30 min."
    bare = rewriter.rewrite(text, elevation="6500 ft").changes
    longer = rewriter.rewrite(text + tail * 30_000, elevation="6500 ft").changes
    assert [change for change in longer if change.end <= len(text)] == bare


def test_half_a_character_is_read_over() -> None:
    text = "Cake\n2 cups flour\n1 cup sugar\ud83d\n1 tsp baking powder\n1 cup milk\nBake at 350 F 30 min."
    result = rewriter.rewrite(text, elevation="6500 ft")
    assert rewriter.strip(result.text) == text
    assert result.changes
