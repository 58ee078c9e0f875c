"""Take everything out: a folder of every card in every style with the originals, a booklet for print, a backup."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from rewriter import writing
from rewriter.collection import fitting, lineage
from rewriter.collection.dump import dump
from rewriter.collection.records import Card
from rewriter.collection.search import card_of
from rewriter.collection.store import Store
from rewriter.collection.ways import Way
from rewriter.errors import Unusable
from rewriter.model import Air
from rewriter.writing.registry import Job, find

_PLAIN = re.compile(r"[^a-z0-9]+")
_NAME = re.compile(r"[^A-Za-z0-9._ -]+")


@dataclass(frozen=True, slots=True)
class TakenOut:
    """What was written: cards, files, and (card, why) for those that have no annotated form."""

    cards: int
    files: int
    plain: tuple[tuple[int, str], ...] = ()


def cards(store: Store, merged: bool = False) -> list[Card]:
    """Every card of the box by number; merged ones only where asked for."""
    where = "" if merged else "WHERE merged_into = ''"
    return [card_of(store, row) for row in store.rows(f"SELECT * FROM recipes {where} ORDER BY id")]


def take_out(
    store: Store,
    folder: str | Path,
    elevation: str | float | Air | None = None,
    styles: Sequence[str] = (),
    progress: Callable[[str, int, int], None] | None = None,
) -> TakenOut:
    """Write everything to a new folder: ``cards/`` as they are, a folder for each style, ``originals/``, ``box.jsonl``.

    With an elevation the styles hold each card for that kitchen: the family's own revision where there is one, else by
    the guide. styles: all of them by default. Raises Unusable where the folder has something in it.
    """
    folder = Path(folder)
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Unusable(f"{folder} is there already and not empty", "name a new folder")
    here = None if elevation is None else fitting.place_of(elevation)
    names = tuple(styles) or (writing.styles() if here is not None else ())
    for name in names:
        if name not in writing.styles():
            raise Unusable(f'there is no style "{name}"', f"choose of {', '.join(writing.styles())}")
    found = cards(store, merged=True)
    files, plain = 0, []
    for count, card in enumerate(found):
        if progress is not None:
            progress(card.title, count, len(found))
        files += _write(folder / "cards" / f"{slug(card)}.txt", card.text.encode("utf-8", "surrogatepass"))
        if here is not None:
            written, why = _styled(store, card, here, names, folder)
            files += written
            plain += [(card.number, why)] if why else []
    files += sum(_write(folder / "originals" / name, data) for name, data in _originals(store))
    folder.mkdir(parents=True, exist_ok=True)
    dump(store, folder / "box.jsonl")
    return TakenOut(len(found), files + 1, tuple(plain))


def booklet(
    store: Store,
    path: str | Path,
    elevation: str | float | Air,
    numbers: Iterable[int] = (),
    title: str = "",
    paper: str = "letter",
) -> int:
    """Print cards for a kitchen as one PDF; how many. Merged cards are left out.

    Raises Unusable where there are none, ModuleNotFoundError where the extra ``print`` is not installed.
    """
    from rewriter.writing.print import book

    here = fitting.place_of(elevation)
    wanted = set(numbers)
    jobs = []
    for card in cards(store):
        if not wanted or card.number in wanted:
            try:
                jobs.append(fitted(store, card, here))
            except Unusable:
                continue
    if not jobs:
        raise Unusable("there are no cards to print", "bring some in with rewriter box add")
    _whole(Path(path), book(jobs, paper, title or "Recipes", []))
    return len(jobs)


def backup(store: Store, path: str | Path) -> Path:
    """Copy the box to another file while it is in use; a backup that is there is replaced only by a whole, sound one.

    Raises Unusable where the box is damaged (so that a good backup is not lost to a bad box) or the target is the box.
    """
    from rewriter.collection.mend import check

    path = Path(path)
    if path.resolve() == store.path.resolve():
        raise Unusable("the backup would be the box itself", "name another file")
    beside = path.with_name(path.name + ".part")
    beside.unlink(missing_ok=True)
    store.copy_to(beside)
    copy = Store(beside, create=False)
    try:
        wrong = check(copy)
    finally:
        copy.close()
    for end in ("-wal", "-shm"):
        beside.with_name(beside.name + end).unlink(missing_ok=True)
    if wrong:
        beside.unlink()
        raise Unusable(f"the box is damaged, and no backup was made ({wrong[0]})", "see rewriter box check")
    beside.replace(path)
    return path


def fitted(store: Store, card: Card, here: Air) -> Job:
    """A card for a kitchen, for any style: the family's own revision for that elevation, else by the guide."""
    own = lineage.at(store, card.number, here.elevation_m)
    return fitting.fit(card.text, here, Way.of(own.formula) if own is not None else Way()).job


def slug(card: Card) -> str:
    """A file name for a card, whatever its title.

    >>> slug(Card(7, "", "../Aunt Édith's Rusk!", "cookie", ""))
    'aunt-edith-s-rusk-7'
    """
    letters = unicodedata.normalize("NFKD", card.title).encode("ascii", "ignore").decode().lower()
    return f"{_PLAIN.sub('-', letters).strip('-')[:60].strip('-') or 'recipe'}-{card.number}"


def _styled(store: Store, card: Card, here: Air, names: Sequence[str], folder: Path) -> tuple[int, str]:
    try:
        job = fitted(store, card, here)
    except Unusable as error:
        return 0, str(error)
    files = 0
    for name in names:
        path = folder / name / f"{slug(card)}{find(name).suffix}"
        path.parent.mkdir(parents=True, exist_ok=True)
        made = writing.save(
            path, job.text, job.recipes, job.plans, job.changes, job.queries, job.air, style=name, explain=job.explain
        )
        files += len(made)
    return files, ""


def _originals(store: Store) -> Iterator[tuple[str, bytes]]:
    """Every original under its hash and a harmless form of its name."""
    for row in store.each("SELECT id, sha256, data FROM originals ORDER BY id"):
        origin = store.value("SELECT origin FROM arrivals WHERE original = ? ORDER BY id", row["id"]) or ""
        last = _NAME.sub("_", origin.replace("\\", "/").rsplit("/", 1)[-1])[-80:].strip(". ")
        yield f"{row['sha256'][:12]}-{last or 'original'}", row["data"]


def _write(path: Path, data: bytes) -> int:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return 1


def _whole(path: Path, data: bytes) -> None:
    beside = path.with_name(path.name + ".part")
    beside.write_bytes(data)
    beside.replace(path)
