"""What to change after a bake that went wrong: one change at a time, each on top of the ones before."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from rewriter import air as airs
from rewriter.correcting.adding import More, in_unit, main_liquid, pour_more, water_in
from rewriter.correcting.batch import HOME_CUPS, Batch, batches
from rewriter.correcting.changing import doubt, measured
from rewriter.correcting.corrections.later import in_unit as flour_in_unit
from rewriter.correcting.corrections.oven import HIGHEST_F, LOWEST_F, bakes
from rewriter.correcting.faults import Fault, Remedy, fault
from rewriter.correcting.heating import figures, moved
from rewriter.correcting.kitchen import Kitchen, kitchen
from rewriter.correcting.lift import is_soda
from rewriter.correcting.plan import plan
from rewriter.correcting.weigh import grams
from rewriter.model import Air, Amount, Answer, Edit, Heat, Ingredient, Note, Plan, Recipe, Strength

ZERO, ONE = Fraction(0), Fraction(1)
EGG_TBSP = Fraction(3)  # the extra liquid whose place one egg takes (common practice, no source)
Place = tuple[int, int, str]


@dataclass(frozen=True, slots=True)
class Step:
    """One step: its words, why it helps, where that comes from, and the whole plan with it and those before it."""

    text: str
    why: str
    source: str
    plan: Plan


def next_steps(
    recipe: Recipe,
    air: Air,
    written_for: Air,
    said: str,
    guide: str = "practice",
    strength: Strength = "middle",
    answers: Sequence[Answer] = (),
) -> tuple[Fault, list[Step]]:
    """The fault a person names, and the steps against it in order; each step's plan holds the steps before it too.

    No steps where nothing in the recipe may change. Raises NoSuchFault, NoSuchGuide.

    >>> from rewriter import air
    >>> wrong, steps = next_steps(Recipe("Jam", "confection"), air.of("6500 ft"), air.of("0 ft"), "it is hard")
    >>> wrong.name, steps
    ('hard', [])
    """
    wrong = fault(said)
    told = next((a.value for a in answers if a.query == f"written-for@{recipe.start}"), None)
    here = kitchen(guide, strength, air, airs.of(told) if told else written_for)
    base = plan(recipe, air, written_for, guide, strength, answers)
    found = batches(recipe)
    if not base.edits or not found:
        return wrong, []
    bench, steps = _Bench(recipe, here, found, base), []
    for remedy in wrong.remedies:
        apt = [b for b in found if not remedy.kinds or b.kind in remedy.kinds]
        if air.elevation_ft >= remedy.from_ft and apt and bench.apply(remedy, apt, wrong.cause):
            steps.append(Step(remedy.text, wrong.cause, remedy.source, bench.plan()))
    return wrong, _told(wrong, steps)


def _told(wrong: Fault, steps: list[Step]) -> list[Step]:
    """Each step's plan with the sentences that say which step it is and what comes after."""
    said = []
    for number, step in enumerate(steps, start=1):
        first = (
            f"Step {number} of {len(steps)} ({wrong.name}): {step.text} {wrong.cause} Change nothing else this time."
        )
        notes = [Note("start", first, step.source)]
        if number < len(steps):
            notes.append(Note("start", f"If that is not enough: {steps[number].text}", steps[number].source))
        kept = [note for note in step.plan.notes if note.kind not in ("start", "guide", "next")]
        said.append(replace(step, plan=replace(step.plan, notes=(*notes, *kept))))
    return said


class _Bench:
    """The edits in force while steps are taken one by one."""

    def __init__(self, recipe: Recipe, here: Kitchen, found: Iterable[Batch], base: Plan) -> None:
        self.recipe, self.here, self.batches, self.base = recipe, here, list(found), base
        self.edits: dict[Place, Edit] = {(e.start, e.end, e.addition): e for e in base.edits}

    def plan(self) -> Plan:
        """The plan as it stands."""
        ordered = sorted(self.edits.values(), key=lambda e: (e.start, e.end))
        return replace(self.base, edits=tuple(ordered), later=())

    def apply(self, remedy: Remedy, apt: list[Batch], cause: str) -> bool:
        """Take one remedy; whether it changed anything (a habit always does)."""
        before = dict(self.edits)
        if remedy.change == "habit":
            return True
        if remedy.change in ("oven", "oven-back"):
            self._oven(remedy, cause)
        for batch in apt:
            ACTIONS.get(remedy.change, _nothing)(self, batch, remedy)
        return self.edits != before

    def scale(
        self, who: Iterable[Ingredient], rule: str, move: Callable[[Fraction, Fraction], Fraction], r: Remedy
    ) -> None:
        """Give each measure of some ingredients a new figure, from its present and its written one."""
        for one in who:
            if doubt(one) is None:
                for amount in measured(one):
                    self._set(one, amount, rule, move, r)

    def _set(
        self, one: Ingredient, amount: Amount, rule: str, move: Callable[[Fraction, Fraction], Fraction], r: Remedy
    ) -> None:
        place = (amount.start, amount.end, "")
        now = self.edits.get(place)
        was = amount.quantity or ZERO
        new = move(now.exact if now is not None and now.exact is not None else was, was)
        top = amount.quantity_max
        if top is not None:
            top = move(now.exact_max if now is not None and now.exact_max is not None else top, top)
        if new == was:
            self.edits.pop(place, None)
        elif now is None or now.exact != new:
            self.edits[place] = Edit(
                rule, amount.start, amount.end, "up" if new > was else "down", new, r.text, r.source, exact_max=top,
                unit=amount.unit, target=amount, ingredient=one, group=one.group,
            )  # fmt: skip

    def _oven(self, r: Remedy, cause: str) -> None:
        for heat in self.recipe.heats:
            if not bakes(self.recipe, heat) or not heat.sure or heat.fahrenheit is None or heat.fahrenheit < LOWEST_F:
                continue
            now = self.edits.get((heat.start, heat.end, ""))
            at = now.exact if now is not None and now.exact is not None else heat.fahrenheit
            new = (
                at - r.size * (at - heat.fahrenheit)
                if r.change == "oven-back"
                else min(at + r.size, max(at, HIGHEST_F))
            )
            if new != at:
                self._heat(heat, new, f"{r.text} {cause}", r.source)

    def _heat(self, heat: Heat, new: Fraction, why: str, source: str) -> None:
        top = None if heat.maximum is None else heat.maximum + (new - (heat.fahrenheit or new))
        for target in figures(heat):
            place = (target.start, target.end, "")
            self.edits.pop(place, None)
            if new != heat.fahrenheit:
                self.edits[place] = moved(heat, target, new, "oven", why, source, top)

    def pour(self, batch: Batch, tbsp: Fraction, r: Remedy) -> None:
        """Add to (or take back from) the extra liquid of a batch; what was written stays."""
        extra = [e for e in self.edits.values() if e.rule in ("liquid", "hydration") and e.group in batch.groups]
        for edit in extra:
            self._pour_into(edit, tbsp, r)
        if extra or tbsp <= 0:
            return
        main, more = main_liquid(batch), More(tbsp=tbsp)
        if main is not None:
            found = list(pour_more(batch, main, more, "liquid", r.text, r.source))
        else:
            found = [water_in(batch, more, "liquid", r.text, r.source)]
        self.edits.update({(e.start, e.end, e.addition): e for e in found if isinstance(e, Edit)})

    def _pour_into(self, edit: Edit, tbsp: Fraction, r: Remedy) -> None:
        place = (edit.start, edit.end, edit.addition)
        target = edit.target if isinstance(edit.target, Amount) and not edit.addition else None
        unit = target or Amount(0, 0, "", ONE, unit=edit.unit)
        written = target.quantity or ZERO if target is not None else ZERO
        step = in_unit(unit, edit.ingredient if target is not None else None, More(tbsp=tbsp))
        new = max(written, (edit.exact or ZERO) + step)
        if new == written:
            del self.edits[place]
            return
        top = None if edit.exact_max is None else max(new, edit.exact_max + step)
        self.edits[place] = replace(edit, exact=new, exact_max=top, why=r.text, source=r.source, unguarded=None)

    def extra_tbsp(self, batch: Batch) -> Fraction:
        """Tbsp of extra liquid in a batch now."""
        from rewriter.correcting.comparison import tbsp_of

        extra = [e for e in self.edits.values() if e.rule in ("liquid", "hydration") and e.group in batch.groups]
        return next((tbsp_of(edit) for edit in extra), ZERO)


def _nothing(bench: _Bench, batch: Batch, r: Remedy) -> None:
    """Take a remedy that is no matter of a batch."""


def _size(batch: Batch) -> Fraction:
    return batch.dry_cups / HOME_CUPS


def _flour(bench: _Bench, batch: Batch, r: Remedy) -> None:
    flour = max(batch.of("flour"), key=lambda i: grams(i) or ZERO, default=None)
    tbsp = r.size * bench.here.added("flour-next") * _size(batch)
    if flour is None or tbsp <= 0 or doubt(flour) is not None:
        return
    for amount in measured(flour):
        step = flour_in_unit(tbsp, amount, flour)
        if step is not None:
            bench.scale([replace(flour, amounts=(amount,))], "flour", lambda now, _, s=step: now + s, r)  # type: ignore[misc]


def _egg(bench: _Bench, batch: Batch, r: Remedy) -> None:
    eggs = max((i for i in batch.of("egg") if _counted(i)), key=lambda i: grams(i) or ZERO, default=None)
    count = r.size * bench.here.added("egg-next") * _size(batch)
    if eggs is None or count <= 0 or doubt(eggs) is not None:
        return
    bench.scale([eggs], "egg", lambda now, _: now + count, r)
    bench.pour(batch, -min(EGG_TBSP * count, bench.extra_tbsp(batch)), r)


def _counted(egg: Ingredient) -> bool:
    return all(a.unit in ("each", "") for a in measured(egg))


def _leavener(bench: _Bench, batch: Batch, r: Remedy) -> None:
    if batch.policy.leavener:
        bench.scale(batch.of("leavener"), "leavener", lambda now, was: max(was / 4, now * (1 - r.size)), r)


def _leavener_back(bench: _Bench, batch: Batch, r: Remedy) -> None:
    if batch.policy.leavener:
        bench.scale(batch.of("leavener"), "leavener", lambda now, was: now + r.size * (was - now), r)


def _soda(bench: _Bench, batch: Batch, r: Remedy) -> None:
    bench.scale(filter(is_soda, batch.of("leavener")), "leavener", lambda now, _: now * (1 - r.size), r)


def _soda_back(bench: _Bench, batch: Batch, r: Remedy) -> None:
    bench.scale(filter(is_soda, batch.of("leavener")), "leavener", lambda now, was: now + r.size * (was - now), r)


def _yeast_back(bench: _Bench, batch: Batch, r: Remedy) -> None:
    bench.scale(batch.of("yeast"), "yeast", lambda now, was: now + r.size * (was - now), r)


def _sugar(bench: _Bench, batch: Batch, r: Remedy) -> None:
    changed = [i for i in batch.of("sugar") if any((a.start, a.end, "") in bench.edits for a in i.amounts)]
    bench.scale(changed, "sugar", lambda now, was: now - r.size * was, r)


def _liquid(bench: _Bench, batch: Batch, r: Remedy) -> None:
    bench.pour(batch, r.size * _size(batch), r)


def _liquid_back(bench: _Bench, batch: Batch, r: Remedy) -> None:
    bench.pour(batch, -r.size * bench.extra_tbsp(batch), r)


ACTIONS: dict[str, Callable[[_Bench, Batch, Remedy], None]] = {
    "flour": _flour,
    "egg": _egg,
    "leavener": _leavener,
    "leavener-back": _leavener_back,
    "soda": _soda,
    "soda-back": _soda_back,
    "yeast-back": _yeast_back,
    "sugar": _sugar,
    "liquid": _liquid,
    "liquid-back": _liquid_back,
}
