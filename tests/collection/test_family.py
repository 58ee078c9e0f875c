"""A family's folder of 200 files goes in, is tidied, searched, baked, printed and taken out, and nothing is lost."""

from __future__ import annotations

import hashlib
import io
import tarfile
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from corpus.family_folder import COUNT, Made, write
from rewriter import api
from rewriter.collection import Added, Box
from rewriter.collection.reading import has_jars, reading

UP_HERE = "8200 ft"


class Family:
    """The folder, the box it went into, and what came of it."""

    def __init__(self, room: Path) -> None:
        self.folder = room / "folder"
        self.made = write(self.folder)
        self.box = Box(room / "box.sqlite")
        self.done: Added = self.box.add([self.folder])
        self.sums = {row["sha256"]: row["state"] for row in self.box.store.rows("SELECT sha256, state FROM originals")}


@pytest.fixture(scope="module")
def family(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Family]:
    """One family for all of these tests: they run in their order."""
    one = Family(tmp_path_factory.mktemp("family"))
    yield one
    one.box.close()


def sha(data: bytes) -> str:
    """A file's hash."""
    return hashlib.sha256(data).hexdigest()


def inside(one: Made) -> list[bytes]:
    """The files in an archive, however deep; the file itself where it is none."""
    if one.data.startswith(b"PK") and one.name.endswith(".zip"):
        with zipfile.ZipFile(io.BytesIO(one.data)) as packed:
            found = [(name, packed.read(name)) for name in packed.namelist() if not name.startswith("__MACOSX")]
        return [part for name, data in found for part in inside(Made(name, data, ""))]
    if one.name.endswith(".tar.gz"):
        with tarfile.open(fileobj=io.BytesIO(one.data)) as packed:
            return [opened.read() for member in packed if (opened := packed.extractfile(member))]
    return [one.data]


def test_the_folder_has_files_of_every_kind(family: Family) -> None:
    assert len(family.made) == COUNT == 200
    endings = {Path(one.name).suffix.lower() for one in family.made}
    assert {
        ".txt",
        ".md",
        ".html",
        ".htm",
        ".docx",
        ".odt",
        ".rtf",
        ".pdf",
        ".png",
        ".json",
        ".jsonl",
        ".zip",
        ".gz",
    } <= endings
    assert {one.what for one in family.made} == {"recipe", "several", "copy", "near", "damaged", "junk", "harmful"}


def test_every_file_is_kept_byte_for_byte_or_named_with_its_reason(family: Family) -> None:
    told = {name.split(": ")[0] for name, _ in family.done.aside}
    for one in family.made:
        path = str(family.folder / one.name)
        if one.what in ("damaged", "harmful"):
            assert path in told, one.name
        elif one.what == "junk":
            assert path in told or path in family.done.without, one.name
        else:
            assert all(sha(data) in family.sums for data in inside(one)), one.name
    assert family.done.files == COUNT
    assert family.box.check() == []


def test_each_copy_is_known_and_each_recipe_is_a_card(family: Family) -> None:
    copies = [one for one in family.made if one.what == "copy"]
    assert len(family.done.again) == len(copies)
    recipes = sum(one.recipes for one in family.made)
    assert recipes - 3 <= len(family.done.cards) <= recipes + 25  # some of the texts hold several
    again = family.box.add([family.folder])
    assert again.cards == ()


def test_twins_are_found_again_and_merged(family: Family) -> None:
    near = [one for one in family.made if one.what == "near"]
    groups = family.box.twins()
    titles = [title for group in groups for title in group.titles]
    assert sum("Aunt's" in title for title in titles) >= len(near) - 4  # some of them are too small to compare
    for group in groups:
        family.box.merge(group.cards[0], group.cards[1:])
    assert family.box.twins() == []
    assert len(family.box.cards(merged=True)) == len(family.done.cards)


def test_all_are_tidied_and_those_for_jars_are_not(family: Family) -> None:
    changed = 0
    for card in family.box.cards():
        done = family.box.tidy(card.number)
        assert not (done.changed and has_jars(reading(card.text)))
        changed += family.box.apply(card.number, done) is not None
    assert changed > 60
    assert any(family.box.gaps(card.number) for card in family.box.cards())


def test_they_are_found_by_word_ingredient_kind_and_role(family: Family) -> None:
    for phrase in ("cookies", "yeast breads with butter", "cakes with buttermilk", "oat", "with honey"):
        assert family.box.search(phrase), phrase
    photographed = family.box.search("Pell Oat Rounds")[0]
    assert "350" in photographed.text


def test_some_are_baked_and_lead_to_a_next_step(family: Family) -> None:
    cakes = [card for card in family.box.search("cakes") if api.rewrite(card.text, UP_HERE).changes][:6]
    for number, card in enumerate(cakes):
        if number % 2:
            assert family.box.bake(card.number, UP_HERE, rating=5).bake.outcome == "worked"
        else:
            done = family.box.bake(card.number, UP_HERE, faults=["sank in the middle"])
            assert done.next is not None or done.words
    assert len(family.box.bakes()) == len(cakes) == 6
    assert family.box.search("cakes tried at 8200 ft that worked")


def test_they_are_printed(family: Family, tmp_path: Path) -> None:
    pytest.importorskip("typst")
    pytest.importorskip("pypdf")
    numbers = [card.number for card in family.box.cards()][:25]
    assert family.box.booklet(tmp_path / "book.pdf", UP_HERE, numbers=numbers) == 25
    assert (tmp_path / "book.pdf").read_bytes().startswith(b"%PDF")


def test_everything_comes_out_again_and_goes_into_another_box(family: Family, tmp_path: Path) -> None:
    done = family.box.take_out(tmp_path / "out", UP_HERE, ["inline", "clean"])
    found = family.box.cards(merged=True)
    assert done.cards == len(found) == len(list((tmp_path / "out" / "cards").iterdir()))
    assert {sha(path.read_bytes()) for path in (tmp_path / "out" / "originals").iterdir()} == set(family.sums)
    texts = {path.name: path.read_bytes().decode() for path in (tmp_path / "out" / "inline").iterdir()}
    assert len(texts) + len(done.plain) == len(found)
    stripped = {api.strip(text) for text in texts.values()}
    assert stripped <= {api.strip(card.text) for card in found}
    with Box(tmp_path / "again.sqlite") as again:
        again.load(tmp_path / "out" / "box.jsonl")
        assert again.check() == []
        assert again.cards(merged=True) == found
        assert again.bakes() == family.box.bakes()
        again.dump(tmp_path / "again.jsonl")
    assert (tmp_path / "again.jsonl").read_bytes() == (tmp_path / "out" / "box.jsonl").read_bytes()
