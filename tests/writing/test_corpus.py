"""Every recipe of the corpus, read, corrected and written: it comes back whole, and what it divides adds up."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

import rewriter
from rewriter.api import Result
from rewriter.model import Change, Portion
from rewriter.writing import pasted, strip, styles
from rewriter.writing.corrected import corrected
from rewriter.writing.registry import find
from rewriter.writing.styled.docx import paragraphs

RECIPES = sorted((Path(__file__).parents[2] / "corpus" / "recipes").rglob("*.txt"))
REVERSIBLE = [name for name in styles() if find(name).reversible and not find(name).binary]
ELEVATIONS = ("5,280 ft", "9,000 ft")

# NIST Handbook 44, Appendix C: 48 tsp and 16 Tbsp to the cup, 16 oz to the pound.
SIZES = {"cup": 48, "c": 48, "tablespoon": 3, "tbsp": 3, "tbs": 3, "tblsp": 3, "teaspoon": 1, "tsp": 1}
WEIGHTS = {"g": 1, "gram": 1, "kg": 1000, "ml": 1, "l": 1000, "oz": Fraction(28349523125, 10**9)}
WHOLE = {"a": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7}
PART = {"half": 2, "third": 3, "quarter": 4, "fourth": 4, "eighth": 8}
VULGAR = dict(zip("½⅓⅔¼¾⅛⅜⅝⅞", map(Fraction, "1/2 1/3 2/3 1/4 3/4 1/8 3/8 5/8 7/8".split()), strict=True))


@cache
def result(path: Path, elevation: str) -> Result:
    return rewriter.rewrite(path.read_bytes().decode("utf-8"), elevation=elevation)


def total(words: str) -> Fraction | None:
    """An amount in figures or words as teaspoons, grams or millilitres, or None where it holds anything else."""
    text = re.sub(r"\(.*?\)", "", words.lower())
    text = "".join(f" {VULGAR[char]} " if char in VULGAR else char for char in text)
    text = (
        re.sub(r"(\d)([a-z])", r"\1 \2", re.sub(r"(\d)-(\d+/)", r"\1 \2", text))
        .replace("one-", "one ")
        .replace("-", " ")
    )
    found, pending, last, sign = Fraction(0), Fraction(0), 0, 1
    for word in re.sub(r"\.(?!\d)", "", text).split():
        name = word.removesuffix("s").removesuffix("ful")
        if word in ("+", "plus", "less"):
            sign = -1 if word == "less" else 1
        elif re.fullmatch(r"\d+(/\d+|\.\d+)?", word):
            pending += Fraction(word)
        elif word in WHOLE:
            last = WHOLE[word]
            pending += last
        elif name in PART and last:
            pending += Fraction(last, PART[name]) - last
        elif name in SIZES or name in WEIGHTS:
            found, pending = found + sign * pending * (SIZES.get(name) or WEIGHTS[name]), Fraction(0)
        elif word not in ("and", "of", "the"):
            return None
    return found if not pending else None


def divided(got: Result) -> list[tuple[Change, list[Portion]]]:
    """The changed totals whose quantity portions make up the whole."""
    out = []
    for recipe in got.recipes:
        for item in recipe.ingredients:
            mine = [p for p in recipe.portions if p.ingredient == item and p.of != "restated" and p.sure and p.quantity]
            for amount in item.amounts:
                change = next(
                    (c for c in got.changes if (c.start, c.end) == (amount.start, amount.end) and not c.addition), None
                )
                same = [p for p in mine if p.unit == amount.unit]
                if change and len(same) == len(mine) > 0 and sum(p.quantity or 0 for p in same) == amount.quantity:
                    out.append((change, same))
    return out


def unequal(got: Result) -> list[str]:
    """The divided totals whose new portions do not add up to the new total."""
    out = []
    for change, portions in divided(got):
        words = [next((c.new for c in got.changes if p.start <= c.start < p.end), None) for p in portions]
        old = [f"{p.quantity} {p.unit}" for p in portions]
        parts = [total(new or was) for new, was in zip(words, old, strict=True)]
        whole = total(change.new)
        if whole is not None and None not in parts and sum(part or 0 for part in parts) != whole:
            out.append(f"{change.old} -> {change.new}: {words}")
    return out


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_it_comes_back_byte_for_byte_in_every_reversible_style(path: Path) -> None:
    text = path.read_bytes().decode("utf-8")
    for elevation in ELEVATIONS:
        got = result(path, elevation)
        assert strip(got.text) == got.source
        for style in REVERSIBLE:
            assert strip(got.restyled(style)) == text, style


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_a_document_rejects_to_the_pasted_text_and_accepts_to_the_corrected_one(path: Path, tmp_path: Path) -> None:
    got = result(path, "9,000 ft")
    saved = tmp_path / "saved.docx"
    got.save(saved)
    data = saved.read_bytes()
    assert pasted(data) == got.source
    assert lines(paragraphs(data, accept=False)) == lines([got.source])
    accepted = lines(paragraphs(data, accept=True))
    clean = lines([corrected(got.source, got.changes, "\n", recipes=got.recipes)])
    assert accepted[: len(clean)] == clean


def lines(texts: Iterable[str]) -> list[str]:
    """The lines of some text without control characters, which a document cannot hold, and without blank ends."""
    plain = re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f]", "", re.sub(r"\r\n?", "\n", "\n".join(texts)))
    return plain.rstrip("\n").split("\n")


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_portions_add_up(path: Path) -> None:
    for elevation in ELEVATIONS:
        assert unequal(result(path, elevation)) == []


def misrounded(got: Result) -> list[str]:
    """Changes that stand further from the exact amount than a quarter of the correction (leaveners: or 1/16 tsp)."""
    out = []
    portions = {(p.start, p.end) for recipe in got.recipes for p in recipe.portions}
    for recipe in got.recipes:
        for item in recipe.ingredients:
            for amount in item.amounts:
                change = next(
                    (c for c in got.changes if (c.start, c.end) == (amount.start, amount.end) and not c.addition), None
                )
                each = SIZES.get(amount.unit) or WEIGHTS.get(amount.unit)
                new = (
                    total(change.new) if change and "scant" not in change.new and "rounded" not in change.new else None
                )
                if (
                    not change
                    or not each
                    or new is None
                    or change.exact is None
                    or change.exact_max
                    or not amount.quantity
                ):
                    continue
                if (change.start, change.end) in portions or amount.count:
                    continue
                correction = abs(change.exact - amount.quantity) * each
                fine = item.role in ("leavener", "yeast")
                least = Fraction(0) if not fine else Fraction(1, 16) if amount.unit in SIZES else Fraction(46, 160)
                if abs(new - change.exact * each) > max(correction / 4, least):
                    out.append(f"{item.name}: {change.old} -> {change.new}, exactly {change.exact} {amount.unit}")
    return out


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_rounding_stays_within_a_quarter_of_the_correction(path: Path) -> None:
    for elevation in ELEVATIONS:
        assert misrounded(result(path, elevation)) == []


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_at_sea_level_nothing_is_written(path: Path) -> None:
    got = result(path, "0 ft")
    assert (got.text, got.changes) == (got.source, [])


def test_the_corpus_does_divide_what_changes() -> None:
    assert sum(len(divided(result(path, "9,000 ft"))) for path in RECIPES) >= 3


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_every_change_says_what_it_was(path: Path) -> None:
    got = result(path, "9,000 ft")
    for change in got.changes:
        assert got.source[change.start : change.end] == change.old
        assert change.new != change.old
        assert change.why
        assert change.source
    starts = [change.start for change in got.changes]
    assert starts == sorted(starts)


@pytest.mark.parametrize(
    ("words", "amount"),
    [
        ("1 cup less 1 Tbsp", 45),
        ("one and one-half cups", 72),
        ("1½ c. + 2 tsp.", 74),
        ("three-quarters teaspoonful", "3/4"),
        ("188g", 188),
    ],
)
def test_the_sums_are_read_as_they_are_meant(words: str, amount: object) -> None:
    assert total(words) == Fraction(str(amount))
