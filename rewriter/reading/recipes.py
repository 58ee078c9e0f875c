"""From layout, names, amounts, heats and facts to a whole :class:`rewriter.model.Recipe`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter import pantry
from rewriter.model import Amount, Fact, Heat, Ingredient, Part, Portion, Query, Recipe, Time
from rewriter.reading import kinds, parts, portions, prose, questions, second, shared, strangers, twofold
from rewriter.reading.answers import Given
from rewriter.reading.findings import Findings
from rewriter.reading.layout import Layout
from rewriter.reading.lines import read_line, weigh
from rewriter.reading.method import Clause, clauses_of
from rewriter.reading.roles import settle
from rewriter.reading.units import table


@dataclass(slots=True)
class Draft:
    """A recipe while it is read."""

    layout: Layout
    ingredients: list[Ingredient]
    groups: list[parts.Group]
    clauses: list[Clause]
    portions: list[Portion]
    method: str


def draft(layout: Layout, found: Findings) -> Draft:
    """The ingredients of the list, then what the method measures beside them; each with its part."""
    text = found.text
    clauses = clauses_of(text, layout.method)
    method = "\n".join(text[start:end] for start, end in layout.method)
    lines = [
        read_line(
            text, line.start, line.end, found.names_in(line.start, line.end), found.amounts_in(line.start, line.end)
        )
        for line in layout.listed
    ]
    groups = parts.groups_of(layout.listed, layout.groups)
    ingredients = shared.told_apart(lines, layout.listed, groups, found)
    names = [name for start, end in layout.method for name in found.names_in(start, end)]
    told = _measured(clauses, found)
    own = strangers.of_finishes(text, told, ingredients)
    heard = [name for name in names if name.start not in own] if own else names
    made = Draft(layout, parts.assign(ingredients, groups, clauses, heard, found), groups, clauses, [], method)
    _from_method(made, told, own, found)
    made.portions += portions.shares(text, clauses, names, made.ingredients)
    made.portions.sort(key=lambda portion: portion.start)
    made.portions += portions.rests(text, clauses, made.portions)
    made.portions.sort(key=lambda portion: portion.start)
    return made


def _measured(clauses: Sequence[Clause], found: Findings) -> list[tuple[Clause, list[prose.Measured]]]:
    """What each clause of the method that holds an amount measures."""
    out = []
    for clause in clauses:
        amounts = found.amounts_in(clause.start, clause.end)
        if amounts:
            told = prose.measured(found.text, clause.start, clause.end, amounts, found.names, found.reader)
            out.append((clause, told))
    return out


def _from_method(
    made: Draft, told: Sequence[tuple[Clause, list[prose.Measured]]], own: frozenset[int], found: Findings
) -> None:
    """Amounts in the method: portions of what is listed, or ingredients that stand only there."""
    text, listed = found.text, list(made.ingredients)
    for clause, measured in told:
        amounts = found.amounts_in(clause.start, clause.end)
        _left_over(made, found, amounts, {one.amount.start for one in measured})
        for one in measured:
            part = clause.part_at(one.name_start)
            name, key = _named(text, one)
            if (listed or one.the) and one.name_start not in own:
                known = portions.listed_for(name, key, part, made.ingredients, one.amount)
                if known is not None:
                    portion = portions.portion(text, one, known)
                    if portion is not None and not portions.extra(text, known, one.amount):
                        made.portions.append(portion)
                    continue
            if one.the or (listed and (key is None or one.amount.unit in ("each", ""))):
                continue
            _add(made, one, name, key, part, clause)


def _left_over(made: Draft, found: Findings, amounts: Sequence[Amount], named: set[int]) -> None:
    """Amounts beside which no name stands ("the last 2 tablespoons")."""
    for amount in amounts:
        if amount.unit and amount.start not in named:
            portion = portions.left_over(found.text, amount, made.portions)
            if portion is not None:
                made.portions.append(portion)


def _named(text: str, one: prose.Measured) -> tuple[str, str | None]:
    if one.egg_part in ("white", "yolk"):
        return f"egg {one.egg_part}", f"egg-{one.egg_part}"
    if one.egg_part == "juice" and one.name is not None:
        return one.name.text, "lemon-juice"
    if one.name is not None:
        return one.name.text, one.name.key
    return text[one.name_start : one.name_end].strip(), None


def _sweetened(made: Draft) -> bool:
    return any(
        i.role == "sugar" and i.listed and i.part == "batter" and i.key != "powdered-sugar" for i in made.ingredients
    )


def _add(made: Draft, one: prose.Measured, name: str, key: str | None, part: str, clause: Clause) -> None:
    entry = pantry.entry(key) if key else None
    role = entry.role if entry else "other"
    if key == "powdered-sugar" and part == "batter" and _sweetened(made):
        part = "frosting"  # a batter that lists its sugar is not sweetened with icing sugar in passing
    if one.egg_part in ("zest", "rind", "peel", "grated rind"):
        role = "other"
    group = next((k for k, other in enumerate(made.groups) if other.part == part), None)
    if group is None:
        made.groups.append(parts.Group("", clause.start, clause.end, [], part, True))
        group = len(made.groups) - 1
    made.groups[group].members.append(len(made.ingredients))
    made.groups[group].end = max(made.groups[group].end, clause.end)
    grams, spread = weigh(key, (one.amount,))
    start, end = min(one.amount.start, one.name_start), max(one.amount.end, one.name_end)
    made.ingredients.append(
        Ingredient(
            start, end, name, role, part, (one.amount,), grams, entry is not None, key, group, spread,
            frozenset(), False, one.name_start, one.name_end,
        )
    )  # fmt: skip


def build(
    layout: Layout,
    found: Findings,
    heats: Sequence[Heat],
    times: Sequence[Time],
    facts: Sequence[Fact],
    given: Given,
) -> Recipe:
    """One recipe, read whole; ``given`` holds the person's answers."""
    text = found.text
    made = draft(layout, found)
    ingredients = [given.ingredient(one) for one in made.ingredients]
    ingredients = _with_batter(made, ingredients)
    ingredients = second.consult(ingredients, text, lambda seen: _corrected(layout.title, seen, made.method))
    batter = [one for one in ingredients if one.part == "batter"]
    verdict = kinds.classify(layout.title, kinds.formula(batter), made.method)
    told = given.kind(layout.start)
    if told is not None:
        verdict = kinds.Verdict(told, "you said so")
    made_parts = _parts(layout.title, made, ingredients, verdict, given)
    ingredients = [
        parts.in_part(one, made_parts[one.group].name, one.group, one.sure)
        if one.part == "batter" and made_parts[one.group].name == "filling"
        else one
        for one in ingredients
    ]
    if verdict.kind in kinds.DISH and not any(
        part.name == "batter" and part.kind not in kinds.DISH for part in made_parts
    ):
        ingredients = [parts.in_part(one, "dish", one.group, one.sure) for one in ingredients]
    ingredients = settle(ingredients, text)
    main = _main(made, ingredients)
    heats = [given.heat(_grouped(heat, _group_at(made, heat.start, main))) for heat in heats]
    asked: list[Query] = []
    if not verdict.sure and verdict.kind not in kinds.NEVER:
        asked.append(
            questions.kind_question(
                layout.title, made_parts[0] if made_parts else Part("batter", verdict.kind), layout.start
            )
        )
    asked += questions.ingredient_questions(ingredients, verdict.kind, text)
    asked += questions.heat_questions(heats)
    return Recipe(
        layout.title, verdict.kind, tuple(ingredients), _portions(made, ingredients), tuple(heats),
        tuple(times), tuple(made_parts),
        layout.start, layout.end, (*facts, *twofold.facts(layout.listed, found)),
        tuple(query for query in asked if not given.get(*_split(query.id))), tuple(layout.method),
    )  # fmt: skip


def _corrected(title: str, ingredients: Sequence[Ingredient], method: str) -> bool:
    """Whether this is a bake whose amounts may change."""
    batter = [one for one in ingredients if one.part == "batter"]
    return kinds.classify(title, kinds.formula(batter), method).kind not in kinds.NEVER


def _with_batter(made: Draft, ingredients: list[Ingredient]) -> list[Ingredient]:
    """Where the method's words left no batter though flour and a leavener are there, what holds the flour is it."""
    raising = [one for one in ingredients if one.role in ("leavener", "yeast", "self-rising")]
    flour = [one for one in ingredients if one.role in ("flour", "self-rising")]
    if any(one.part == "batter" for one in ingredients) or not flour or not (raising or len(ingredients) > 3):
        return ingredients
    part = max(flour, key=lambda one: one.grams or 0.0).part
    for group in made.groups:
        if group.part == part:
            group.part = "batter"
    return [parts.in_part(one, "batter", one.group, one.sure) if one.part == part else one for one in ingredients]


def _main(made: Draft, ingredients: Sequence[Ingredient]) -> int:
    """The index of the main part: the batter with the most flour, else the heaviest."""

    def weight(k: int) -> tuple[bool, float, float]:
        members = [ingredients[i] for i in made.groups[k].members]
        flour = sum(one.grams or 0.0 for one in members if one.role in ("flour", "self-rising"))
        return made.groups[k].part == "batter", flour, sum(one.grams or 0.0 for one in members)

    return max(range(len(made.groups)), key=weight, default=0)


def _grouped(heat: Heat, group: int) -> Heat:
    return heat if heat.group == group else replace(heat, group=group)


def _group_at(made: Draft, at: int, main: int) -> int:
    """The part a heat belongs to: the one the method works on there, where it is headed; else the main part."""
    clause = next((clause for clause in made.clauses if clause.start <= at < clause.end), None)
    if clause is None or clause.part in ("batter", "topping", "frosting") or not clause.heading:
        return main
    return next((k for k, group in enumerate(made.groups) if group.part == clause.part), main)


def _split(query: str) -> tuple[str, int]:
    what, _, at = query.partition("@")
    return what, int(at)


def _portions(made: Draft, ingredients: Sequence[Ingredient]) -> tuple[Portion, ...]:
    """The portions, tied to the ingredients as they stand in the recipe."""
    if not made.portions:
        return ()
    here = {(one.start, one.name_start): one for one in ingredients}
    return tuple(
        _of(portion, here[portion.ingredient.start, portion.ingredient.name_start]) for portion in made.portions
    )


def _of(portion: Portion, one: Ingredient) -> Portion:
    return portion if portion.ingredient is one else replace(portion, ingredient=one)


def _pressed(heading: str, members: Sequence[Ingredient]) -> bool:
    """Whether a group is a crust that is pressed or rolled, with nothing in it that lifts, binds or wets."""
    words = heading.lower().replace(":", " ").split()
    return not _CRUST.isdisjoint(words) and not any(one.role in _LIFTS for one in members)


_CRUST = frozenset(table("lines")["pressed"]["words"])
_LIFTS = frozenset(("leavener", "yeast", "self-rising", "egg", "liquid"))


def _parts(
    title: str, made: Draft, ingredients: Sequence[Ingredient], verdict: kinds.Verdict, given: Given
) -> list[Part]:
    batters = [group for group in made.groups if group.part == "batter"]
    out = []
    for group in made.groups:
        members = [ingredients[i] for i in group.members if ingredients[i].part == "batter"]
        told = given.kind(group.start)
        if told is not None:
            kind, why, sure = told, "you said so", True
        elif group.part != "batter":
            kind, why, sure = "confection", "it goes on, in or beside the bake", True
        elif len(batters) > 1 and verdict.kind in kinds.CHEMICAL and _pressed(group.heading, members):
            kind, why, sure = "pastry", "a crust that nothing lifts", True
        elif verdict.kind not in kinds.NEVER:
            kind, why, sure = verdict.kind, verdict.why, verdict.sure
        else:
            own = kinds.of_part(title, group.heading, kinds.formula(members), made.method)
            if len(batters) == 1 and own.kind not in kinds.CHEMICAL:
                own = verdict
            kind, why, sure = own.kind, own.why, own.sure
        out.append(Part(group.part, kind, group.heading, group.start, group.end, why, sure))
    if any(part.name == "batter" and part.kind not in kinds.NEVER for part in out):
        out = [
            replace(part, name="filling", why=f"{part.kind}, under or in the dough")
            if part.name == "batter" and part.kind in kinds.NEVER
            else part
            for part in out
        ]
    return out
