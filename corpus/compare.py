"""One labelled paste against what the program read and changed in it, counted into a :class:`corpus.tally.Tally`."""

from __future__ import annotations

from collections.abc import Sequence

from corpus import same
from corpus.standoff import Gold, Mark
from corpus.tally import Tally, pair
from rewriter.model import Amount, Change, Heat, Ingredient, Recipe


class Spot:
    """A place in the text, for pairing."""

    def __init__(self, start: int, end: int) -> None:
        self.start, self.end = start, end


class One:
    """One paste, label against reading."""

    def __init__(self, gold: Gold, recipes: Sequence[Recipe], tally: Tally) -> None:
        self.gold, self.recipes, self.tally = gold, recipes, tally
        self.read = [one for recipe in recipes for one in recipe.ingredients]
        names = [Spot(one.name_start, one.name_end) for one in self.read]
        self.pairs = pair(gold.names, names)

    def words(self, spot: Mark | Ingredient | Amount | Spot) -> str:
        """The words at a place, as a mistake shows them."""
        return repr(self.gold.text[spot.start : spot.end])

    def _found(self, label: str, gold: Sequence[Mark | Spot], said: Sequence[Spot], pairs: dict[int, int]) -> None:
        """Count a label, and note what is missed and what is said where there is none."""
        self.tally.found(label, len(gold), len(said), len(pairs))
        for g in set(range(len(gold))) - set(pairs):
            self.tally.wrong(label, self.gold.name, f"missed {self.words(gold[g])}")
        for s in set(range(len(said))) - set(pairs.values()):
            self.tally.wrong(label, self.gold.name, f"not there: {self._line(said[s])}")

    def _line(self, spot: Spot) -> str:
        text = self.gold.text
        before = text[max(0, spot.start - 40) : spot.start].rpartition("\n")[2]
        after = text[spot.end : spot.end + 40].partition("\n")[0]
        return f"{self.words(spot)} in {before + text[spot.start : spot.end] + after!r}"

    def _values(self, label: str, gold: int, said: int, checks: Sequence[tuple[bool, str]]) -> None:
        """Count right values of a paired label against all there are and all that were said."""
        self.tally.found(label, gold, said, sum(ok for ok, _ in checks))
        for ok, detail in checks:
            if not ok:
                self.tally.wrong(label, self.gold.name, detail)

    def ingredients(self) -> None:
        """Amounts, names, roles and parts."""
        gold, read, pairs = self.gold, self.read, self.pairs
        self._found("name", gold.names, [Spot(one.name_start, one.name_end) for one in read], pairs)
        size = len(gold.names), len(read)
        for label, ok in (
            ("name exact", lambda n, _, one: same.name(gold.text[n.start : n.end], one.name)),
            ("role", lambda _, mark, one: mark.get("Role") == one.role),
            ("part", lambda _, mark, one: mark.get("Part") == one.part),
        ):
            of = ((gold.names[g], gold.ingredients[g], read[s]) for g, s in pairs.items())
            self._values(label, *size, [(ok(*three), self._as(three[1], three[2])) for three in of])
        marks = [mark for amounts in gold.amounts for mark in amounts]
        said = [amount for one in read for amount in one.amounts]
        found = pair(marks, said)
        self._found("amount", marks, [Spot(one.start, one.end) for one in said], found)
        both = [(marks[g], said[s]) for g, s in found.items()]
        for label, test in (("quantity", same.quantity), ("unit", same.unit), ("whole", same.amount)):
            checks = [(test(m, one), f"{self.words(m)}: {_said(m)} as {same.shown(one)}") for m, one in both]
            self._values(f"amount {label}", len(marks), len(said), checks)

    def _as(self, mark: Mark, one: Ingredient) -> str:
        return f"{self.words(mark)}: {mark.get('Role')} {mark.get('Part')} as {one.name!r} {one.role} {one.part}"

    def portions(self) -> None:
        """Portions, their values and their ingredients."""
        said = [one for recipe in self.recipes for one in recipe.portions]
        gold = self.gold.portions
        found = pair(gold, said)
        self._found("portion", gold, [Spot(one.start, one.end) for one in said], found)
        both = [(gold[g], said[s]) for g, s in found.items()]
        values = [(same.portion(m, one), f"{self.words(m)}: {_said(m)} as {same.shown(one)}") for m, one in both]
        of = [
            (same.head(m.get("Of"), one.ingredient), f"{self.words(m)}: {m.get('Of')} as {one.ingredient.name!r}")
            for m, one in both
        ]
        self._values("portion value", len(gold), len(said), values)
        self._values("portion of", len(gold), len(said), of)

    def heats(self) -> None:
        """Heat settings: each with its twins is one."""
        said = [one for recipe in self.recipes for one in recipe.heats]
        gold = self.gold.heats
        gold_spots = [Spot(twins[0].start, twins[-1].end) for twins in gold]
        said_spots = [Spot(one.start, max([one.end, *(twin.end for twin in one.twins)])) for one in said]
        found = pair(gold_spots, said_spots)
        self._found("heat", gold_spots, said_spots, found)
        both = [(gold[g], said[s]) for g, s in found.items()]
        for label, ok in (
            ("degrees", lambda twins, one: same.degrees(twins, one.fahrenheit)),
            ("place", lambda twins, one: twins[0].get("Place") == one.place),
            ("purpose", lambda twins, one: same.purpose(twins[0].get("Purpose"), one.purpose)),
        ):
            checks = [(ok(m, h), f"{self.words(m[0])}: {_said(m[0])} as {_heat(h)}") for m, h in both]
            self._values(f"heat {label}", len(gold), len(said), checks)

    def times(self) -> None:
        """Times and what they time."""
        gold = self.gold.times
        every = [one for recipe in self.recipes for one in recipe.times]
        overlapping = set(pair(gold, every).values())
        said = [one for s, one in enumerate(every) if s in overlapping or one.of not in same.UNLABELLED]
        found = pair(gold, said)
        self._found("time", gold, [Spot(one.start, one.end) for one in said], found)
        both = [(gold[g], said[s]) for g, s in found.items()]
        minutes = [(same.minutes(m, one), f"{self.words(m)} as {one.minutes}..{one.minutes_max}") for m, one in both]
        of = [(same.times(m.get("Times"), one.of), f"{self.words(m)}: {m.get('Times')} as {one.of}") for m, one in both]
        self._values("time minutes", len(gold), len(said), minutes)
        self._values("time purpose", len(gold), len(said), of)

    def kinds(self) -> None:
        """The kind of each recipe: of the one read that holds most of its ingredients."""
        owner = [k for k, recipe in enumerate(self.recipes) for _ in recipe.ingredients]
        starts = [mark.start for mark in self.gold.recipes[1:]] + [len(self.gold.text)]
        first = 0
        for mark, last in zip(self.gold.recipes, starts, strict=True):
            votes = [owner[s] for g, s in self.pairs.items() if first <= self.gold.ingredients[g].start < last]
            at = max(set(votes), key=votes.count) if votes else None
            kind = self.recipes[at].kind if at is not None else "unread"
            self.tally.same("kind", kind == mark.get("Kind"), self.gold.name, f"{mark.get('Kind')} as {kind}")
            first = last

    def moves(self, changes: Sequence[Change]) -> tuple[int, int]:
        """Moves of labelled ingredients; how many are wrong, and how many changes stand where nothing is labelled."""
        moved = [one for one in changes if one.step == "now" and one.direction in ("up", "down")]
        wrong = 0
        for mark in self.gold.ingredients:
            expected = mark.get("Move")
            if expected == "either":
                continue
            here = {one.direction for one in moved if mark.start <= one.start and one.end <= mark.end + 1}
            move = here.pop() if len(here) == 1 else "mixed" if here else "same"
            right = move == expected
            self.tally.found("move", int(expected != "same"), int(move != "same"), int(right and move != "same"))
            wrong += not right and move != "same"
            if not right:
                self.tally.wrong("move", self.gold.name, f"{self.words(mark)}: {expected} was {move}")
        labelled = [*self.gold.ingredients, *self.gold.portions, *(twin for twins in self.gold.heats for twin in twins)]
        strays = [one for one in moved if not any(mark.start <= one.end and one.start <= mark.end for mark in labelled)]
        for one in strays:
            self.tally.wrong("stray", self.gold.name, self._line(Spot(one.start, one.end)))
        return wrong, len(strays)


def _said(mark: Mark) -> str:
    return " ".join(mark.says.values())


def _heat(one: Heat) -> str:
    return f"{one.fahrenheit} F {one.place} {one.purpose}"
