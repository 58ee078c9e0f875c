"""Bring files into the box: each original byte for byte with its hash and where it came from, nothing twice."""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from rewriter import intake
from rewriter.collection.index import index
from rewriter.collection.reading import Stretch, stretches
from rewriter.collection.records import Added
from rewriter.collection.store import Store, now
from rewriter.errors import Unusable
from rewriter.intake import LIMITS, Limits, Taken
from rewriter.intake.apart import apart
from rewriter.intake.guards import Harmful
from rewriter.intake.sniff import sniff

_UNKEPT = re.compile("[\0\ud800-\udfff]")  # a database's text has no place for them; the original's bytes keep them
Progress = Callable[[str, int, int], None]  # the file begun, how many before it, how many in all


@dataclass(slots=True)
class _Tally:
    cards: list[int] = field(default_factory=list)
    again: list[str] = field(default_factory=list)
    without: list[str] = field(default_factory=list)
    aside: list[tuple[str, str]] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    warned: list[tuple[str, str]] = field(default_factory=list)

    def done(self, files: int) -> Added:
        """The whole, which no longer changes."""
        aside, warned = tuple(self.aside), tuple(self.warned)
        return Added(tuple(self.cards), tuple(self.again), tuple(self.without), aside, tuple(self.kept), warned, files)


def add(
    store: Store,
    paths: Iterable[str | Path],
    progress: Progress | None = None,
    limits: Limits = LIMITS,
) -> Added:
    """Bring in files, and every file in folders. Each file is a transaction: an interruption loses none that is done.

    Raises Unusable where a path is not there; a file that cannot be read is set aside, and the rest go on.
    """
    found = list(walk(paths, store.path))
    tally = _Tally()
    with apart(limits) as reader:
        for count, (path, origin) in enumerate(found):
            if progress is not None:
                progress(origin, count, len(found))
            for one in intake.take_each(path, origin, limits, lambda data: _known(store, data), reader):
                _keep(store, one, tally)
    if progress is not None:
        progress("", len(found), len(found))
    return tally.done(len(found))


def add_text(store: Store, text: str, origin: str = "typed in") -> Added:
    """Bring in a text by itself."""
    tally = _Tally()
    for one in intake.take_each(text.encode(), origin, known=lambda data: _known(store, data)):
        _keep(store, one, tally)
    return tally.done(1)


def walk(paths: Iterable[str | Path], box: Path) -> Iterator[tuple[Path, str]]:
    """Each file and the name it is kept under, in order. Links that lead out, hidden files and the box are passed over.

    Raises Unusable where a path is not there.
    """
    own = {box.resolve().with_name(box.name + end) for end in ("", "-wal", "-shm", "-journal")}
    for path in map(Path, paths):
        if path.is_dir():
            root = path.resolve()
            for folder, folders, names in os.walk(path):
                folders[:] = sorted(name for name in folders if not name.startswith(".") and name != "__MACOSX")
                for name in sorted(names):
                    file = Path(folder) / name
                    inside = file.is_file() and file.resolve().is_relative_to(root)
                    if inside and not name.startswith(".") and file.resolve() not in own:
                        yield file, str(file)
        elif path.is_file():
            yield path, str(path)
        else:
            raise Unusable(f"{path} is not there" if not path.exists() else f"{path} is no file", "check its name")


def _known(store: Store, data: bytes) -> bool:
    """Whether these bytes are in the box and were read: they need no reading again."""
    state = store.value("SELECT state FROM originals WHERE sha256 = ?", _sha(data))
    return state is not None and state != "unread"


def _sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _keep(store: Store, one: Taken | tuple[str, bytes, Exception], tally: _Tally) -> None:
    if isinstance(one, Taken) and one.kind == "known":
        with store.write():
            _arrived(store, _sha(one.data), one.origin)
        tally.again.append(one.origin)
    elif isinstance(one, Taken):
        _keep_taken(store, one, tally)
    else:
        _set_aside(store, *one, tally)


def _keep_taken(store: Store, taken: Taken, tally: _Tally) -> None:
    found: list[Stretch] = []
    state, why = "read", ""
    try:
        found = stretches(taken.text, taken.cuts, Path(taken.origin).stem)
    except Unusable as error:
        state, why = "no recipe", str(error)
    except Exception as error:  # a fault of the program in one file: the file is kept, and read again next time
        tally.warned.append((taken.origin, f"reading it failed ({type(error).__name__}: {error})"))
        state, why = "unread", f"reading it failed ({type(error).__name__}: {error})"
    sha = _sha(taken.data)
    with store.write():
        fresh = _original(store, taken, sha, state, why)
        _arrived(store, sha, taken.origin)
        if fresh:
            number = store.value("SELECT id FROM originals WHERE sha256 = ?", sha)
            tally.cards += [_recipe(store, sha, number, *piece) for piece in enumerate(found)]
    if not fresh:  # another process brought it in a moment ago
        tally.again.append(taken.origin)
        return
    tally.warned += [(taken.origin, warning) for warning in taken.warnings]
    if not found:
        tally.without.append(taken.origin)


def _original(store: Store, taken: Taken, sha: str, state: str, why: str) -> bool:
    """Keep the bytes; whether they were new, or now read for the first time."""
    text = _UNKEPT.sub("\ufffd", taken.text)
    told = json.dumps(list(taken.warnings), ensure_ascii=False)
    before = store.value("SELECT state FROM originals WHERE sha256 = ?", sha)
    if before is None:
        store.run(
            "INSERT INTO originals (sha256, kind, state, why, text, warnings, added, data) VALUES (?,?,?,?,?,?,?,?)",
            *(sha, taken.kind, state, why, text, told, now(), taken.data),
        )
        return True
    if before != "unread":
        return False
    store.run(
        "UPDATE originals SET kind = ?, state = ?, why = ?, text = ?, warnings = ? WHERE sha256 = ?",
        *(taken.kind, state, why, text, told, sha),
    )
    return True


def _arrived(store: Store, sha: str, origin: str) -> None:
    store.run(
        "INSERT OR IGNORE INTO arrivals (original, sha256, origin, seen) SELECT id, sha256, ?, ? FROM originals "
        "WHERE sha256 = ?",
        *(origin, now(), sha),
    )
    store.run("DELETE FROM refusals WHERE origin = ?", origin)


def _recipe(store: Store, sha: str, original: int, ordinal: int, piece: Stretch) -> int:
    uid = f"{sha[:20]}-{ordinal}"
    number = store.run(
        "INSERT INTO recipes (uid, original, sha256, start, stop, title, kind, jars, merged_into, added) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, '', ?)",
        *(uid, original, sha, piece.start, piece.stop, piece.title, piece.recipe.kind, piece.jars, now()),
    )
    text = store.value("SELECT text FROM originals WHERE id = ?", original)[piece.start : piece.stop]
    store.run(
        "INSERT INTO revisions (uid, recipe, recipe_uid, number, parent, why, name, elevation_m, trial, formula, note, "
        "text, made) VALUES (?, ?, ?, 0, NULL, 'as found', '', NULL, 'untried', '{}', '', ?, ?)",
        *(f"{uid}-0", number, uid, text, now()),
    )
    index(store, number, piece.recipe)
    return number


def _set_aside(store: Store, origin: str, data: bytes, error: Exception, tally: _Tally) -> None:
    """Keep the bytes of what is a card but cannot be read yet; of what is refused, only its name and why."""
    why = str(error)
    if isinstance(error, ModuleNotFoundError):
        why = f"this needs {error.name}, which is not installed"
    tally.aside.append((origin, why))
    kind = "" if isinstance(error, Harmful) else _kind(data, origin)
    with store.write():
        if kind:
            _original(store, Taken("", kind=kind, data=data), _sha(data), "unread", why)
            _arrived(store, _sha(data), origin)
            tally.kept.append(origin)
        else:
            store.run(
                "INSERT INTO refusals (origin, sha256, why, size, seen) VALUES (?, ?, ?, ?, ?) "
                "ON CONFLICT (origin) DO UPDATE SET sha256 = excluded.sha256, why = excluded.why, "
                "size = excluded.size, seen = excluded.seen",
                *(origin, _sha(data) if data else "", why, len(data), now()),
            )


def _kind(data: bytes, origin: str) -> str:
    """The kind of a file whose bytes are worth keeping, else ""."""
    try:
        kind = sniff(data, origin)
    except Unusable:
        return "document" if data.startswith((b"PK", b"\xd0\xcf")) or data[4:8] == b"ftyp" else ""
    return kind if kind not in ("text", "archive") else ""
