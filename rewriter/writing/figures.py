"""One figure, measured: what a spoon, a scale or a whole egg comes to, and its words."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from rewriter.model import Amount, Edit, Ingredient
from rewriter.writing.manner import Manner, decimal
from rewriter.writing.scales import in_jug, in_ounces, on_scale, to_step
from rewriter.writing.spoons import CUP, Measure, Term, nearest
from rewriter.writing.units import dimension, size

# Tablespoons in a large egg and its parts, by USDA weights (50, 33 and 17 g, about 15 to 17 g a Tbsp), from memory.
EGG_TBSP = {"beaten egg": Fraction(13, 4), "egg white": Fraction(2), "beaten yolk": Fraction(1)}
FINE = ("leavener", "yeast")  # ingredients a sixteenth of a teaspoon matters to
_LEAST_FINE, _LEAST_FINE_G = Fraction(1, 16), Fraction(46, 160)  # a tsp of powder or soda is 4.6 g (USDA, from memory)
# Teaspoons in a cup: sixteenths of a 5 ml teaspoon in 250 ml and in 10 imperial fl oz.
_METRIC_CUP = {"metric": Fraction(800, 16), "imperial": Fraction(909, 16)}
_TINY = Fraction(1, 4)  # teaspoons: grams stand beside so little
Ratio = tuple[int, int]
EIGHTHS = (1, 2, 4, 8)
LEAST_TSP = Fraction(1, 2)
LEAST_G = Fraction(1, 10)  # what no kitchen scale shows is no correction
_QUARTER, _EIGHTH = Fraction(1, 4), Fraction(1, 8)


@dataclass(frozen=True, slots=True)
class Figure:
    """A measured figure: its value in the old amount's unit, and its words."""

    value: Fraction
    words: str


@dataclass(frozen=True, slots=True)
class Bound:
    """How far a rounded figure may stand from the exact one: a quarter of the correction, or 1/16 tsp for leaveners.

    factor: share of the correction allowed. least_tsp, least_g: what is allowed at any rate. Where these are set, a
    sixth of what is left is the most beyond them: a deep cut leaves too little leavener for a quarter of the cut.
    egg: what a part of a counted egg is called ("beaten egg", "egg white", "beaten yolk"), "" for all else.
    grams_each: grams of one of the amount's unit, where known and not written beside it.
    packet: whether a packet of it is known to hold 2 1/4 tsp (yeast).
    """

    factor: Fraction = Fraction(1, 4)
    least_tsp: Fraction = Fraction(0)
    least_g: Fraction = Fraction(0)
    egg: str = ""
    grams_each: float | None = None
    packet: bool = False

    @classmethod
    def of(cls, edit: Edit) -> Bound:
        """The bound of an edit, from its ingredient's role and weight."""
        item = edit.ingredient
        if item is None:
            return cls()
        each = grams_each(edit, item) if item.grams else None
        if item.role in FINE:
            return cls(least_tsp=_LEAST_FINE, least_g=_LEAST_FINE_G, grams_each=each, packet=item.role == "yeast")
        return cls(egg=egg_part(item), grams_each=each)

    @property
    def reach(self) -> tuple[Ratio, Ratio]:
        """Factor and least teaspoons as whole numbers."""
        return self.factor.as_integer_ratio(), self.least_tsp.as_integer_ratio()

    def tsp(self, correction: Fraction, new: Fraction | None = None) -> Fraction:
        """The bound of a correction in teaspoons; ``new`` is what it comes to."""
        reach = abs(correction) * self.factor
        if new is not None and self.least_tsp:
            reach = min(reach, new / 6)
        return max(reach, self.least_tsp)

    def grams(self, correction: Fraction) -> Fraction:
        """The bound of a correction in grams or millilitres."""
        return max(abs(correction) * self.factor, self.least_g)


def grams_each(edit: Edit, item: Ingredient) -> float | None:
    """Grams of one of the changed amount's unit, where the ingredient's weight is known and not written beside it."""
    first = next((a for a in item.amounts if a.quantity and (a is edit.target or a == edit.target)), None)
    if first is None or not first.quantity or not item.grams or any(dimension(a.unit) == "mass" for a in item.amounts):
        return None
    return item.grams / float(first.quantity * first.count if first.count else first.quantity)


def measured(old: Amount, was: Fraction, exact: Fraction, how: Manner, bound: Bound) -> Figure:
    """``exact`` (in the unit of ``old``) measured; its value is ``was`` where the correction is too small."""
    unit, kind = old.unit, dimension(old.unit)
    if unit in ("pinch", "dash"):
        return Figure(was, terms((Term(was, unit),), how))
    if kind == "volume" and (unit != "packet" or bound.packet):
        return _volume(old, was, exact, how, bound)
    if kind in ("mass", "metric"):
        return _weight(unit, was, exact, how, bound)
    if unit == "each" and bound.egg:
        return _eggs(was, exact, how, bound)
    step = _QUARTER if exact >= _QUARTER else _EIGHTH
    near = max(to_step(exact, step), step)
    if near == was and bound.least_tsp:  # half a cake of yeast
        near = max(to_step(exact, _EIGHTH), _EIGHTH)
    return Figure(near, terms((Term(near, unit),), how))


def _unseen(tsp: Fraction, correction: Fraction, bound: Bound) -> bool:
    """Whether a correction (teaspoons) is lost in measuring: under half a teaspoon on a quarter of a cup and more."""
    return not bound.least_tsp and tsp >= 12 and abs(correction) < LEAST_TSP and bound.factor > 0


def spoon_size(old: Amount) -> Fraction:
    """Teaspoons in one of a volume unit, by the system it belongs to."""
    if old.unit == "cup" and old.system in _METRIC_CUP:
        return _METRIC_CUP[old.system]
    return size(old.unit)


def _volume(old: Amount, was: Fraction, exact: Fraction, how: Manner, bound: Bound) -> Figure:
    each, unit = spoon_size(old), old.unit
    spoons = unit in ("cup", "tbsp", "tsp") or (unit != "floz" and each <= 12)
    if spoons:
        found = _spooned(unit, each, was.as_integer_ratio(), exact.as_integer_ratio(), *bound.reach)
        if found is None:
            return Figure(was, "")
        value, measure = found
        return Figure(value, terms(measure.terms, how) + _tiny(measure.tsp, exact, bound))
    if _unseen(was * each, (exact - was) * each, bound):
        return Figure(was, "")
    if unit == "floz":
        near = in_ounces(exact, bound.tsp((exact - was) * each) / each)
        return Figure(near, _ounces(near, unit, how))
    return _beside(old, was, exact, how, bound)


@lru_cache(maxsize=8192)
def _spooned(
    unit: str, each: Fraction, was: Ratio, exact: Ratio, factor: Ratio, least_tsp: Ratio
) -> tuple[Fraction, Measure] | None:
    """An amount in cups or spoons measured, and its value in its own unit; None where nobody would see the change."""
    bound = Bound(Fraction(*factor), Fraction(*least_tsp))
    before, after = Fraction(*was) * each, Fraction(*exact) * each
    if _unseen(before, after - before, bound):
        return None
    if unit not in ("cup", "tbsp", "tsp"):
        unit = "tbsp" if each >= 3 else "tsp"
    cup = int(each * 16) if unit == "cup" else CUP
    found = nearest(after, bound.tsp(after - before, after), unit, before, cup)
    return found.tsp / each, found


def _tiny(tsp: Fraction, exact: Fraction, bound: Bound) -> str:
    """Exact grams beside an amount too small for a spoon to be trusted, where the ingredient's weight is known."""
    if tsp > _TINY or bound.grams_each is None:
        return ""
    grams = to_step(Fraction(bound.grams_each).limit_denominator(1000) * exact, Fraction(1, 10))
    return f" ({decimal(grams)} g)" if grams else ""


def _beside(old: Amount, was: Fraction, exact: Fraction, how: Manner, bound: Bound) -> Figure:
    """A big or old-fashioned measure stays, and spoons are added to it or taken from it."""
    each = size(old.unit)
    more = (exact - was) * each
    if old.unit == "stick" and (exact * 4).denominator == 1:
        return Figure(exact, terms((Term(exact, "stick"),), how))
    if -more > was * each / 2:
        found = nearest(exact * each, bound.tsp(more), "cup")
        return Figure(found.tsp / each, terms(found.terms, how))
    if abs(more) < Fraction(1, 16):
        return Figure(was, terms((Term(was, old.unit),), how))
    found = nearest(abs(more), bound.tsp(more), "tbsp" if abs(more) < 12 else "cup")
    sign = 1 if more > 0 else -1
    added = tuple(Term(sign * term.count, term.unit, term.shade) for term in found.terms)
    return Figure(was + sign * found.tsp / each, terms((Term(was, old.unit), *added), how))


def _weight(unit: str, was: Fraction, exact: Fraction, how: Manner, bound: Bound) -> Figure:
    least_g = bound.least_g.as_integer_ratio()
    found = _weighed(unit, was.as_integer_ratio(), exact.as_integer_ratio(), bound.reach[0], least_g)
    if found is None:
        return Figure(was, "")
    value, near = found
    if unit in ("oz", "lb"):
        return Figure(value, _pounds(near, unit, how))
    if unit in ("kg", "l") and near >= 1000:
        point = how.fractions if how.fractions in (".", ",") else "."
        return Figure(value, decimal(value, point) + how.unit(unit, value))
    return Figure(value, how.plain(near) + how.unit("g" if unit in ("g", "kg") else "ml", near))


@lru_cache(maxsize=4096)
def _weighed(unit: str, was: Ratio, exact: Ratio, factor: Ratio, least_g: Ratio) -> tuple[Fraction, Fraction] | None:
    """An amount by weight or in millilitres: its value in its unit, and as ounces, g or ml; None where none sees it."""
    each, new = size(unit), Fraction(*exact)
    more = abs(new - Fraction(*was)) * each
    if more < LEAST_G:
        return None
    limit = Bound(Fraction(*factor), least_g=Fraction(*least_g)).grams(more)
    if unit in ("oz", "lb"):
        ounces = 16 if unit == "lb" else 1
        near = in_ounces(new * ounces, limit / size("oz"))
        return near / ounces, near
    near = (on_scale if unit in ("g", "kg") else in_jug)(new * each, limit)
    return near / each, near


def _ounces(ounces: Fraction, unit: str, how: Manner) -> str:
    """Ounces or fluid ounces in halves to eighths, else in tenths as a decimal."""
    plain = ounces.denominator in EIGHTHS
    return terms((Term(ounces, unit),), how) if plain else decimal(ounces) + how.unit(unit, ounces)


def _pounds(ounces: Fraction, unit: str, how: Manner) -> str:
    pounds, rest = divmod(ounces, 16)
    if unit == "oz" or not pounds or rest.denominator not in EIGHTHS:
        return _ounces(ounces, "oz", how)
    head = terms((Term(Fraction(pounds), "lb"),), how)
    return f"{head} {terms((Term(rest, 'oz'),), how)}" if rest else head


def egg_part(item: Ingredient | None) -> str:
    """What a part of one of these eggs is called, "" where they are no eggs."""
    if item is None or item.role != "egg":
        return ""
    name = item.name.lower()
    return "egg white" if "white" in name else "beaten yolk" if "yolk" in name else "beaten egg"


def _eggs(was: Fraction, exact: Fraction, how: Manner, bound: Bound) -> Figure:
    """Whole eggs where that is near enough, else the part of one as tablespoons."""
    name, near = bound.egg, to_step(exact, Fraction(1))
    if near and near != was and abs(near - exact) <= abs(exact - was) * bound.factor:
        return Figure(near, how.number(near))
    whole, part = divmod(exact, 1)
    spoons = to_step(part * EGG_TBSP[name], Fraction(1, 2))
    if spoons > EGG_TBSP[name] - Fraction(1, 2):
        whole, spoons = whole + 1, Fraction(0)
    head = how.number(Fraction(whole)) if whole else ""
    beaten = f"{terms((Term(spoons, 'tbsp'),), how)} {name}" if spoons else ""
    words = f"{head} {how.plus} {beaten}" if head and beaten else head or beaten
    return Figure(whole + spoons / EGG_TBSP[name], words)


def terms(parts: tuple[Term, ...], how: Manner) -> str:
    """Terms as words: "1 1/2 cups + 2 Tbsp", "1 cup less 1 Tbsp", "a pinch"."""
    out = ""
    for term in parts:
        count = -term.count if term.count.numerator < 0 else term.count
        if term.unit == "pinch" and count == 1:
            words = "a pinch"
        elif term.unit in ("", "each"):
            words = how.number(count)
        else:
            unit = how.unit(term.unit, count)
            if term.shade:
                unit = how.unblurred(unit)
            words = f"{term.shade} {how.number(count)}{unit}".lstrip()
        if not out:
            out = words
        else:
            out += f" less {words}" if count is not term.count else f" {how.plus} {words}"
    return out
