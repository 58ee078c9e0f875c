"""A card for a kitchen: the guide's corrections, the steps that bakes have led to, and what a baker changed by hand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from rewriter import air as airs
from rewriter import api, correcting, writing
from rewriter.collection.ways import ELSEWHERE, Way
from rewriter.correcting.faults import Fault
from rewriter.correcting.nextstep import Step
from rewriter.errors import Unusable
from rewriter.model import Air, Amount, Answer, Edit, Heat, Plan, Query, Recipe
from rewriter.writing.registry import Job

LEAST_LEAVENER = Fraction(1, 4)  # of what is written always stays
SHARES = ("leavener", "sugar", "yeast")  # roles whose correction is a share of what is written
Place = tuple[int, int, str]
Own = dict[str, tuple[Fraction, int]]  # role -> (the share or degrees a baker changed it by, the sign of the guide's)


@dataclass(frozen=True, slots=True)
class Fitted:
    """A card for a kitchen: annotated text; role -> (what is used, what the guide would), a factor or degrees."""

    text: str
    roles: dict[str, tuple[float, float]]
    job: Job
    words: tuple[str, ...] = ()


def fit(text: str, here: Air, way: Way) -> Fitted:
    """A card's text annotated for a kitchen, in a way. Raises Unusable where it holds no recipe."""
    answers = way.told(text)
    source, recipes, _ = api.original(text, answers)
    home = airs.of(way.written_for)
    plans, words = [], [ELSEWHERE] if way.answers and not answers else []
    bases = [correcting.plan(one, here, home, way.guide, way.strength, answers) for one in recipes]
    first, told = _stepped(recipes[0], bases[0], here, way, answers)
    plans = [_by_hand(first, bases[0], way.own), *bases[1:]]
    words += told
    changes = [c for one, plan in zip(recipes, plans, strict=True) for c in writing.measure(source, one, plan)]
    changes.sort(key=lambda change: (change.start, change.end))
    queries = _questions(recipes, plans, answers)
    job = Job(source, recipes, plans, changes, queries, here)
    written = writing.write(source, recipes, plans, changes, queries, here)
    return Fitted(written, roles(plans[0], bases[0]), job, tuple(words))


def _questions(recipes: Sequence[Recipe], plans: Sequence[Plan], answers: Sequence[Answer]) -> list[Query]:
    """Every question still open, once, in reading order."""
    found: dict[str, Query] = {}
    answered = {answer.query for answer in answers}
    for one, plan in zip(recipes, plans, strict=True):
        for query in (*one.queries, *plan.queries):
            if query.id not in answered:
                found.setdefault(query.id, query)
    return sorted(found.values(), key=lambda query: query.start)


def next_step(text: str, here: Air, way: Way, said: str) -> tuple[Way, str] | None:
    """The way with the next step against a fault, and the step in words; None where all have been taken.

    Raises Unusable where the words name no fault.
    """
    answers = way.told(text)
    recipe = api.original(text, answers)[1][0]
    wrong, steps = _steps(recipe, here, way, said, answers)
    done = [count for name, count in way.steps if name == wrong.name]
    number = max(done, default=-1) + 1
    if number >= len(steps):
        return None
    return way.further(wrong.name, number), f"{steps[number].text} {steps[number].why}"


def _steps(recipe: Recipe, here: Air, way: Way, said: str, answers: Sequence[Answer]) -> tuple[Fault, list[Step]]:
    return correcting.next_steps(recipe, here, airs.of(way.written_for), said, way.guide, way.strength, answers)


def roles(plan: Plan, base: Plan) -> dict[str, tuple[float, float]]:
    """Role -> (what a plan uses, what the guide alone would), a factor to what is written; "oven" in degrees more."""
    used, guide = _figures(plan.edits), _figures(base.edits)
    return {role: (used.get(role, _none(role)), guide.get(role, _none(role))) for role in sorted({*used, *guide})}


def by_hand(text: str, changed: str, here: Air, way: Way) -> tuple[Way, list[str]]:
    """The way with what a baker says was changed ("baking powder 1 1/2 tsp; oven 365 F"), and what was not understood.

    Each figure is set against the guide's, so that it can be carried to another elevation.
    """
    answers = way.told(text)
    recipe = api.original(text, answers)[1][0]
    plan = correcting.plan(recipe, here, airs.of(way.written_for), way.guide, way.strength, answers)
    base = _figures(plan.edits)
    own, unclear = dict(way.own), []
    for piece in (one.strip() for one in changed.replace("\n", ";").split(";")):
        found = _set(piece, recipe, base) if piece else None
        if found:
            own[found[0]] = str(found[1])
        elif piece:
            unclear.append(piece)
    return replace(way, own=own), unclear


def _set(piece: str, recipe: Recipe, base: dict[str, float]) -> tuple[str, Fraction] | None:
    """Role and ratio of a baker's change to the guide's ("leavener", 2/3: two thirds of the guide's cut)."""
    if "oven" in piece.lower():
        read = api.read(f"Bake a cake in the oven. {piece}.")
        heats = read[0].heats if read else ()
        written = next((h.fahrenheit for h in recipe.heats if h.place == "oven" and h.fahrenheit), None)
        said = next((h.fahrenheit for h in heats if h.fahrenheit), None)
        if said is None or written is None or not base.get("oven"):
            return None
        return "oven", (said - written) / Fraction(base["oven"]).limit_denominator(1000)
    said_one = api.read_ingredient(piece)
    if not said_one.amounts or said_one.key is None:
        return None
    for one in recipe.ingredients:
        if (
            one.key == said_one.key
            and one.role in SHARES
            and one.grams
            and said_one.grams
            and base.get(one.role, 1) != 1
        ):
            cut = 1 - Fraction(said_one.grams / one.grams).limit_denominator(96)
            return one.role, cut / (1 - Fraction(base[one.role]).limit_denominator(96))
    return None


def _by_hand(plan: Plan, base: Plan, own: dict[str, str]) -> Plan:
    """A plan with the baker's own shares and degrees: the guide's change times a ratio."""
    if not own:
        return plan
    guides = _keyed(base.edits)
    edits = []
    for edit in plan.edits:
        role = _role(edit)
        guide = guides.get((edit.start, edit.end, edit.addition))
        written = _written(edit)
        if role in own and guide is not None and guide.exact is not None and written:
            exact = written + (guide.exact - written) * Fraction(own[role])
            if role == "leavener":
                exact = max(exact, written * LEAST_LEAVENER)
            top = edit.target.quantity_max if isinstance(edit.target, Amount) else None
            exact_max = exact * top / written if top and edit.exact_max is not None else edit.exact_max
            told = "as this kitchen bakes it"
            edit = replace(
                edit, exact=exact, exact_max=exact_max, why=told, source="this kitchen's bakes", unguarded=None
            )
            if exact == written:
                continue
        edits.append(edit)
    return replace(plan, edits=tuple(edits))


def _stepped(recipe: Recipe, base: Plan, here: Air, way: Way, answers: Sequence[Answer]) -> tuple[Plan, list[str]]:
    """The base plan with each step taken, in order, as what it changes."""
    edits, words = _keyed(base.edits), []
    for said, number in way.steps:
        _, steps = _steps(recipe, here, way, said, answers)
        if number >= len(steps):
            continue
        before = _keyed(steps[number - 1].plan.edits if number else base.edits)
        _moved(edits, before, _keyed(steps[number].plan.edits))
        words.append(steps[number].text)
    if not way.steps:
        return base, words
    ordered = tuple(sorted(edits.values(), key=lambda e: (e.start, e.end)))
    return replace(base, edits=ordered, later=()), words


def _moved(edits: dict[Place, Edit], before: dict[Place, Edit], after: dict[Place, Edit]) -> None:
    """Apply the difference between two plans to a third."""
    for place in {*before, *after}:
        was, new, now = before.get(place), after.get(place), edits.get(place)
        if was == new:
            continue
        if now == was or new is None or new.exact is None or now is None or now.exact is None:
            if new is None:
                edits.pop(place, None)
            else:
                edits[place] = new
            continue
        written = _written(new)
        start = was.exact if was is not None and was.exact is not None else written
        exact = now.exact + new.exact - (start if start is not None else new.exact)
        if written and _role(new) == "leavener":
            exact = max(exact, written * LEAST_LEAVENER)
        if exact == written:
            edits.pop(place)
        elif exact > 0:
            edits[place] = replace(
                new, exact=exact, direction="up" if written is not None and exact > written else "down"
            )


def _keyed(edits: Iterable[Edit]) -> dict[Place, Edit]:
    return {(e.start, e.end, e.addition): e for e in edits}


def _written(edit: Edit) -> Fraction | None:
    """What stands on the card at an edit's place; nothing for an addition."""
    if edit.addition or edit.target is None:
        return Fraction(0)
    if isinstance(edit.target, Amount):
        return edit.target.quantity
    return edit.target.fahrenheit if isinstance(edit.target, Heat) else None


def _role(edit: Edit) -> str:
    if isinstance(edit.target, Heat):
        return "oven" if edit.rule == "oven" else ""
    return edit.ingredient.role if edit.ingredient is not None and not edit.addition else ""


def _figures(edits: Sequence[Edit]) -> dict[str, float]:
    """Role -> factor to what is written; "oven" -> degrees F more. Of several amounts of a role, the first."""
    found: dict[str, float] = {}
    for edit in edits:
        written, role = _written(edit), _role(edit)
        if edit.step != "now" or not role or not written or edit.exact is None:
            continue
        found.setdefault(role, float(edit.exact - written) if role == "oven" else float(edit.exact / written))
    return found


def _none(role: str) -> float:
    return 0.0 if role == "oven" else 1.0


def place_of(elevation: str | float | Air | None, barometer: str | None = None, boils_at: str | None = None) -> Air:
    """The air of a kitchen. Raises Unusable where what is given does not fit together."""
    here, asked = api.kitchen(elevation, barometer, boils_at)
    if asked:
        raise Unusable(asked[0].question, "give the one you trust")
    return here
