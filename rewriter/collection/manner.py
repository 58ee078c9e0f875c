"""The family's manner: how its cards write units, fractions and lists."""

from __future__ import annotations

import re
import tomllib
from dataclasses import asdict, dataclass, fields
from fractions import Fraction
from functools import cache
from importlib.resources import files

from rewriter.collection.store import Store, now
from rewriter.errors import Unusable
from rewriter.model import Amount

CHOICES = {
    "units": ("short", "long", "as written"),
    "fractions": ("typed", "vulgar", "as written"),
    "bullets": ("none", "-", "*", "as written"),
}
_VULGAR = {
    Fraction(1, 2): "½", Fraction(1, 3): "⅓", Fraction(2, 3): "⅔", Fraction(1, 4): "¼", Fraction(3, 4): "¾",
    Fraction(1, 8): "⅛", Fraction(3, 8): "⅜", Fraction(5, 8): "⅝", Fraction(7, 8): "⅞",
}  # fmt: skip
_FIGURE = r"[\dOolIVY|½¼¾⅓⅔⅛⅜⅝⅞⅙⅚⅕]+"
_NUMBER = rf"{_FIGURE}(?:\s*[/⁄]\s*{_FIGURE})?(?:[\s&-]+(?:and\s+)?{_FIGURE}\s*[/⁄]\s*{_FIGURE}|\s+[½¼¾⅓⅔⅛⅜⅝⅞])?"
_SIMPLE = re.compile(
    rf"(?P<low>{_NUMBER})(?P<to>\s*(?:-|–|to|or)\s*(?P<high>{_NUMBER}))?(?P<gap>\s*)(?P<unit>[A-Za-z]+(?:\s?oz)?\.?)?"
)
_GARBLED = re.compile(r"[OolIVY|]")


@dataclass(frozen=True, slots=True)
class Manner:
    """units: short, long or as written. fractions: typed (1/2), vulgar (½) or as written. bullets of a list."""

    units: str = "short"
    fractions: str = "typed"
    bullets: str = "none"

    def __post_init__(self) -> None:
        """Raise Unusable for a choice there is not."""
        for field in fields(self):
            choice = getattr(self, field.name)
            if choice not in CHOICES[field.name]:
                raise Unusable(f'{field.name} cannot be "{choice}"', f"choose one of {', '.join(CHOICES[field.name])}")


def manner(store: Store, **changed: str | None) -> Manner:
    """The box's manner, after the changes given."""
    rows = store.rows("SELECT name, value FROM settings WHERE name LIKE 'manner %'")
    kept = {row["name"].removeprefix("manner "): row["value"] for row in rows}
    chosen = Manner(**{**kept, **{name: value for name, value in changed.items() if value is not None}})
    if any(value is not None for value in changed.values()):
        with store.write():
            for name, value in asdict(chosen).items():
                store.run(
                    "INSERT INTO settings (name, value, changed) VALUES (?, ?, ?) "
                    "ON CONFLICT (name) DO UPDATE SET value = excluded.value, changed = excluded.changed",
                    *(f"manner {name}", value, now()),
                )
    return chosen


def number(value: Fraction, fractions: str) -> str | None:
    """A number as a cook writes it; None where it has no such form.

    >>> number(Fraction(5, 4), "typed"), number(Fraction(5, 4), "vulgar"), number(Fraction(3), "typed")
    ('1 1/4', '1¼', '3')
    """
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    if fractions == "vulgar" and rest in _VULGAR:
        return f"{whole or ''}{_VULGAR[rest]}"
    if rest.denominator > 16 or rest.denominator in (5, 7, 9, 10, 11, 13, 14, 15):
        return None  # a decimal, or something to be looked at
    return f"{whole} {rest}" if whole else str(rest)


def respelled(amount: Amount, chosen: Manner) -> str | None:
    """An amount in the family's manner, or None where it stays as it is.

    Number words ("one and a half") stay words; a figure that scanning garbled is written as what it was read as.

    >>> respelled(Amount(0, 8, "1½ tbsp.", Fraction(3, 2), unit="tbsp"), Manner())
    '1 1/2 Tbsp'
    """
    match = _SIMPLE.fullmatch(amount.text)
    if match is None or amount.quantity is None or not amount.sure or amount.count is not None:
        return None
    if (match["high"] is None) != (amount.quantity_max is None) or _a_word(match):
        return None
    figures = match["low"] + (match["to"] or "")
    if chosen.fractions != "as written" or _GARBLED.search(match["low"] + (match["high"] or "")):
        written = [number(one, chosen.fractions) for one in (amount.quantity, amount.quantity_max) if one is not None]
        if None in written:
            return None
        figures = (
            " to ".join(str(one) for one in written)
            if match["high"] and "to" in match["to"]
            else (match["to"][: match["to"].find(match["high"])] if match["high"] else "").join(
                str(one) for one in written
            )
        )
    unit = _unit(match["unit"] or "", amount, chosen)
    if unit is None:
        return None
    made = f"{figures}{match['gap']}{unit}"
    return made if made != amount.text else None


def _a_word(match: re.Match[str]) -> bool:
    """Whether the figure is the beginning of a word ("one"), not a garbled figure ("l cup", "Y2 cup")."""
    figures = match["low"]
    return not re.search(r"[\d½¼¾⅓⅔⅛⅜⅝⅞⅙⅚⅕]", figures) and not (figures in ("l", "I", "|") and match["gap"])


def _unit(written: str, amount: Amount, chosen: Manner) -> str | None:
    """The unit's word; None where the amount is better left alone."""
    row = _units().get(amount.unit)
    if not written:
        return "" if amount.unit in ("each", "") else None
    if amount.unit in ("ml", "l") and written.lower().startswith(("dl", "cl", "dec", "cent")):
        return None  # read as so many ml, but the card's own figure stays
    if chosen.units == "as written" or row is None:
        return written
    largest = amount.quantity_max or amount.quantity or Fraction(1)
    return row[chosen.units + ("s" if largest > 1 else "")]


@cache
def _units() -> dict[str, dict[str, str]]:
    text = files("rewriter.collection").joinpath("manner.toml").read_text(encoding="utf-8")
    rows: dict[str, dict[str, str]] = tomllib.loads(text)["units"]
    return rows
