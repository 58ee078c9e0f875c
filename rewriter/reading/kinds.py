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
from rewriter.reading.told import title_kinds, told_kinds
from rewriter.reading.units import table

_TABLE = table("kinds")
_METHOD: dict[str, re.Pattern[str]] = {
    kind: re.compile(pattern, re.IGNORECASE) for kind, pattern in _TABLE["method"].items()
}
CHEMICAL = ("griddle", "cookie", "foam-cake", "quick-bread", "shortened-cake", "fried-dough")
NEVER = frozenset(("custard", "confection", "savoury", "uncooked"))
"""Kinds whose ingredients altitude never changes and whose words never tell a batter."""
DISH = NEVER | {"pastry", "steam-raised"}
"""Kinds of which every ingredient is part of the dish: no amount in them is ever corrected."""
_SPOKEN: dict[str, re.Pattern[str]] = {
    kind: re.compile(pattern, re.IGNORECASE) for kind, pattern in _TABLE["spoken"].items()
}
_FRYING = re.compile(_TABLE["signs"]["frying"], re.IGNORECASE)
_CHOUX = re.compile(_TABLE["signs"]["choux"], re.IGNORECASE)
_KETTLE = re.compile(r"\bkettle\b|\bfat\s+(?:deep|hot)|\blard\b[^.]{0,40}\bhot|\bin\s+four\s+minutes", re.IGNORECASE)
_GRIDDLED = re.compile(_TABLE["signs"]["griddled"], re.IGNORECASE)
_OVEN = re.compile(
    r"(?:b(?<!\wb)ak(?:e|ed|ing)|o(?<!\wo)ven|p(?<!\wp)reheat)\b(?!\s*(?:powder|soda|sheet))"
    r"|g(?<!\wg)as\s+(?:mark\s+)?\d"
)
"""Told apart from other words by its first letters, in a text of small letters."""
_OVEN_WORD = re.compile(r"\boven\b", re.IGNORECASE)
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
_BISCUIT_TOP = re.compile(
    r"\bbiscuits?\b|\bcut\s+in\b|\brub\b|pastry\s+(?:blender|cutter)|\bdrop\b|\bdollop", re.IGNORECASE
)


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


def _holds(text: str, words: Iterable[str]) -> bool:
    """Whether one of the words stands anywhere in a text: quicker than the pattern that cannot match without it."""
    low = text.casefold()
    return any(word in low for word in words)


def _baked(method: str) -> bool:
    return bool(_OVEN.search(method.casefold()))


def _choux(method: str) -> bool:
    return _holds(method, ("choux", "once", "side", "dry")) and bool(_CHOUX.search(method))


def _beaten(method: str) -> bool:
    """Whether eggs are beaten until they stand."""
    return _holds(method, ("peak", "stiff", "whites", "ribbon", "tripled", "pale")) and bool(_FOAM.search(method))


def _fried(method: str) -> bool:
    return _holds(method, ("fry", "fried", "fat", "oil", "lard")) and bool(_FRYING.search(method))


def classify(title: str, mix: Formula, method: str, heading: str = "") -> Verdict:
    """The kind of bake of a part.

    title: the recipe's title; heading: the part's own, counted first where it tells. mix: its formula.
    method: the method's text. Returns the verdict with its reason.
    """
    own = told_kinds(heading) if heading else ()
    told = [*own, *(kind for kind in told_kinds(title) if kind not in own)]
    if mix.egg and mix.flour and not mix.leavener and not mix.yeast and _choux(method):
        return Verdict("steam-raised", "flour cooked in boiling liquid and fat, then eggs: choux")
    if (mix.savoury >= 4 and told[:1] not in _OWN_NAMES) or (
        mix.savoury >= 3 and "savoury" in told and (told[0] not in CHEMICAL or told[0] == "shortened-cake")
    ):
        return Verdict("savoury", "a cooked dish, whatever dough goes with it")
    if (mix.yeast or (mix.starter and not mix.leavener)) and mix.flour >= 60:
        return _yeasted(told, mix)
    baked = _baked(method)
    if mix.flour >= 55 and mix.leavener:
        return _chemical(told, title.lower(), mix, method, baked)
    return _plain(told, mix, method, baked)


_DUMPLING = re.compile(r"\bdumplings?\b|\b(?:biscuit|scone|cobbler)s?\s+(?:top|topping|crust)\b", re.IGNORECASE)


def of_part(title: str, heading: str, mix: Formula, method: str) -> Verdict:
    """The kind of one part of a dish, by its own heading: the dumplings of a stew, the biscuits on a pot pie.

    >>> of_part("Chicken Pot Pie", "Biscuits", Formula(flour=250, leavener=True, liquid=180), "Bake.").kind
    'quick-bread'
    """
    if _DUMPLING.search(heading) and mix.flour >= 55 and mix.leavener and not mix.savoury:
        return Verdict("quick-bread", "a leavened dough that goes on the dish")
    named = bool(title_kinds(heading))
    return classify("" if named else title, mix, method, heading)


_OWN_NAMES = [[kind] for kind in (*CHEMICAL, "rich-yeast", "lean-yeast", "uncooked", "pastry", "confection", "custard")]


def _yeasted(told: Sequence[str], mix: Formula) -> Verdict:
    first = told[0] if told else ""
    if "griddle" in told[:2] and "bread" not in told[:1]:
        return Verdict("griddle", "griddle cakes raised with yeast")
    if mix.leavener and first in ("shortened-cake", "cookie", "foam-cake"):
        return Verdict(first, "its name and its leavener")
    if mix.leavener and first == "quick-bread" and not {"rich-yeast", "lean-yeast"} & set(told):
        return Verdict("quick-bread", "its name and its leavener")
    if (first == "savoury" or not told) and mix.savoury > 3:
        return Verdict("savoury", "a dish with a yeast dough")
    rich = (mix.sugar + mix.fat) / mix.flour + mix.egg / mix.flour / 2
    lean_name = "lean-yeast" in told and "rich-yeast" not in told
    if rich > (0.3 if lean_name else 0.2):
        return Verdict("rich-yeast", f"yeast, and {rich:.0%} of the flour in sugar, fat and egg")
    if rich > 0.06 and "rich-yeast" in told[:2] and first != "lean-yeast":
        return Verdict("rich-yeast", "yeast, and its name")
    return Verdict("lean-yeast", f"yeast, and little sugar, fat or egg ({rich:.0%} of the flour)")


_UNRAISED = ("rich-yeast", "lean-yeast", "pastry", "steam-raised", "uncooked", "confection", "custard")


def _chemical(told: Sequence[str], title: str, mix: Formula, method: str, baked: bool) -> Verdict:
    """A batter or dough with flour and a chemical leavener."""
    first = next((kind for kind in told if kind not in _UNRAISED), "")
    if _dish(told, mix):
        return Verdict("savoury", "a cooked dish, not a batter")
    return (
        _over_fire(told, first, mix, method, baked)
        or _told_apart(title, first, mix, method)
        or (_foam(told, mix, method) if first in ("shortened-cake", "foam-cake", "") else None)
        or _named(told, first, mix, baked)
        or _nameless(mix, method)
    )


def _dish(told: Sequence[str], mix: Formula) -> bool:
    if "savoury" in told[:1] and not any(kind in CHEMICAL for kind in told):
        return True
    if "savoury" in told[:1] and mix.savoury:
        return True
    return (mix.savoury >= 4 and not any(kind in CHEMICAL for kind in told[:2])) or (mix.savoury >= 3 and not told)


def _over_fire(told: Sequence[str], first: str, mix: Formula, method: str, baked: bool) -> Verdict | None:
    """Baked on a griddle or fried in deep fat."""
    batter = mix.liquid > 0.3 * mix.flour and first != "quick-bread" and not _OVEN_WORD.search(method)
    if baked and not batter and "fried-dough" not in told:
        return None
    frying = _fried(method)
    if batter and not frying and _GRIDDLED.search(method):
        return Verdict("griddle", "a batter baked on the griddle")
    if (
        frying
        and (not baked or "fried-dough" in told)
        and (first in ("fried-dough", "quick-bread", "") or "fried-dough" in told)
    ):
        return Verdict("fried-dough", "a leavened dough fried in fat")
    if "fried-dough" in told[:3] and (frying or not baked or _KETTLE.search(method)):
        return Verdict("fried-dough", "its name, and fat to fry it in")
    if "fried-dough" in told[:3]:
        return Verdict("quick-bread", "a leavened dough baked in the oven")
    return None


def _told_apart(title: str, first: str, mix: Formula, method: str) -> Verdict | None:
    """Names that mean two things: shortcake, cobbler, biscuit."""
    ratio = mix.sugar / mix.flour
    if "shortcake" in title and "cupcake" not in title:
        cake = ratio > 0.45 and not (_ROUNDS.search(method) and ratio < 0.6)
        return Verdict("shortened-cake" if cake else "quick-bread", "shortcake with little sugar is a biscuit")
    if "cobbler" in title:
        biscuit = ratio < 0.6 and (re.search(r"\bbiscuit", title) or _BISCUIT_TOP.search(method))
        return Verdict("quick-bread" if biscuit else "shortened-cake", "cobbler, by how its dough is made")
    if first == "quick-bread" and re.search(r"\bbiscuits?\b", title) and ratio > 0.3 and mix.liquid < 0.25 * mix.flour:
        return Verdict("cookie", "a sweet dry dough: British biscuits")
    if first == "griddle" and ratio > 0.2 and mix.liquid < 0.15 * mix.flour:
        return Verdict("cookie", "oats or flour bound with fat and syrup")
    return None


def _named(told: Sequence[str], first: str, mix: Formula, baked: bool) -> Verdict | None:
    if first == "foam-cake":
        return Verdict(
            "shortened-cake" if mix.fat > 0.35 * mix.flour else "foam-cake", "its name, and how much fat it holds"
        )
    if "pastry" in told[:1] and first not in CHEMICAL and not (mix.egg and mix.sugar > 0.5 * mix.flour):
        return Verdict("pastry", "its name, whatever little leavener it holds")
    if told[:1] == ["confection"] and not baked:
        return Verdict("confection", "its name; it is not baked")
    if first in CHEMICAL:
        return Verdict(first, "its name and its leavener")
    return None


def _nameless(mix: Formula, method: str) -> Verdict:
    """A leavened batter whose title tells nothing: by how it is made, how wet and how sweet it is."""
    ratio = mix.sugar / mix.flour
    wet = (mix.liquid + 0.75 * mix.egg) / mix.flour
    scores = {kind: len(pattern.findall(method)) for kind, pattern in _METHOD.items()}
    for kind, pattern in _SPOKEN.items():
        scores[kind] += min(2, len(pattern.findall(method)))
    scores["cookie"] += 2 * (wet < 0.3 and ratio > 0.25) - (wet > 0.4)
    scores["shortened-cake"] += (ratio > 0.45) + (wet > 0.45 and ratio > 0.45)
    scores["quick-bread"] += 2 * (ratio < 0.25 and wet > 0.3)
    scores["griddle"] -= 2 * bool(_baked(method) and not _GRIDDLED.search(method))
    best = max(scores, key=lambda kind: scores[kind])
    return Verdict(best, "its leavener, and how it is made", False)


def _foam(told: Sequence[str], mix: Formula, method: str) -> Verdict | None:
    """A cake that beaten eggs carry."""
    named = "foam-cake" in told
    beaten = mix.egg > 0.6 * mix.flour and _beaten(method)
    if named and mix.egg and (mix.flour == 0 or mix.fat == 0):
        return Verdict("foam-cake", "its name, and eggs without fat")
    if named and mix.egg > 1.2 * mix.flour:
        return Verdict("foam-cake", "its name, and more egg than flour")
    if named and (mix.fat < 0.35 * mix.flour or beaten) and mix.egg > 0.6 * mix.flour:
        return Verdict("foam-cake", "its name, and eggs beaten to carry it")
    if beaten and mix.fat < 0.1 * mix.flour and mix.egg > 0.8 * mix.flour:
        return Verdict("foam-cake", "beaten eggs carry it, with hardly any fat")
    if named and mix.fat < 0.2 * mix.flour and mix.egg > 0.3 * mix.flour:
        return Verdict("foam-cake", "its name and its eggs")
    return None


def _plain(told: Sequence[str], mix: Formula, method: str, baked: bool) -> Verdict:
    """No chemical leavener and no yeast."""
    if not told:
        return _untitled(mix, method, baked)
    first = _settled(told, mix, baked)
    if (mix.flour >= 40 or mix.egg) and first in ("shortened-cake", "foam-cake"):
        return _foam(told, mix, method) or Verdict("shortened-cake", "its name")
    if first in CHEMICAL and not baked and not _HEAT.search(method):
        return Verdict("confection" if mix.sugar or mix.fat else "uncooked", "nothing is baked")
    if first == "cookie" and not baked and mix.flour < 30:
        return Verdict("confection", "not baked")
    if first == "quick-bread" and mix.flour < 30:
        return Verdict("savoury" if not mix.sugar else "custard", "no flour to speak of")
    return Verdict(first, "its name")


def _settled(told: Sequence[str], mix: Formula, baked: bool) -> str:
    """The first of the kinds told that the formula allows."""
    first = told[0]
    if first == "pastry" and mix.flour < 30 and "confection" in told:
        return "confection"
    if first == "griddle" and "cookie" in told and baked and mix.liquid < 0.2 * mix.flour:
        return "cookie"
    if first == "rich-yeast" and mix.flour and not mix.yeast:
        first = next((kind for kind in told if not kind.endswith("yeast")), "quick-bread")
    if first == "lean-yeast" and not mix.starter:
        first = "quick-bread" if "quick-bread" in told else "savoury"
    if first == "fried-dough" and not mix.flour:
        first = "savoury"
    if first == "uncooked" and baked and len(told) > 1:
        first = told[1]
    return first


def _untitled(mix: Formula, method: str, baked: bool) -> Verdict:
    if mix.flour >= 60 and baked and mix.savoury < 3:
        foam = _foam((), mix, method)
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
