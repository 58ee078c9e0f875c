"""Near-duplicates, by ingredients and amounts rather than by wording: MinHash for candidates, then each pair weighed.

Ingredients are compared by their row in the pantry (by their name, with rapidfuzz, where they have none), amounts by
weight. A recipe written for half the pan is still a twin, and it is said.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from statistics import median

from rewriter.collection.store import Store, now
from rewriter.errors import Unusable

LIKE = 0.72  # how alike two recipes are to be twins: 1 is the same ingredients in the same amounts
SHARED = 0.6  # the least share of ingredients in common
SMALL = 0.03  # more alike they must be for each ingredient fewer than seven: small recipes resemble each other
FEWEST = 3  # ingredients a recipe must have to be compared
_PERMUTATIONS = 128
_CANDIDATE = 0.45  # estimated share of ingredients in common that makes a pair worth weighing
_SAME_NAME = 85  # of 100, by rapidfuzz


@dataclass(frozen=True, slots=True)
class Line:
    """An ingredient as it is compared: what it is, in which kind of part, how many grams, and its amount as written."""

    what: str
    name: str
    grams: float | None
    text: str


@dataclass(frozen=True, slots=True)
class Shape:
    """A recipe as it is compared."""

    number: int
    title: str
    kind: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """Twins: the numbers of the cards, and for each after the first how it differs from the first, in words."""

    cards: tuple[int, ...]
    titles: tuple[str, ...]
    differences: tuple[tuple[str, ...], ...]
    likeness: float


@dataclass(slots=True)
class _Sets:
    """Disjoint sets of numbers."""

    above: dict[int, int] = field(default_factory=dict)

    def top(self, one: int) -> int:
        while self.above.get(one, one) != one:
            one = self.above[one]
        return one

    def join(self, one: int, other: int) -> None:
        low, high = sorted((self.top(one), self.top(other)))
        self.above[high] = low


def twins(store: Store, like: float = LIKE) -> list[Group]:
    """Groups of near-duplicates among the box's recipes; merged ones are left out."""
    shapes = {shape.number: shape for shape in _shapes(store)}
    sets, likeness = _Sets(), {}
    for one, other in _candidates(list(shapes.values())):
        measure = alike(shapes[one], shapes[other])
        fewer = min(len(shapes[one].lines), len(shapes[other].lines))
        if measure >= min(like + SMALL * max(0, 7 - fewer), 0.95):
            sets.join(one, other)
            likeness[one, other] = measure
    members: dict[int, list[int]] = {}
    for number in sorted({number for pair in likeness for number in pair}):
        members.setdefault(sets.top(number), []).append(number)
    return [_group([shapes[n] for n in numbers], likeness) for numbers in members.values()]


def alike(one: Shape, other: Shape) -> float:
    """How alike two recipes are, from 0 to 1: the share of ingredients in common times how near their amounts are."""
    pairs = _paired(one, other)
    shared = 2 * len(pairs) / (len(one.lines) + len(other.lines))
    if shared < SHARED or not pairs:
        return 0.0
    scale = _scale(pairs)
    nearness = [_near(a, b, scale) for a, b in pairs]
    return shared * sum(nearness) / len(nearness)


def differences(one: Shape, other: Shape) -> list[str]:
    """What a second recipe has otherwise than a first, in words: "1 cup sugar, not 3/4 cup"."""
    pairs = _paired(one, other)
    scale = _scale(pairs)
    told = []
    if abs(scale - 1) > 0.15:
        told.append(f"about {scale:.2g} times as much of everything")
    for a, b in pairs:
        if _norm(a.text) != _norm(b.text) and (a.text or b.text) and _near(a, b, scale) < 0.97:
            told.append(f"{b.text or 'some'} {b.name}, not {a.text or 'some'}")
    mine, theirs = {id(a) for a, _ in pairs}, {id(b) for _, b in pairs}
    told += [f"also {f'{line.text} {line.name}'.strip()}" for line in other.lines if id(line) not in theirs]
    told += [f"no {line.name}" for line in one.lines if id(line) not in mine]
    return told or ["the same ingredients and amounts in other words"]


def merge(store: Store, keep: int, others: Iterable[int]) -> None:
    """Let twins stand behind one recipe. Their originals, revisions and bakes stay; searches find the one that is kept.

    Raises Unusable where one is not there, or is the one that is kept.
    """
    with store.write():
        head = store.one("SELECT uid, merged_into FROM recipes WHERE id = ?", keep)
        if head is None or head["merged_into"]:
            raise Unusable(f"card {keep} is not in the box, or stands behind another", "see rewriter box cards")
        for other in others:
            row = store.one("SELECT uid FROM recipes WHERE id = ?", other)
            if row is None or other == keep:
                raise Unusable(f"card {other} cannot be merged into card {keep}", "see rewriter box twins")
            store.run("UPDATE recipes SET merged_into = ? WHERE merged_into = ?", head["uid"], row["uid"])
            store.run("UPDATE recipes SET merged_into = ? WHERE id = ?", head["uid"], other)
            store.run(
                "INSERT INTO settings (name, value, changed) VALUES (?, ?, ?) ON CONFLICT (name) DO UPDATE "
                "SET value = excluded.value, changed = excluded.changed",
                *(f"merged {row['uid']}", head["uid"], now()),
            )


def part(store: Store, number: int) -> None:
    """Take a merged recipe out from behind its twin again."""
    with store.write():
        store.run("DELETE FROM settings WHERE name = 'merged ' || (SELECT uid FROM recipes WHERE id = ?)", number)
        store.run("UPDATE recipes SET merged_into = '' WHERE id = ?", number)


def _shapes(store: Store) -> Iterator[Shape]:
    lines: dict[int, list[Line]] = {}
    for row in store.each("SELECT * FROM lines ORDER BY id"):
        what = row["key"] or row["name"].lower()
        lines.setdefault(row["recipe"], []).append(Line(what, row["name"].lower(), row["grams"], row["text"]))
    for row in store.rows("SELECT id, title, kind FROM recipes WHERE merged_into = '' ORDER BY id"):
        found = tuple(lines.get(row["id"], ()))
        if len(found) >= FEWEST:
            yield Shape(row["id"], row["title"], row["kind"], found)


def _candidates(shapes: list[Shape]) -> Iterator[tuple[int, int]]:
    """Pairs that seem to share their ingredients."""
    from datasketch import MinHash, MinHashLSH

    near = MinHashLSH(threshold=_CANDIDATE, num_perm=_PERMUTATIONS)
    for shape in shapes:
        sketch = MinHash(num_perm=_PERMUTATIONS)
        sketch.update_batch([token.encode() for token in _tokens(shape)])
        for other in sorted(near.query(sketch)):
            yield other, shape.number
        near.insert(shape.number, sketch)


def _tokens(shape: Shape) -> set[str]:
    """What is in it; the common staples alone make no twins, so what it is counts as well."""
    return {line.what for line in shape.lines} | {f"kind {shape.kind}"}


def _paired(one: Shape, other: Shape) -> list[tuple[Line, Line]]:
    """The ingredients they share; of several of the same, those nearest in weight."""
    from rapidfuzz import fuzz

    left, pairs = list(other.lines), []
    for line in one.lines:
        same = [b for b in left if b.what == line.what]
        if not same:
            same = [b for b in left if fuzz.token_sort_ratio(line.name, b.name) >= _SAME_NAME]
        if same:
            best = max(same, key=lambda b, a=line: _near(a, b, 1.0))  # type: ignore[misc]
            left.remove(best)
            pairs.append((line, best))
    return pairs


def _scale(pairs: list[tuple[Line, Line]]) -> float:
    ratios = [b.grams / a.grams for a, b in pairs if a.grams and b.grams]
    return median(ratios) if ratios else 1.0


def _near(a: Line, b: Line, scale: float) -> float:
    """How near two amounts are, from 0 to 1: the smaller over the larger."""
    if not a.grams or not b.grams:
        return 1.0 if _norm(a.text) == _norm(b.text) else 0.8
    scaled = a.grams * scale
    return min(scaled, b.grams) / max(scaled, b.grams)


def _norm(text: str) -> str:
    return re.sub(r"[^a-z0-9/¼-¾⅐-⅞]", "", text.lower())


def _group(shapes: list[Shape], likeness: dict[tuple[int, int], float]) -> Group:
    first, *rest = shapes
    numbers = {shape.number for shape in shapes}
    least = min(measure for pair, measure in likeness.items() if set(pair) <= numbers)
    told = tuple(tuple(differences(first, other)) for other in rest)
    return Group(tuple(shape.number for shape in shapes), tuple(shape.title for shape in shapes), told, round(least, 3))
