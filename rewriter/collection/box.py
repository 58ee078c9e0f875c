r"""The recipe box: every command of ``rewriter box`` under the same name.

>>> import tempfile
>>> folder = tempfile.TemporaryDirectory()
>>> with Box(f"{folder.name}/box.sqlite") as box:
...     box.add_text("Snow Buns\n\n2 cups flour\n1 tsp soda\n1 c. honey\n\nBake at 350 F.\n").cards
...     [card.title for card in box.search("with honey")]
(1,)
['Snow Buns']
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from types import TracebackType
from typing import Any

from rewriter.collection import bakes, bring, kitchen, lineage, takeout, twins
from rewriter.collection import dump as dumps
from rewriter.collection import manner as manners
from rewriter.collection import mend as mends
from rewriter.collection.index import index, index_all
from rewriter.collection.records import Added, Bake, Card, Numbers, Revision
from rewriter.collection.search import Query, card_of, search
from rewriter.collection.store import Store
from rewriter.collection.tidy import Tidied, tidied
from rewriter.errors import Unusable
from rewriter.model import Air

Progress = bring.Progress


class Box:
    """A recipe box in one file. Use it in one thread; another thread or process opens its own.

    Raises Unusable where the file is no box, Damaged where it is damaged.
    """

    def __init__(self, path: str | Path = "box.sqlite", create: bool = True) -> None:
        """Open a box; where there is none, make it."""
        self.store = Store(path, create)

    def __enter__(self) -> Box:
        """Open for the length of a with."""
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        """Close at its end."""
        self.close()

    def close(self) -> None:
        """Close the file."""
        self.store.close()

    def add(self, paths: Iterable[str | Path], progress: Progress | None = None) -> Added:
        """Bring in files and folders; see :func:`rewriter.collection.bring.add`."""
        return bring.add(self.store, paths, progress)

    def add_text(self, text: str, origin: str = "typed in") -> Added:
        """Bring in a text by itself."""
        return bring.add_text(self.store, text, origin)

    def cards(self, merged: bool = False) -> list[Card]:
        """Every card by number; those merged into a twin only where asked for."""
        return takeout.cards(self.store, merged)

    def card(self, which: int | str) -> Card:
        """One card, by its number or words of its title. Raises Unusable where there is none, or several."""
        said = str(which).strip()
        if said.isdigit():
            row = self.store.one("SELECT * FROM recipes WHERE id = ?", int(said))
            if row is None:
                raise Unusable(f"there is no card {said}", "see rewriter box cards")
            return card_of(self.store, row)
        rows = self.store.rows("SELECT * FROM recipes WHERE merged_into = '' AND instr(lower(title), ?)", said.lower())
        exact = [row for row in rows if row["title"].lower() == said.lower()]
        rows = exact or rows
        if len(rows) != 1:
            several = ", ".join(f"{row['id']} {row['title']}" for row in rows[:6])
            raise Unusable(
                f'"{said}" is the title of {"several cards" if rows else "no card"}', several or "see its list"
            )
        return card_of(self.store, rows[0])

    def original(self, which: int | str) -> bytes:
        """The bytes of the file a card came in, as they came."""
        card = self.card(which)
        sql = "SELECT data FROM originals WHERE id = (SELECT original FROM recipes WHERE id = ?)"
        return bytes(self.store.value(sql, card.number))

    def numbers(self) -> Numbers:
        """How much is in the box."""
        tables = (
            "originals", "recipes", "recipes WHERE merged_into <> ''", "revisions", "bakes", "refusals",
        )  # fmt: skip
        return Numbers(*(int(self.store.value(f"SELECT count(*) FROM {table}")) for table in tables))

    def manner(self, **changed: str | None) -> manners.Manner:
        """The family's manner of writing units, fractions and lists, after the changes given."""
        return manners.manner(self.store, **changed)

    def tidy(self, which: int | str) -> Tidied:
        """A card tidied, to be looked at; nothing is changed yet. See :meth:`apply`."""
        return tidied(self.card(which).text, self.manner())

    def apply(self, which: int | str, done: Tidied) -> int | None:
        """Put a tidied text on the card's line, and keep what is missing in it; the new revision's number, or None.

        Raises Unusable where the card has been changed since it was tidied.
        """
        number = self.card(which).number
        with self.store.write():
            base = lineage.base(self.store, number)
            if base.text != done.before:
                raise Unusable(f"card {number} was changed in the meantime", "tidy it again")
            self.store.run("DELETE FROM gaps WHERE recipe = ?", number)
            for words in done.gaps:
                self.store.run("INSERT INTO gaps (recipe, words) VALUES (?, ?)", number, words)
            if not done.changed:
                return None
            note = ", ".join(done.whys)
            return lineage.revise(self.store, number, done.after, "tidied", base.number, note=note)

    def gaps(self, which: int | str) -> tuple[str, ...]:
        """What tidying found missing on a card."""
        rows = self.store.rows("SELECT words FROM gaps WHERE recipe = ? ORDER BY id", self.card(which).number)
        return tuple(row["words"] for row in rows)

    def twins(self, like: float = twins.LIKE) -> list[twins.Group]:
        """Groups of near-duplicates, and what differs within each."""
        return twins.twins(self.store, like)

    def merge(self, keep: int | str, others: Iterable[int | str]) -> None:
        """Let twins stand behind one card; all originals stay."""
        twins.merge(self.store, self.card(keep).number, [self.card(other).number for other in others])

    def part(self, which: int | str) -> None:
        """Take a merged card out from behind its twin."""
        twins.part(self.store, self.card(which).number)

    def search(self, query: Query | str) -> list[Card]:
        """Cards by a phrase ("yeast breads with honey") or a :class:`Query`."""
        return search(self.store, query)

    def bake(self, which: int | str, elevation: str | float | Air | None = None, **told: Any) -> bakes.Outcome:
        """Write a bake down; see :func:`rewriter.collection.bakes.bake`."""
        return bakes.bake(self.store, self.card(which).number, elevation, **told)

    def bakes(self, which: int | str | None = None) -> list[Bake]:
        """Every bake of a card, or of the box."""
        return bakes.bakes(self.store, None if which is None else self.card(which).number)

    def revisions(self, which: int | str) -> list[Revision]:
        """A card's own line, from the text that was found."""
        return lineage.revisions(self.store, self.card(which).number)

    def edit(self, which: int | str, text: str, note: str = "", seen: str | None = None) -> int | None:
        """A text written by hand in place of the card's present one; its revision's number, None where it is the same.

        seen: the text that was seen when the writing began. Raises Unusable where the card has been changed since, and
        for a text without words.
        """
        number = self.card(which).number
        if not text.strip():
            raise Unusable("there are no words in it", "a card is not emptied; merge it into its twin instead")
        with self.store.write():
            base = lineage.base(self.store, number)
            if seen is not None and base.text != seen:
                raise Unusable(f"card {number} was changed in the meantime", "look at it again")
            if base.text == text:
                return None
            return lineage.revise(self.store, number, text, "by hand", base.number, note=note)

    def name(self, which: int | str, revision: int | str, words: str) -> Revision:
        """Give a revision a name of the family's."""
        return lineage.name(self.store, self.card(which).number, revision, words)

    def compare(self, which: int | str, one: int | str, other: int | str) -> str:
        """What changes from one revision to another."""
        return lineage.compare(self.store, self.card(which).number, one, other)

    def carry(self, which: int | str, origin: str, to: str) -> Revision:
        """What worked at one elevation, for another: marked as carried, not tried."""
        return bakes.carry(self.store, self.card(which).number, origin, to)

    def kitchen(self, elevation: str | None = None) -> list[kitchen.Habit]:
        """What this kitchen's bakes do otherwise than the guide."""
        return kitchen.kitchen(self.store, elevation)

    def take_out(
        self,
        folder: str | Path,
        elevation: str | float | Air | None = None,
        styles: Sequence[str] = (),
        progress: Progress | None = None,
    ) -> takeout.TakenOut:
        """Everything as a folder."""
        return takeout.take_out(self.store, folder, elevation, styles, progress)

    def booklet(self, path: str | Path, elevation: str | float | Air, **told: Any) -> int:
        """Cards for a kitchen as one PDF."""
        return takeout.booklet(self.store, path, elevation, **told)

    def dump(self, path: str | Path) -> int:
        """The whole box as JSON Lines."""
        return dumps.dump(self.store, path)

    def load(self, path: str | Path) -> dumps.Loaded:
        """A dump read back whole."""
        return dumps.load(self.store, path)

    def backup(self, path: str | Path) -> Path:
        """A copy of the box while it is in use."""
        return takeout.backup(self.store, path)

    def check(self) -> list[str]:
        """What is wrong with the box; nothing where it is sound."""
        return mends.check(self.store)

    def reindex(self) -> int:
        """Read every card again for searches, as after a new version of the program."""
        return index_all(self.store)

    def reread(self, which: int | str) -> None:
        """Read one card again."""
        with self.store.write():
            index(self.store, self.card(which).number)


def salvage(path: str | Path, into: str | Path) -> mends.Salvaged:
    """Save what can be saved of a damaged box in a new one."""
    return mends.salvage(path, into)
