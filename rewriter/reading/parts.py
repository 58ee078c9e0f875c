"""Which part each ingredient goes into: batter, frosting, filling, topping, dusting, serving, worked out from headings and method.

A heading over a group in the list decides; without one the method does: what is first named after the bake, or under "for the
glaze", is no batter, whatever the list says.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter import pantry
from rewriter.model import Amount, Ingredient
from rewriter.reading.findings import Findings
from rewriter.reading.layout import Line
from rewriter.reading.mentions import fits
from rewriter.reading.method import Clause
from rewriter.reading.names import Name
from rewriter.reading.units import table

_WORDS: dict[str, frozenset[str]] = {part: frozenset(words) for part, words in table("layout")["part_word"].items()}
_WORD = re.compile(r"[a-z]+(?:-[a-z]+)?")
_RAISING = frozenset(("leavener", "yeast", "self-rising"))
_COLLECTIVE = re.compile(
    r"\b(?:(?P<all>all\s+(?:of\s+)?(?:the\s+|your\s+)?(?:\w+\s+)?ingredients)|dry\s+(?:ingredients|mix)|wet\s+ingredients|remaining\s+ingredients)\b",
    re.IGNORECASE,
)
_FINISHING = frozenset(("frosting", "filling", "topping", "dusting", "serving"))


@dataclass(slots=True)
class Group:
    """A group of the ingredient list: its heading (or ""), its lines and the part it is."""

    heading: str
    start: int
    end: int
    members: list[int]
    part: str = "batter"
    told: bool = False
    """told: the heading (not only the place) says the part."""


def heading_part(heading: str) -> str | None:
    """The part a heading's words tell: the last telling word wins; None where it tells none.

    >>> heading_part("For the cream cheese frosting:"), heading_part("Sour Cream Cake"), heading_part("Streusel Topping")
    ('frosting', 'batter', 'topping')
    """
    words = _WORD.findall(re.sub(r"\(.*?\)|(?<=\w)\s+(?:for|over)\s+.*", "", heading.lower()))
    if any(word in ("frosting", "icing", "glaze", "buttercream", "ganache", "streusel") for word in words) and not any(
        w in ("cake", "cakes") for w in words[-1:]
    ):
        return "topping" if "streusel" in words else "frosting"
    for word in reversed(words):
        for part in ("frosting", "filling", "topping", "dusting", "serving", "batter", "other"):
            if word in _WORDS[part]:
                if (
                    word in ("filling", "garnish", "garnishes", "coating", "cream", "butter", "base")
                    and part == "batter"
                ):
                    continue
                return part
    return None


def group_parts(groups: Sequence[Group], ingredients: Sequence[Ingredient]) -> None:
    """Give each headed group its part, from its heading and from what stands in it."""
    for group in groups:
        roles = {ingredients[i].role for i in group.members}
        part = heading_part(group.heading) if group.heading else None
        flour = sum(ingredients[i].grams or 0 for i in group.members if ingredients[i].role in ("flour", "self-rising"))
        if (
            group.heading
            and part in (None, "other", "topping", "serving")
            and "flour" in roles | {"flour" for r in roles if r == "self-rising"}
            and roles & _RAISING
            and flour >= 60
        ):
            part = "batter"
        group.told = part not in (None, "other")
        group.part = (
            part if part not in (None, "other") else ("batter" if not group.heading or part is None else "serving")
        )
        if group.heading and part is None and not roles & (_RAISING | {"flour"}):
            group.told = False


@dataclass(frozen=True, slots=True, order=True)
class Heard:
    """Where the method names an ingredient, the part it says there, and whether an amount there says which line is meant."""

    start: int
    part: str
    exact: bool = False


def _matches(amount: Amount | None, one: Ingredient) -> bool:
    """Whether an amount in the method is one of a listed line's own."""
    if amount is None:
        return False
    return any(
        own.quantity == amount.quantity and (own.unit == amount.unit or {own.unit, amount.unit} <= {"", "each"})
        for own in one.amounts
    )


def _mentions(
    ingredients: Sequence[Ingredient],
    groups: Sequence[Group],
    clauses: Sequence[Clause],
    names: Sequence[Name],
    found: Findings,
) -> dict[int, list[Heard]]:
    """For each ingredient, where the method names it and the part it says there."""
    heard: dict[int, list[Heard]] = defaultdict(list)
    spoken = {name.key for name in names}
    hits_of: dict[tuple[str, str], list[int]] = {}
    group_of = {i: group for group in groups for i in group.members}
    apart = dict.fromkeys(_stewed(clauses, names, found.text), "filling")
    apart |= dict.fromkeys(_over(clauses, names, found.text), "topping")
    apart |= dict.fromkeys(_coating(clauses, names, found.text), "dusting")
    at = 0
    for clause in clauses:
        while at < len(names) and names[at].start < clause.start:
            at += 1
        k = at
        while k < len(names) and names[k].end <= clause.end:
            name = names[k]
            k += 1
            hits = hits_of.get((name.key, name.text))
            if hits is None:
                exact = [i for i, one in enumerate(ingredients) if one.key == name.key]
                hits = exact or _loosely(name, ingredients, spoken)
                hits_of[name.key, name.text] = hits
            part = apart.get(clause.start) or clause.part_at(name.start)
            hits = _in_group(hits, part, group_of)
            if len(hits) > 1:
                amount = found.amount_before(name.start, clause.start)
                same = [i for i in hits if _matches(amount, ingredients[i])]
                if same and len(same) < len(hits):
                    heard[same[0]].append(Heard(name.start, part, True))
                    continue
            for i in hits:
                heard[i].append(Heard(name.start, part))
        for match in _COLLECTIVE.finditer(found.text, clause.start, clause.end):
            for i, ingredient in enumerate(ingredients):
                if match["all"] or ingredient.role in ("flour", "leavener", "salt", "starch", "cocoa"):
                    heard[i].append(Heard(match.start(), clause.part))
    return heard


_OVER = re.compile(
    r"\b(?:spread|pour|spoon|scatter|sprinkle|drizzle|dollop)\b[^.,;]{0,40}\b(?:over|on\s+top)\b\s*(?:,|;|and\b|$|of\s+the\b|the\s+(?:dough|batter|top|fruit|apples|berries))",
    re.IGNORECASE,
)


def _over(clauses: Sequence[Clause], names: Sequence[Name], text: str) -> list[int]:
    """The clauses that put something without flour, egg or leavener over the dough or batter before it bakes."""
    out = []
    for clause in clauses:
        if clause.part != "batter" or not _OVER.search(text, clause.start, clause.end):
            continue
        roles = {pantry.entry(name.key).role for name in names if clause.start <= name.start < clause.end}
        if roles and not roles & {"flour", "self-rising", "leavener", "yeast", "egg", "liquid"}:
            out.append(clause.start)
    return out


_BOWL = re.compile(
    r"\b(?:place|put|pour|add|mix|combine|stir|spread|sift)\b.*\b(?:bowl|plate|dish|saucer|bag|together)\b",
    re.IGNORECASE | re.DOTALL,
)
_COAT = re.compile(
    r"\b(?:roll|coat|cover|toss|dip|dredge|shake)(?:ed|ing|s)?\b.{0,80}\b(?:in|with|to\s+coat|sugar|mixture)\b",
    re.IGNORECASE | re.DOTALL,
)


def _coating(clauses: Sequence[Clause], names: Sequence[Name], text: str) -> list[int]:
    """The clauses that put sugar (and spice) in a bowl of its own, for the dough to be rolled in."""
    out = []
    for clause, following in zip(clauses, clauses[1:], strict=False):
        if clause.part != "batter" or not _BOWL.search(text, clause.start, clause.end):
            continue
        if not _COAT.search(text, following.start, following.end):
            continue
        entries = [pantry.entry(name.key) for name in names if clause.start <= name.start < clause.end]
        if entries and all(entry.role == "sugar" or entry.aisle == "spices" for entry in entries):
            out.append(clause.start)
    return out


def _loosely(name: Name, ingredients: Sequence[Ingredient], spoken: set[str]) -> list[int]:
    """The lines a looser name can mean ("sugar"); a line the method names in full elsewhere is not among them."""
    hits = [i for i, one in enumerate(ingredients) if fits(name.text, one.name)]
    return [i for i in hits if ingredients[i].key not in spoken] or hits


def _in_group(hits: list[int], part: str, group_of: dict[int, Group]) -> list[int]:
    """Of the lines a name can mean, those of the group whose heading tells the part the method is at."""
    if len(hits) < 2:
        return hits
    own = [i for i in hits if group_of[i].told and group_of[i].part == part]
    if own:
        return own
    loose = [i for i in hits if not group_of[i].told]
    return loose or hits


_BATTER_ROLES = frozenset(("flour", "self-rising", "leavener", "yeast", "egg", "fat"))
_STEW = re.compile(
    r"\b(?:toss|combine|cook|mash|macerate|sprinkle|simmer|boil|heat|place|put|spread|(?:stir|mix)(?!\s+(?:in|through|into)\b))\b",
    re.IGNORECASE,
)
_FRUIT_WORD = re.compile(r"\b(?:berries|fruit|apples|peaches|cherries|plums|pears)\b", re.IGNORECASE)
_FOLDED = re.compile(r"\b(?:fold|stir|mix|add|beat|blend)(?:ed|ing)?\b", re.IGNORECASE)


def _stewed(clauses: Sequence[Clause], names: Sequence[Name], text: str) -> frozenset[int]:
    """The clauses that put fruit and sugar up by themselves, to go under or over the dough, not into it."""
    found: dict[int, set[str]] = {}
    folded: set[str] = set()
    at = 0
    for clause in clauses:
        while at < len(names) and names[at].start < clause.start:
            at += 1
        k = at
        fruit: set[str] = set()
        roles: set[str] = set()
        while k < len(names) and names[k].end <= clause.end:
            entry = pantry.entry(names[k].key)
            roles.add(entry.role)
            if entry.aisle == "fruit":
                fruit.add(names[k].key)
            k += 1
        words = text[clause.start : clause.end]
        if _FRUIT_WORD.search(words):
            fruit.add("fruit")
        if not fruit or clause.part != "batter":
            continue
        if roles & {"sugar", "syrup", "starch"} and not roles & _BATTER_ROLES and _STEW.search(words):
            found[clause.start] = fruit
        elif _FOLDED.search(words):
            folded |= fruit
    return frozenset(start for start, fruit in found.items() if not fruit & folded)


def assign(
    ingredients: list[Ingredient],
    groups: Sequence[Group],
    clauses: Sequence[Clause],
    names: Sequence[Name],
    found: Findings,
) -> list[Ingredient]:
    """The ingredients with their parts. Groups whose heading tells the part keep it; the rest is read from the method."""
    group_parts(groups, ingredients)
    mentions = _mentions(ingredients, groups, clauses, names, found)
    out = list(ingredients)
    bare = [i for group in groups if not group.told and not group.heading for i in group.members]
    told = _by_method(bare, ingredients, mentions) if bare else {}
    for number, group in enumerate(groups):
        if group.told:
            for i in group.members:
                out[i] = _placed(out[i], group.part, number)
            continue
        parts = {i: told[i] for i in group.members if i in told}
        if group.heading:
            parts = _under_heading(group, groups, ingredients, mentions)
        elif number > 0:
            _settle(group, group.members, ingredients, parts)
        for i in group.members:
            part, sure = parts.get(i, (group.part, True))
            out[i] = _placed(out[i], part, number, sure)
    return out


def _under_heading(
    group: Group, groups: Sequence[Group], ingredients: Sequence[Ingredient], mentions: dict[int, list[Heard]]
) -> dict[int, tuple[str, bool]]:
    """The parts of a group whose heading tells none: beside a batter told by name it is none, else what the method says."""
    parts = _by_method(group.members, ingredients, mentions)
    roles = {ingredients[i].role for i in group.members}
    if not roles & (_RAISING | {"flour", "egg"}) and any(other.told and other.part == "batter" for other in groups):
        group.part = next((part for part, _ in parts.values() if part in _FINISHING), "filling")
        return {i: (group.part, True) for i in group.members}
    _settle(group, group.members, ingredients, parts)
    return parts


def _settle(
    group: Group, members: Sequence[int], ingredients: Sequence[Ingredient], parts: dict[int, tuple[str, bool]]
) -> None:
    """A group that stands by itself is one thing: give it the part most of its members have."""
    roles = {ingredients[i].role for i in members}
    if not parts or roles & _RAISING or "flour" in roles:
        return
    if any(ingredients[i].key == "powdered-sugar" for i in members):
        group.part = "frosting"
        parts.update({i: ("frosting", True) for i in members})
        return
    votes = [part for part, _ in parts.values()]
    if votes.count("batter") * 2 < len(votes):
        best = max(set(votes), key=votes.count)
        group.part = best
        parts.update({i: (best, True) for i in members})


def _placed(ingredient: Ingredient, part: str, group: int, sure: bool = True) -> Ingredient:
    own = next((flag[4:] for flag in ingredient.flags if flag.startswith("for-")), "")
    if own:
        part, sure = {"frying": "dusting", "water": "serving"}.get(own, own), True
    sure = ingredient.sure and sure
    if (part, group, sure) == (ingredient.part, ingredient.group, ingredient.sure):
        return ingredient
    return replace(ingredient, part=part, group=group, sure=sure)


def _by_method(
    members: Sequence[int], ingredients: Sequence[Ingredient], mentions: dict[int, list[Heard]]
) -> dict[int, tuple[str, bool]]:
    same: dict[str, list[int]] = defaultdict(list)
    for i in members:
        same[ingredients[i].key or ingredients[i].name.lower()].append(i)
    parts: dict[int, tuple[str, bool]] = {}
    for twins in same.values():
        if len(twins) == 1:
            told = _one_part(mentions.get(twins[0], []), ingredients[twins[0]])
            if told:
                parts[twins[0]] = (told, True)
        else:
            parts.update(_twins(twins, ingredients, mentions))
    return _smoothed(members, ingredients, parts)


def _one_part(heard: Sequence[Heard], one: Ingredient) -> str:
    """The part of an ingredient listed once: batter where the method puts any of it there."""
    if not heard:
        return ""
    if one.role in _RAISING or any(place.part == "batter" for place in heard):
        return "batter"
    part = min(heard).part
    return "batter" if part == "dusting" and one.role == "flour" and (one.grams or 0.0) > 60 else part


def _twins(
    twins: Sequence[int], ingredients: Sequence[Ingredient], mentions: dict[int, list[Heard]]
) -> dict[int, tuple[str, bool]]:
    """The same ingredient on several lines: each where its own amount is named, the others in the order of the list."""
    parts: dict[int, tuple[str, bool]] = {}
    for i in twins:
        exact = [place for place in mentions.get(i, []) if place.exact]
        if exact:
            parts[i] = (_one_part(exact, ingredients[i]), True)
    loose = [i for i in twins if i not in parts]
    runs: list[str] = []
    for place in sorted({place for i in twins for place in mentions.get(i, []) if not place.exact}):
        if place.part not in runs:
            runs.append(place.part)
    spoken = [part for part, _ in parts.values()]
    left = [run for run in runs if run not in spoken] or runs
    if not loose or not left:
        return parts
    if "batter" in left and left[0] in ("dusting", "topping") and len(left) > 1:
        left = ["batter", *[run for run in left if run != "batter"]]
    for k, i in enumerate(loose):
        part = (
            left[min(k, len(left) - 1)]
            if len(loose) > 1 or len(left) == 1
            else ("batter" if "batter" in left else left[0])
        )
        parts[i] = ("batter" if ingredients[i].role in _RAISING else part, True)
    return parts


def _smoothed(
    members: Sequence[int], ingredients: Sequence[Ingredient], parts: dict[int, tuple[str, bool]]
) -> dict[int, tuple[str, bool]]:
    """Lines the method never names take the part of the line before them; a twin between two frosting lines is frosting too."""
    last_batter = max(
        (k for k, i in enumerate(members) if ingredients[i].role in _RAISING or ingredients[i].role == "flour"),
        default=-1,
    )
    previous = "batter"
    for k, i in enumerate(members):
        if i in parts:
            previous = parts[i][0] if parts[i][0] in ("batter", "frosting", "filling") else previous
        elif k > last_batter and previous != "batter":
            parts[i] = (previous, False)
        else:
            parts[i] = ("batter", True)
    return parts


def groups_of(lines: Sequence[Line], spans: Sequence[tuple[Line | None, int, int]]) -> list[Group]:
    """The groups of a list from its layout; a list without headings falls apart at the few blank lines inside it."""
    groups = []
    for heading, first, last in spans:
        cuts = [first]
        if heading is None:
            gaps = [k for k in range(first + 1, last) if lines[k].gap]
            blocks = [*gaps, last]
            if len(gaps) <= 3 and all(b - a >= 2 for a, b in zip([first, *gaps], blocks, strict=True)):
                cuts += gaps
        for begin, stop in zip(cuts, [*cuts[1:], last], strict=True):
            start = heading.start if heading else lines[begin].start
            groups.append(Group(heading.text if heading else "", start, lines[stop - 1].end, list(range(begin, stop))))
    return groups
