"""Which kind of bake a part is: from its formula by weight, from the title or heading, and from the method's verbs.

>>> classify("Banana Bread", Formula(flour=250, leavener=True, sugar=200, egg=100, fat=113, liquid=0), "loaf pan").kind
'quick-bread'
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rewriter import pantry
from rewriter.model import Ingredient
from rewriter.reading.units import table, words_pattern

_TABLE = table("kinds")
_TITLE: dict[str, re.Pattern[str]] = {
    kind: re.compile(rf"\b(?:{words_pattern(words)})(?:e?s)?\b", re.IGNORECASE)
    for kind, words in _TABLE["title"].items()
}
_METHOD: dict[str, re.Pattern[str]] = {
    kind: re.compile(pattern, re.IGNORECASE) for kind, pattern in _TABLE["method"].items()
}
CHEMICAL = ("griddle", "cookie", "foam-cake", "quick-bread", "shortened-cake", "fried-dough")
NEVER = frozenset(("custard", "confection", "savoury", "uncooked"))
_FRYING = re.compile(
    r"\b(?:deep[\s-]?fry|fry(?:ing)?\b[^.]{0,40}\b(?:oil|fat|lard)|hot\s+(?:fat|oil|lard)|smoking\s+hot\s+fat)\b",
    re.IGNORECASE,
)
_OVEN = re.compile(r"\b(?:bake|baked|baking|oven|preheat)\b(?!\s*(?:powder|soda|sheet))", re.IGNORECASE)
_HEAT = re.compile(
    r"\b(?:bake|boil|simmer|cook|fry|roast|saut|heat|oven|grill|steam|scald|melt|microwave|toast|brown)", re.IGNORECASE
)
_ROUNDS = re.compile(
    r"\b(?:biscuit\s+cutter|cutter|roll(?:ed)?\s+out|pat\b|drop(?:ped)?\s+(?:by|the|dough|biscuits|spoon)|knead|wedges|cut\s+in(?:to)?\b|shaggy|split)",
    re.IGNORECASE,
)
_FOAM = re.compile(
    r"\b(?:stiff|soft|medium)\s+(?:glossy\s+)?peaks?|stiffly[\s-]beaten|beaten\s+(?:stiff|to\s+a\s+stiff)|stiff\s+froth|whites?\s+(?:\w+\s+){0,4}(?:stiff|peaks)|ribbons?|tripled|pale\s+and\s+(?:thick|fluffy|frothy)|fold\s+in\s+(?:the\s+)?(?:egg\s+)?whites",
    re.IGNORECASE,
)
_STEAMED = re.compile(r"\bsteam(?:ed|er|ing)?\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Formula:
    """What a part holds, in grams (0 where not told), and what raises it."""

    flour: float = 0.0
    leavener: bool = False
    yeast: bool = False
    starter: bool = False
    sugar: float = 0.0
    egg: float = 0.0
    fat: float = 0.0
    liquid: float = 0.0
    savoury: int = 0
    lines: int = 0
    chocolate: float = 0.0
    whites: bool = False
    dough_only: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """A kind and the reason for it; ``sure`` False where the words and the formula disagree."""

    kind: str
    why: str
    sure: bool = True


_SAVOURY_AISLES = frozenset(
    ("savoury", "vegetables", "meats", "meat", "fish", "herbs", "sauces", "savoury_produce", "savoury_protein")
)


def formula(ingredients: Iterable[Ingredient]) -> Formula:
    """The formula of the ingredients of one part."""
    grams = dict.fromkeys(("flour", "sugar", "egg", "fat", "liquid", "cocoa"), 0.0)
    flags = {"leavener": False, "yeast": False, "starter": False, "whites": False}
    savoury = lines = 0
    for one in ingredients:
        lines += 1
        weight = one.grams or 0.0
        entry = pantry.entry(one.key) if one.key else None
        if one.role in ("flour", "self-rising", "starch"):
            grams["flour"] += weight
        elif one.role in ("sugar", "syrup"):
            grams["sugar"] += weight
        elif one.role in ("liquid", "thick-liquid"):
            grams["liquid"] += weight
        elif one.role in grams:
            grams[one.role] += weight
        if one.role in ("leavener", "self-rising"):
            flags["leavener"] = True
        if one.role == "yeast":
            starter = entry is not None and entry.yeast_kind == "starter"
            flags["starter" if starter else "yeast"] = True
        if one.role == "egg" and "white" in one.name.lower():
            flags["whites"] = True
        if entry is not None and entry.aisle in _SAVOURY_AISLES:
            savoury += 1
    return Formula(
        grams["flour"], flags["leavener"], flags["yeast"], flags["starter"], grams["sugar"], grams["egg"], grams["fat"],
        grams["liquid"], savoury, lines, grams["cocoa"], flags["whites"],
    )  # fmt: skip


def title_kinds(title: str) -> list[tuple[int, int, str]]:
    """Every kind the title's words can tell, the last telling word first (then the longest)."""
    found = [
        (match.end(), match.end() - match.start(), kind)
        for kind, pattern in _TITLE.items()
        for match in pattern.finditer(title)
    ]
    return sorted(found, reverse=True)


_QUALIFIER = re.compile(
    r"\s+(?:with|recipe|from|for|and|in|on|topped|w/|\||–|-|for\s+(?:two|one|a))\b.*$|\(.*$|,.*$", re.IGNORECASE
)


def _told(title: str) -> list[str]:
    head = _QUALIFIER.sub("", title.strip())
    kinds = [kind for _, _, kind in title_kinds(head)]
    if not kinds:
        kinds = [kind for _, _, kind in title_kinds(title)]
    return kinds


def classify(title: str, mix: Formula, method: str, heading: str = "") -> Verdict:
    """The kind of bake of a part.

    title: the recipe's title; heading: the part's own, counted first where it tells. mix: its formula.
    method: the method's text. Returns the verdict with its reason.
    """
    told = _told(heading) if heading else []
    told += [kind for kind in _told(title) if kind not in told]
    baked = bool(_OVEN.search(method))
    if (mix.yeast or (mix.starter and not mix.leavener)) and mix.flour >= 60:
        return _yeasted(told, mix, method)
    if mix.flour >= 55 and mix.leavener:
        return _chemical(told, title, mix, method, baked)
    return _plain(told, title, mix, method, baked)


def _yeasted(told: Sequence[str], mix: Formula, method: str) -> Verdict:
    first = told[0] if told else ""
    if "griddle" in told[:2] and "bread" not in told[:1]:
        return Verdict("griddle", "griddle cakes raised with yeast")
    if (
        mix.leavener
        and first in ("shortened-cake", "cookie", "foam-cake")
        or (mix.leavener and first == "quick-bread" and mix.sugar > 0.5 * mix.flour)
    ):
        return _by_title(told, mix, "")
    if mix.leavener and first == "quick-bread" and "rich-yeast" not in told and "lean-yeast" not in told:
        return Verdict("quick-bread", "the words and its leavener")
    rich = (mix.sugar + mix.fat) / mix.flour + mix.egg / mix.flour / 2
    if "savoury" in told[:1] and mix.savoury > 3:
        return Verdict("savoury", "a dish with a yeast dough")
    if rich > 0.2 and not ("lean-yeast" in told and "rich-yeast" not in told and rich < 0.3):
        return Verdict("rich-yeast", f"yeast, and {rich:.0%} of the flour in sugar, fat and egg")
    if rich > 0.12 and "rich-yeast" in told[:2] and "lean-yeast" not in told[:1]:
        return Verdict("rich-yeast", "yeast, and the words")
    return Verdict("lean-yeast", f"yeast, and little sugar, fat or egg ({rich:.0%} of the flour)")


def _by_title(told: Sequence[str], mix: Formula, method: str) -> Verdict:
    for kind in told:
        if kind in CHEMICAL:
            return Verdict(kind, "its name and its leavener")
    return Verdict("shortened-cake", "its leavener and sugar", False)


def _chemical(told: Sequence[str], title: str, mix: Formula, method: str, baked: bool) -> Verdict:
    ratio = mix.sugar / mix.flour
    first = next(
        (
            kind
            for kind in told
            if kind not in ("rich-yeast", "lean-yeast", "pastry", "steam-raised", "uncooked", "confection", "custard")
        ),
        "",
    )
    if (
        "savoury" in told[:1]
        or (mix.savoury >= 4 and not any(kind in CHEMICAL for kind in told[:2]))
        or (mix.savoury >= 3 and not told)
    ):
        return Verdict("savoury", "a cooked dish, not a batter")
    low = title.lower()
    if (
        _FRYING.search(method)
        and not baked
        and (first in ("fried-dough", "quick-bread", "") or "fried-dough" in told)
        and "savoury" not in told[:1]
    ):
        return Verdict("fried-dough", "a leavened dough fried in fat")
    if "fried-dough" in told[:2] and baked:
        return Verdict("quick-bread", "a leavened dough baked in the oven")
    if "shortcake" in low and "cupcake" not in low:
        if ratio > 0.45 and not _ROUNDS.search(method):
            return Verdict("shortened-cake", "a sweet cake batter, whatever its name")
        return Verdict("quick-bread" if ratio < 0.45 else "shortened-cake", "shortcake with little sugar is a biscuit")
    if "cobbler" in low:
        biscuit = (
            bool(re.search(r"biscuit|cut\s+in\b|pastry\s+(?:blender|cutter)|drop\b", method, re.IGNORECASE))
            and ratio < 0.6
        )
        return Verdict("quick-bread" if biscuit else "shortened-cake", "cobbler, by how its dough is made")
    if first == "quick-bread" and re.search(r"\bbiscuits?\b", low) and ratio > 0.3 and mix.liquid < 0.25 * mix.flour:
        return Verdict("cookie", "a sweet dry dough: British biscuits")
    if first in ("shortened-cake", "foam-cake", ""):
        foam = _foam(told, mix, method)
        if foam:
            return foam
    if first == "foam-cake" and mix.fat > 0.35 * mix.flour:
        return Verdict("shortened-cake", "called a sponge, but creamed with fat")
    if "pastry" in told[:1] and not any(kind in CHEMICAL for kind in told):
        return Verdict("pastry", "its name, whatever little leavener it holds")
    if told[:1] == ["confection"] and not baked:
        return Verdict("confection", "its name; it is not baked")
    if first in CHEMICAL:
        return Verdict(first, "its name and its leavener")
    scores = {kind: len(pattern.findall(method)) for kind, pattern in _METHOD.items()}
    best = max(scores, key=lambda kind: scores[kind])
    if scores[best]:
        if best in ("cookie", "shortened-cake") and ratio < 0.2 and scores["quick-bread"]:
            best = "quick-bread"
        return Verdict(best, "its leavener and how it is made", False)
    if not baked and not _HEAT.search(method):
        return Verdict("uncooked", "no heat is named", False)
    return Verdict("shortened-cake" if ratio > 0.4 else "quick-bread", "its leavener and its sugar", False)


def _foam(told: Sequence[str], mix: Formula, method: str) -> Verdict | None:
    named = "foam-cake" in told
    beaten = bool(_FOAM.search(method))
    if named and (mix.fat < 0.35 * mix.flour or beaten) and mix.egg > 0.6 * mix.flour:
        return Verdict("foam-cake", "its name, and eggs beaten to carry it")
    if beaten and mix.fat < 0.1 * mix.flour and mix.egg > 0.8 * mix.flour:
        return Verdict("foam-cake", "beaten eggs carry it, with hardly any fat")
    if named and mix.fat < 0.2 * mix.flour and mix.egg > 0.3 * mix.flour:
        return Verdict("foam-cake", "its name and its eggs")
    return None


def _plain(told: Sequence[str], title: str, mix: Formula, method: str, baked: bool) -> Verdict:
    first = told[0] if told else ""
    if not told:
        return _untitled(mix, method, baked)
    if mix.flour >= 40 and first in ("shortened-cake", "foam-cake"):
        return _foam(told, mix, method) or Verdict("shortened-cake", "its name")
    if "rich-yeast" in told[:1] and mix.flour and not mix.yeast:
        first = next((kind for kind in told if kind not in ("rich-yeast", "lean-yeast")), "quick-bread")
    if first in ("lean-yeast",) and not mix.starter:
        first = "quick-bread" if "quick-bread" in told else "savoury"
    if first == "fried-dough" and not mix.flour:
        first = "savoury"
    if (
        first in ("cookie", "shortened-cake", "quick-bread", "griddle", "foam-cake")
        and not baked
        and not _HEAT.search(method)
    ):
        return Verdict("confection" if mix.sugar or mix.fat else "uncooked", "nothing is baked")
    if first in ("cookie",) and not baked and mix.flour < 30:
        return Verdict("confection", "not baked")
    if first == "griddle":
        return Verdict("griddle", "its name")
    if first == "uncooked" and baked and len(told) > 1:
        first = told[1]
    if first == "quick-bread" and mix.flour < 30:
        first = "savoury" if not mix.sugar else "custard"
    return Verdict(first, "its name")


def _untitled(mix: Formula, method: str, baked: bool) -> Verdict:
    if mix.flour >= 60 and baked and mix.savoury < 3:
        foam = _foam(("",), mix, method)
        if foam:
            return foam
        if mix.fat > 0.3 * mix.flour and mix.sugar > 0.2 * mix.flour and mix.liquid < 0.3 * mix.flour:
            return Verdict("cookie", "flour, fat and sugar with hardly any liquid", False)
        if mix.fat > 0.3 * mix.flour:
            return Verdict("pastry", "flour and fat with hardly any sugar", False)
    if mix.sugar > 200 and mix.flour < 30 and not mix.savoury:
        return Verdict("confection", "mostly sugar", False)
    if not _HEAT.search(method):
        return Verdict("uncooked", "no heat is named", False)
    return Verdict("savoury", "cooked, and no batter", False)
