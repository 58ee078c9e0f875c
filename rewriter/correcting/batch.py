"""A batch: the ingredients that go into one batter or dough, measured together.

A recipe's headings do not decide it: "dry" and "wet" make one batter, a starter and its dough one dough. Two batters
each with their own flour and lift stay two.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from rewriter.correcting.lift import Lift, is_soda
from rewriter.correcting.policy import Policy, policy
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import ZERO, by_weight, cups, grams, measured_first, total
from rewriter.model import Ingredient, Recipe

QUARTER_CUP = Fraction(1, 4)
HOME_CUPS, HOME_G = Fraction(5, 2), Fraction(312)
CUP_G = HOME_G / HOME_CUPS
# Cups of wet a cup of flour up to which a quick bread is a dough to roll, pat or drop (common practice, no source).
DOUGH_WET = Fraction(1, 2)
COCOA_FAT = Fraction(1, 4)  # cocoa powder holds less, melted chocolate more
FLOUR = ("flour", "starch", "self-rising")
DOUGHS = frozenset(("rolled-dough", "dropped-dough", "stiff-dough"))
YEASTED = ("lean-yeast", "rich-yeast")


@dataclass(frozen=True)
class Batch:
    """One batter or dough. groups: the parts it is made of; members: its ingredients, in reading order."""

    recipe: Recipe
    groups: tuple[int, ...]
    kind: str
    members: tuple[Ingredient, ...]

    @property
    def group(self) -> int:
        """The first of its parts."""
        return self.groups[0]

    @cached_property
    def policy(self) -> Policy:
        """What may change in it."""
        return policy(self.kind)

    @cached_property
    def facts(self) -> frozenset[str]:
        """What the words tell of the whole recipe."""
        return frozenset(fact.kind for fact in self.recipe.facts)

    def of(self, *roles: str) -> tuple[Ingredient, ...]:
        """Its ingredients of these roles."""
        known = self._of.get(roles)
        if known is None:
            known = self._of[roles] = tuple([i for i in self.members if i.role in roles])
        return known

    @cached_property
    def _of(self) -> dict[tuple[str, ...], tuple[Ingredient, ...]]:
        return {}

    @cached_property
    def _cups(self) -> dict[int, Fraction]:
        return {}

    def cups(self, member: Ingredient) -> Fraction:
        """US cups of one of its members, worked out once; 0 where its amounts do not tell."""
        known = self._cups.get(id(member))
        if known is None:
            known = self._cups[id(member)] = cups(member) or ZERO
        return known

    @cached_property
    def dry_cups(self) -> Fraction:
        """Cups of flour, starch and cocoa powder together: by volume where so written, else by 124.8 g a cup."""
        powder = total(_dry_cups(i) for i in self.of("cocoa") if stuff(i).fat < COCOA_FAT)
        return self.flour_cups + powder if powder else self.flour_cups

    @cached_property
    def flour_cups(self) -> Fraction:
        """Cups of flour and starch together."""
        return total(map(_dry_cups, self.of(*FLOUR)))

    @cached_property
    def flour_g(self) -> Fraction:
        """Grams of flour and starch together."""
        return total(map(grams, self.of(*FLOUR)))

    @cached_property
    def flour_unknown(self) -> bool:
        """Whether flour goes in and the recipe does not say how much."""
        if self.flour_cups >= QUARTER_CUP:
            return False
        unmeasured = any(not _dry_cups(i) for i in self.of("flour", "self-rising"))
        if not self.of("flour", "self-rising"):
            unmeasured = bool(DOUGHS & self.facts)  # a dough that is rolled or dropped has flour, read or not
        return unmeasured or (self.lifted and any(not i.sure and i.role == "other" for i in self.members))

    @cached_property
    def small(self) -> bool:
        """Whether it holds too little flour to be a batter: under 1/4 cup of flour, starch and cocoa together."""
        return self.dry_cups < QUARTER_CUP and not self.flour_unknown

    @cached_property
    def weighed(self) -> bool:
        """Whether the unit written first on its flour is one of weight."""
        flours = self.of(*FLOUR)
        most = max(flours, key=lambda i: grams(i) or ZERO) if len(flours) > 1 else next(iter(flours), None)
        first = measured_first(most) if most else None
        return first is not None and by_weight(first)

    @cached_property
    def dough(self) -> bool:
        """Whether it is rolled, cut or dropped: the words say so, or a quick bread has too little wet to pour."""
        if DOUGHS & self.facts:
            return True
        return self.kind == "quick-bread" and self.wet_cups <= self.flour_cups * DOUGH_WET

    @cached_property
    def wet_cups(self) -> Fraction:
        """Cups of all that wets it: liquids, purées, eggs and syrups."""
        return total(map(self.cups, self.of("liquid", "thick-liquid", "egg", "syrup")))

    @cached_property
    def liquid_cups(self) -> Fraction:
        """Cups of all that pours in it."""
        return total(map(self.cups, self.of("liquid")))

    @cached_property
    def homes(self) -> Fraction:
        """How many home-size recipes it is, by its flour, starch and cocoa."""
        return self.dry_cups / HOME_CUPS

    @cached_property
    def lift(self) -> Lift:
        """Its lift, tsp of baking-powder equivalents."""
        spoons = [(one, self.cups(one) * 48 * stuff(one).lift) for one in self.of("leavener")]
        soda = total(size for one, size in spoons if is_soda(one))
        powder = total(size for one, size in spoons if not is_soda(one))
        fixed = total(self.cups(one) * stuff(one).lift for one in self.of("self-rising"))
        return Lift(soda, powder, total((soda, powder, fixed)))

    @cached_property
    def most_cut(self) -> Fraction | None:
        """The share of the leavener that may go, so that its policy's least lift stays for each cup of flour."""
        if not self.lift.total or not self.flour_cups:
            return None
        floor = self.policy.floor_dough_tsp if self.dough and self.policy.floor_dough_tsp else self.policy.floor_tsp
        return 1 - floor * self.flour_cups / self.lift.total

    @cached_property
    def stiff(self) -> bool:
        """Whether it is a dough, a cookie, or a batter bound by purée or by eggs and butter alone."""
        return self.kind == "cookie" or self.dough or bool({"puree-batter", "pound-cake"} & self.facts)

    @cached_property
    def rises(self) -> bool:
        """Whether it is a batter at all: flour enough, and lift where its kind wants some (crepes have none)."""
        return not self.small and (self.lifted or not self.policy.needs_lift)

    @cached_property
    def lifted(self) -> bool:
        """Whether anything chemical or living lifts it."""
        return bool(self.of("leavener", "self-rising", "yeast"))


def _dry_cups(ingredient: Ingredient) -> Fraction:
    first = measured_first(ingredient)
    if first is not None and by_weight(first):
        return (grams(ingredient) or ZERO) / CUP_G
    return cups(ingredient) or (grams(ingredient) or ZERO) / CUP_G


def batches(recipe: Recipe) -> list[Batch]:
    """The batters and doughs of a recipe in which anything may change."""
    return [batch for batch in every_batch(recipe) if not batch.policy.still and batch.rises]


def every_batch(recipe: Recipe) -> list[Batch]:
    """Every batter and dough of a recipe, of any kind."""
    grouped: dict[int, list[Ingredient]] = {}
    for ingredient in recipe.ingredients:
        if ingredient.part == "batter":
            grouped.setdefault(ingredient.group, []).append(ingredient)
    by_kind: dict[str, list[int]] = {}
    for group in sorted(grouped):
        by_kind.setdefault(_kind(recipe, group), []).append(group)
    made = [
        Batch(recipe, tuple(groups), kind, tuple(i for g in groups for i in grouped[g]))
        for kind, all_groups in by_kind.items()
        for groups in _apart(kind, all_groups, grouped)
    ]
    return sorted(made, key=lambda batch: batch.groups)


def _kind(recipe: Recipe, group: int) -> str:
    return recipe.parts[group].kind if group < len(recipe.parts) else recipe.kind


def _apart(kind: str, groups: list[int], grouped: dict[int, list[Ingredient]]) -> list[list[int]]:
    """The groups of one kind, split where each is a batter of its own, else together."""
    if len(groups) > 1 and kind not in YEASTED and all(_whole(grouped[g]) for g in groups):
        return [[g] for g in groups]
    return [groups]


def _whole(members: list[Ingredient]) -> bool:
    flour = total(_dry_cups(i) for i in members if i.role in FLOUR)
    return flour >= QUARTER_CUP and any(i.role in ("leavener", "egg") for i in members)


def is_mix(ingredient: Ingredient) -> bool:
    """Whether it is a boxed mix, not flour with its powder inside.

    >>> is_mix(Ingredient(0, 8, "cake mix", "self-rising", "batter", key="cake-mix"))
    True
    """
    return (ingredient.key or "").endswith("-mix")
