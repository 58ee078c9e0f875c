"""Labelled recipes to brat standoff. Format checked against the brat manual's 'standoff format' page (from memory)."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from corpus import compile as corpus_compile

REC = """id: 001-rounds
style: card
split: test
kind: cookie
---
Pell's Rounds

⟦I sugar batter down|⟦A 3/2 cup|1½ cups⟧ (⟦A 300 g|300 g⟧) ⟦N|sugar⟧⟧
⟦I other batter same|⟦A 14 oz x1|1 (14-oz) can⟧ ⟦N|cherries⟧⟧
⟦I salt batter same|⟦A 1 tsp|1 tsp each⟧ ⟦N|salt⟧⟧ and ⟦I leavener batter down shared|⟦N|baking
soda⟧⟧
Add ⟦P sugar 1/2 share|half the sugar⟧. Bake at ⟦H 350F oven bake g1|350°F⟧ (⟦H 180C oven bake g1|180°C⟧)
for ⟦T 10..12 bake|10-12 minutes⟧.
"""


def test_labels_are_stripped_and_offsets_point_into_the_plain_text() -> None:
    doc = corpus_compile.read(REC)
    assert "⟦" not in doc.text
    assert "|" not in doc.text
    found = {(span.label, doc.text[span.start : span.end]) for span in doc.spans}
    assert ("Ingredient", "1½ cups (300 g) sugar") in found
    assert ("Amount", "1 (14-oz) can") in found
    assert ("Heat", "180°C") in found
    assert not list(corpus_compile.faults(doc, "001-rounds", "test"))


def test_standoff_lines_say_what_stands_at_their_offsets() -> None:
    doc = corpus_compile.read(REC)
    lines = corpus_compile.standoff(doc).splitlines()
    covering = [line.split("\t") for line in lines if line.startswith("T")]
    assert len(covering) == len(doc.spans) + 1
    for _, label_and_places, words in covering:
        places = label_and_places.split(" ", 1)[1].split(";")
        pieces = [doc.text[int(low) : int(high)] for low, high in (place.split() for place in places)]
        assert " ".join(pieces) == words
        assert not any("\n" in piece for piece in pieces)
    assert all(re.fullmatch(r"A\d+\t[A-Z][a-z]+ T\d+ \S+", line) for line in lines if line.startswith("A"))
    assert "A1\tKind T1 cookie" in lines
    quantities = [line.split()[-1] for line in lines if "\tQuantity T" in line]
    assert quantities == ["3/2", "300", "14", "1", "1/2"]
    assert sum(line.startswith("A") and line.endswith(" g1") for line in lines) == 2


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("A 3/2 cup", "A 3/2 cups", "no Unit"),
        ("A 3/2 cup", "A 0 cup", "no Quantity"),
        ("A 3/2 cup", "A 3..2 cup", "no Quantity"),
        ("I sugar batter down", "I sweet batter down", "no Role"),
        ("I sugar batter down", "I sugar dough down", "no Part"),
        ("I sugar batter down", "I sugar frosting down", "only batter moves"),
        ("I salt batter same", "I salt batter down", "never goes down"),
        ("kind: cookie", "kind: biscuit", "not legal"),
        ("kind: cookie", "kinds: cookie; griddle", "titles"),
        ("kind: cookie", "kind: confection", "the part is dish"),
        ("split: test", "split: train", "differ from the file's place"),
        ("H 350F oven", "H 350 oven", "no Figure"),
        ("T 10..12 bake", "T ten bake", "no Minutes"),
        ("⟦N|sugar⟧", "sugar", "must hold one name"),
        ("⟦N|sugar⟧", "⟦N|sugar ⟧", "space round it"),
        ("half the sugar", "⟦A 1 tsp|half⟧ the sugar", "outside an ingredient"),
    ],
)
def test_faults_are_named(old: str, new: str, fault: str) -> None:
    assert old in REC
    doc = corpus_compile.read(REC.replace(old, new))
    assert any(fault in found for found in corpus_compile.faults(doc, "001-rounds", "test"))


@pytest.mark.parametrize("marked", ["⟦A 1 cup|1 cup", "1 cup⟧", "⟦Z|what⟧", "⟦|empty⟧"])
def test_broken_labels_are_refused(marked: str) -> None:
    with pytest.raises(ValueError, match=r"label|stray"):
        corpus_compile.parse(marked)


@given(st.lists(st.text(alphabet=st.characters(exclude_characters="⟦⟧")), min_size=1))
def test_text_comes_back_whole_whatever_is_labelled(pieces: list[str]) -> None:
    text, spans = corpus_compile.parse("".join(f"⟦N|{piece}⟧" for piece in pieces))
    assert text == "".join(pieces)
    assert sorted(text[span.start : span.end] for span in spans) == sorted(pieces)


def test_check_fails_when_an_output_is_missing_stale_or_orphaned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(corpus_compile, "HERE", tmp_path)
    monkeypatch.setattr(corpus_compile, "LABELLED", tmp_path / "labelled")
    monkeypatch.setattr(corpus_compile, "RECIPES", tmp_path / "recipes")
    source = tmp_path / "labelled" / "test" / "001-rounds.rec"
    source.parent.mkdir(parents=True)
    source.write_text(REC, encoding="utf-8")
    assert corpus_compile.main(["--check"]) == 1
    assert corpus_compile.main([]) == 0
    assert corpus_compile.main(["--check"]) == 0
    source.write_text(REC.replace("Rounds", "Squares"), encoding="utf-8")
    assert corpus_compile.main(["--check"]) == 1
    source.unlink()
    assert corpus_compile.main(["--check"]) == 1
    assert "has no .rec" in capsys.readouterr().err


def test_the_corpus_is_well_formed_and_its_outputs_are_up_to_date() -> None:
    assert corpus_compile.main(["--check"]) == 0


def test_the_test_split_is_frozen() -> None:
    listed = re.findall(
        r"(?m)^([0-9a-f]{64})  (\S+)$", (corpus_compile.HERE / "FROZEN.txt").read_text(encoding="utf-8")
    )
    stands = {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest()
        for path in (corpus_compile.LABELLED / "test").glob("*.rec")
    }
    assert len(listed) == 100
    assert {name: digest for digest, name in listed} == stands
