"""The scorer counts as one counts by hand, and the program reads the training recipes no worse than it did."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest

from corpus import card, same, score, standoff
from corpus import compile as corpus_compile
from corpus.compare import Spot
from corpus.standoff import Gold, Mark
from corpus.tally import Row, Tally, pair
from rewriter.model import Amount, Time

REC = """id: 001-rounds
style: card
split: train
kind: shortened-cake
---
Pell's Plain Cake

⟦I flour batter same|⟦A 2 cup|2 cups⟧ ⟦N|flour⟧⟧
⟦I sugar batter down|⟦A 1 cup|1 cup⟧ ⟦N|sugar⟧⟧
⟦I leavener batter down|⟦A 2 tsp|2 tsp⟧ ⟦N|baking powder⟧⟧
⟦I egg batter same|⟦A 2 each|2⟧ ⟦N|eggs⟧⟧
⟦I fat batter same|⟦A 1/2 cup|1/2 cup⟧ ⟦N|butter⟧⟧
⟦I liquid batter up|⟦A 3/4 cup|3/4 cup⟧ ⟦N|milk⟧⟧

Cream the butter and sugar. Add the eggs, then the rest. Bake at ⟦H 350F oven bake|350°F⟧ for ⟦T 30 bake|30 minutes⟧.
"""


def _gold(rec: str) -> Gold:
    doc = corpus_compile.read(rec)
    assert not list(corpus_compile.faults(doc, "001-rounds", "train"))
    return standoff.gold(doc.text, corpus_compile.standoff(doc), "001-rounds")


def _rows(rec: str) -> tuple[dict[str, Row], dict[str, float], list[tuple[str, str, str]]]:
    tally, numbers = score.score([_gold(rec)])
    return dict(tally.rows), numbers, tally.mistakes


def test_a_card_read_right_scores_full_marks_in_every_row() -> None:
    rows, numbers, mistakes = _rows(REC)
    assert not mistakes
    assert {label: row.gold for label, row in rows.items()} == {
        "name": 6, "name exact": 6, "role": 6, "part": 6, "amount": 6, "amount quantity": 6, "amount unit": 6,
        "amount whole": 6, "portion": 0, "portion value": 0, "portion of": 0, "heat": 1, "heat degrees": 1,
        "heat place": 1, "heat purpose": 1, "time": 1, "time minutes": 1, "time purpose": 1, "kind": 1, "move": 3,
    }  # fmt: skip
    assert all(row.right == row.gold == row.said for row in rows.values())
    assert (numbers["lossless"], numbers["wrong"], numbers["stray"], numbers["crashes"]) == (1, 0, 0, 0)


# Each label is bent in one place; the rows that must fall, and to what, counted by hand.
@pytest.mark.parametrize(
    ("old", "new", "fallen"),
    [
        ("A 1 cup|", "A 3 cup|", {"amount quantity": (6, 6, 5), "amount whole": (6, 6, 5)}),
        ("A 1 cup|", "A 1 pint|", {"amount unit": (6, 6, 5), "amount whole": (6, 6, 5)}),
        ("I sugar batter down", "I sugar batter same", {"move": (2, 3, 2)}),
        ("I egg batter same", "I fat batter same", {"role": (6, 6, 5)}),
        ("I egg batter same", "I egg topping same", {"part": (6, 6, 5)}),
        ("⟦N|baking powder⟧", "baking ⟦N|powder⟧", {"name exact": (6, 6, 5)}),
        ("⟦I egg batter same|⟦A 2 each|2⟧ ⟦N|eggs⟧⟧", "2 eggs",
         {"name": (5, 6, 5), "name exact": (5, 6, 5), "role": (5, 6, 5), "part": (5, 6, 5), "amount": (5, 6, 5),
          "amount quantity": (5, 6, 5), "amount unit": (5, 6, 5), "amount whole": (5, 6, 5)}),
        ("H 350F oven bake", "H 375F oven bake", {"heat degrees": (1, 1, 0)}),
        ("H 350F oven bake", "H 180C oven bake", {"heat degrees": (1, 1, 0)}),
        ("H 350F oven bake", "H 350F food doneness", {"heat place": (1, 1, 0), "heat purpose": (1, 1, 0)}),
        ("T 30 bake", "T 30..35 rise", {"time minutes": (1, 1, 0), "time purpose": (1, 1, 0)}),
        ("kind: shortened-cake", "kind: cookie", {"kind": (1, 1, 0)}),
        ("Add the eggs", "Add ⟦P flour 1/2 share|the eggs⟧",
         {"portion": (1, 0, 0), "portion value": (1, 0, 0), "portion of": (1, 0, 0)}),
    ],
)  # fmt: skip
def test_one_bent_label_costs_what_it_must(old: str, new: str, fallen: dict[str, tuple[int, int, int]]) -> None:
    assert REC.count(old) == 1
    rows, numbers, mistakes = _rows(REC.replace(old, new))
    assert {
        label: (row.gold, row.said, row.right) for label, row in rows.items() if row.right < max(row.gold, row.said)
    } == fallen
    assert mistakes
    assert numbers["wrong"] == (1 if "move" in fallen else 0)


def test_precision_recall_and_f1() -> None:
    """Right among said, right among labelled, their harmonic mean (van Rijsbergen 1979, from memory)."""
    row = Row(gold=8, said=5, right=4)
    assert (row.precision, row.recall) == (0.8, 0.5)
    assert row.f1 == pytest.approx(2 * 0.8 * 0.5 / 1.3)
    assert (Row().precision, Row().recall, Row().f1) == (1, 1, 1)


def test_pairs_are_one_to_one_and_the_largest_overlap_wins() -> None:
    assert pair([Spot(0, 10)], [Spot(8, 12), Spot(0, 7)]) == {0: 1}
    assert pair([Spot(0, 4), Spot(4, 8)], [Spot(3, 8)]) == {1: 0}
    assert pair([Spot(0, 4)], [Spot(4, 8)]) == {}


# British gas marks and their degrees: the makers' common table, from memory.
# 20 C less for a fan: common practice, no source.
@pytest.mark.parametrize(
    ("figure", "fahrenheit", "near"),
    [("gas4", 350, True), ("gas6", 400, True), ("gas1/2", 250, True), ("180C", 356, True), ("180C", 350, False),
     ("160Cfan", 350, True), ("350F", 353, True), ("350F", 354, False), ("375Fword", 375, True),
     ("200..205F", 200, True)],
)  # fmt: skip
def test_degrees_of_every_scale(figure: str, fahrenheit: int, near: bool) -> None:
    assert same.degrees([Mark("Heat", 0, 1, {"Figure": figure})], Fraction(fahrenheit)) is near


def test_ranges_counts_and_unfigured_amounts() -> None:
    range_ = Mark("Amount", 0, 3, {"Quantity": "2..3", "Unit": "each"})
    assert same.amount(range_, Amount(0, 3, "2-3", Fraction(2), Fraction(3), "each"))
    assert not same.amount(range_, Amount(0, 3, "2-3", Fraction(2), unit="each"))
    tins = Mark("Amount", 0, 3, {"Quantity": "400", "Unit": "g", "Count": "2"})
    assert same.amount(tins, Amount(0, 3, "", Fraction(400), unit="g", count=Fraction(2)))
    assert not same.amount(tins, Amount(0, 3, "", Fraction(400), unit="g"))
    assert same.amount(
        Mark("Amount", 0, 3, {"Quantity": "?", "Unit": "drop"}), Amount(0, 3, "drops", None, unit="drop")
    )
    minutes = Mark("Time", 0, 3, {"Minutes": "90"})
    assert same.minutes(minutes, Time(0, 3, "", Fraction(90)))
    assert not same.minutes(minutes, Time(0, 3, "", Fraction(90), Fraction(120)))


def test_standoff_comes_back_as_it_was_labelled() -> None:
    gold = _gold(REC)
    assert [gold.text[one.start : one.end] for one in gold.names] == [
        "flour",
        "sugar",
        "baking powder",
        "eggs",
        "butter",
        "milk",
    ]
    assert [len(amounts) for amounts in gold.amounts] == [1] * 6
    assert [one.get("Move") for one in gold.ingredients] == ["same", "down", "down", "same", "same", "up"]
    assert (len(gold.heats), len(gold.times), gold.recipes[0].get("Kind")) == (1, 1, "shortened-cake")


def test_a_crash_is_counted_and_named(monkeypatch: pytest.MonkeyPatch) -> None:
    def crash(*_args: object, **_names: object) -> None:
        raise ZeroDivisionError("no flour")

    monkeypatch.setattr(score.rewriter, "rewrite", crash)
    tally, numbers = score.score([_gold(REC)])
    assert (numbers["crashes"], numbers["lossless"]) == (1, 0)
    assert ("crash", "001-rounds", "ZeroDivisionError: no flour") in tally.mistakes


def test_the_card_takes_new_figures_only_between_its_markers() -> None:
    text = card.CARD.read_text(encoding="utf-8")
    changed = card.renewed(text, "figures", "| new |")
    assert "<!-- figures -->\n| new |\n<!-- /figures -->" in changed
    assert changed.split("<!-- figures -->")[0] == text.split("<!-- figures -->")[0]
    assert changed.split("<!-- /figures -->")[1] == text.split("<!-- /figures -->")[1]
    with pytest.raises(ValueError, match="no place"):
        card.renewed(text, "nothing", "| new |")


def test_the_card_shows_every_row_of_both_splits() -> None:
    result = score.score([_gold(REC.replace("A 1 cup|", "A 3 cup|"))])
    table = card.reading({"train": result, "test": result})
    assert "| amount quantity | 0.833 | 0.833 | 0.833 | 0.833 | 0.833 | 0.833 |" in table
    assert len(table.splitlines()) == 2 + len(result[0].rows) + 4


@pytest.fixture(scope="module")
def train() -> tuple[Tally, dict[str, float]]:
    return score.score(standoff.load("train"))


# F1 a little below what corpus/MODEL_CARD.md records: whoever lowers one must say why there.
FLOORS = {
    "name": 0.945, "role": 0.93, "part": 0.855, "amount": 0.955, "amount quantity": 0.95, "amount unit": 0.95,
    "portion": 0.62, "portion value": 0.515, "heat": 0.935, "heat degrees": 0.92, "heat place": 0.875,
    "heat purpose": 0.785, "time": 0.88, "time minutes": 0.87, "kind": 0.965, "move": 0.905,
}  # fmt: skip


@pytest.mark.parametrize(("label", "floor"), FLOORS.items())
def test_training_recipes_are_read_no_worse_than_before(
    train: tuple[Tally, dict[str, float]], label: str, floor: float
) -> None:
    assert train[0].rows[label].f1 >= floor


def test_training_recipes_come_back_whole_and_are_seldom_changed_wrongly(train: tuple[Tally, dict[str, float]]) -> None:
    numbers = train[1]
    assert (numbers["recipes"], numbers["lossless"], numbers["crashes"]) == (200, 1, 0)
    assert numbers["wrong"] <= 8
    assert numbers["stray"] <= 11


def test_the_figures_are_printed_and_ready_for_json(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(score, "load", lambda _split: [_gold(REC.replace("A 1 cup|", "A 3 cup|"))])
    assert score.main(["--show", "5", "--of", "amount quantity"]) == 0
    shown = capsys.readouterr().out
    assert "'1 cup': 3 cup as 1 cup" in shown
    assert score.main(["--json"]) == 0
    figures = json.loads(capsys.readouterr().out)
    assert figures["amount quantity"] == {"precision": 0.8333, "recall": 0.8333, "f1": 0.8333, "labelled": 6, "read": 6}
    assert figures["numbers"]["lossless"] == 1
