"""What the reading is not sure of, put to the person as questions."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter import pantry
from rewriter.model import Heat, Ingredient, Part, Query
from rewriter.reading.kinds import NEVER
from rewriter.reading.units import table

_ROLES = (
    "flour",
    "starch",
    "sugar",
    "syrup",
    "liquid",
    "thick-liquid",
    "leavener",
    "yeast",
    "egg",
    "fat",
    "salt",
    "cocoa",
    "other",
)
_PARTS = ("batter", "frosting", "filling", "topping", "dusting", "serving")
_ASKED: dict[str, str] = table("kinds")["asked"]
_TAKEN_FOR: dict[str, list[str]] = table("kinds")["taken_for"]
_CHANGING = frozenset(("sugar", "liquid", "leavener", "yeast", "self-rising"))


def kind_question(title: str, part: Part, start: int) -> Query:
    """Asks what kind of bake this is; the choices are what it was read as and what that is easily taken for.

    >>> kind_question("Ada's squares", Part("batter", "cookie", why="its leavener, and how it is made"), 0).question
    'Is this cookies, bars or brownies? So it was read: its leavener, and how it is made.'
    """
    asked = f"Is this {_ASKED[part.kind]}? So it was read: {part.why}."
    choices = (part.kind, *_TAKEN_FOR[part.kind])
    return Query(f"kind@{start}", start, start + len(title), title, asked, choices)


def ingredient_questions(ingredients: Sequence[Ingredient], kind: str, text: str) -> list[Query]:
    """Asks about unknown names and uncertain parts, where the answer would change a correction."""
    if kind in NEVER or kind in ("pastry", "steam-raised"):
        return []
    out = []
    for one in ingredients:
        words = text[one.start : one.end]
        if one.key is None and not one.sure and one.part == "batter" and _counts(one):
            out.append(
                Query(
                    f"role@{one.start}",
                    one.start,
                    one.end,
                    words,
                    f"What is “{one.name.strip()}” in this bake?",
                    _ROLES,
                )
            )
        elif "shared" in one.flags and not one.sure:
            asked = f"“{words}” is one amount for several things, so none of them can change alone. How much of each?"
            shared = Query(f"quantity@{one.amounts[0].start}", one.start, one.end, words, asked)
            if all(query.id != shared.id for query in out):  # asked once for all that share it
                out.append(shared)
        elif not one.sure and one.role in _CHANGING:
            out.append(
                Query(
                    f"part@{one.start}",
                    one.start,
                    one.end,
                    words,
                    f"Where does “{words}” go? I took it for the {one.part}.",
                    _PARTS,
                )
            )
        out += _measure_questions(one)
    return out


def _counts(one: Ingredient) -> bool:
    return any(
        amount.unit in ("cup", "g", "ml", "oz", "lb", "tsp") and (amount.quantity or 0) > 0 for amount in one.amounts
    )


def _measure_questions(one: Ingredient) -> list[Query]:
    out = []
    for amount in one.amounts:
        measure = pantry.measures().get(amount.unit)
        if measure is not None and measure.check and one.role in _CHANGING:
            out.append(
                Query(
                    f"unit@{amount.start}", amount.start, amount.end, amount.text,
                    f"Old tables disagree on “{amount.text}”. How much was meant?",
                    (f"{measure.quantity} {measure.base}", *measure.others),
                )
            )  # fmt: skip
    return out


def heat_questions(heats: Sequence[Heat]) -> list[Query]:
    """Asks about heats whose scale or place is not told."""
    return [
        Query(
            f"heat@{heat.start}",
            heat.start,
            heat.end,
            heat.text,
            f"Is “{heat.text}” the oven's heat, in degrees F?",
            (str(round(heat.fahrenheit or 0)), "not oven"),
        )
        for heat in heats
        if not heat.sure
    ]
