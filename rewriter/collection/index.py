"""What is searched by: each recipe's words and what is read in its present text; made again from the texts at will."""

from __future__ import annotations

from rewriter.collection.reading import has_jars, reading, title_of
from rewriter.collection.store import Store
from rewriter.model import Recipe

_BASE = """SELECT text FROM revisions WHERE recipe = ? AND elevation_m IS NULL ORDER BY number DESC LIMIT 1"""


def base_text(store: Store, recipe: int) -> str:
    """A recipe's present text for no kitchen in particular: as found, or as last tidied."""
    return str(store.value(_BASE, recipe) or "")


def index(store: Store, recipe: int, read: Recipe | None = None) -> None:
    """Write what is read in a recipe's present text. Inside a transaction."""
    text = base_text(store, recipe)
    read = reading(text) if read is None else read
    title = title_of(read, text)
    store.run("UPDATE recipes SET title = ?, kind = ?, jars = ? WHERE id = ?", title, read.kind, has_jars(read), recipe)
    store.run("DELETE FROM lines WHERE recipe = ?", recipe)
    for one in read.ingredients:
        store.run(
            "INSERT INTO lines (recipe, key, name, role, part, grams, text) VALUES (?, ?, ?, ?, ?, ?, ?)",
            recipe,
            one.key or "",
            one.name,
            one.role,
            one.part,
            one.grams,
            " / ".join(amount.text for amount in one.amounts),
        )
    words(store, recipe, title, text)


def words(store: Store, recipe: int, title: str, text: str) -> None:
    """Write the words a recipe is found by: its own, the names of its revisions, the notes of its bakes."""
    names = store.rows("SELECT name, note FROM revisions WHERE recipe = ?", recipe)
    notes = store.rows("SELECT note, changed FROM bakes WHERE recipe = ?", recipe)
    more = [value for row in (*names, *notes) for value in row if value]
    store.run("DELETE FROM words WHERE rowid = ?", recipe)
    store.run("INSERT INTO words (rowid, title, text) VALUES (?, ?, ?)", recipe, title, "\n".join([text, *more]))


def index_all(store: Store) -> int:
    """Make the whole index again; how many recipes there are."""
    with store.write():
        store.run("DELETE FROM words")
        store.run("DELETE FROM lines WHERE recipe NOT IN (SELECT id FROM recipes)")
        numbers = [row[0] for row in store.rows("SELECT id FROM recipes ORDER BY id")]
        for number in numbers:
            index(store, number)
    return len(numbers)
