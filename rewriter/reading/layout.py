"""Where things stand in a paste: title, headings, ingredient lines, method, notes, and the clutter around them.

A paste becomes lines; runs of lines that open with an amount (with or without a heading above) are ingredient lists; what
follows is the method, up to the next list or the page's own furniture. A paste without a list is read as running prose.

>>> found = lay_out("Scones\\n\\nIngredients\\n2 cups flour\\n1 cup milk\\n\\nMethod\\nMix. Bake.\\n")
>>> found[0].title, [line.text for line in found[0].listed], found[0].prose
('Scones', ['2 cups flour', '1 cup milk'], False)
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

from rewriter.reading.numerals import NUMBER
from rewriter.reading.units import HEDGE, NEVER, UNIT, table

_TABLE = table("layout")
_LINE = re.compile(r"[^\r\n\x0b\x0c\x1c-\x1e\x85\u2028\u2029]+")
_BULLET = re.compile(
    r"[\s\ufeff\u200b-\u200f\u2060]*(?:(?:[*•·▢☐□◦▪●○‣∙\uf0b7–—+✓✔☑>|]|-(?=\s|\d|[a-zA-Z])|o(?=\s{1,3}\S)|\[\s?\])[\s\ufeff\u200b-\u200f\u2060]*)*"
)
_STEP = re.compile(r"(?:step\s*)?\d{1,2}\s?[.):]\s?(?=\D)", re.IGNORECASE)
_OPENING = re.compile(
    rf"(?:optional:?\s*|[A-Z][\w ]{{2,24}}:\s+)?[(\[]?(?:(?:{HEDGE}|~|the)\b\.?\s*)*"
    rf"(?:(?:{NUMBER})|an?\s+(?:{HEDGE})?\s*(?={UNIT})|(?:pinch|dash|splash|handful|drizzle|knob)(?:es|s)?\b)",
    re.IGNORECASE,
)
_NOT_AMOUNT = re.compile(
    rf"\s*(?:[-–]\s*\d+\s*)?(?:(?:{NEVER})\b|[°º˚%:/]\s?\d|[°º˚%]|x\s*\d+\s*x|[.)]\s+[A-Z]|\s*(?:g|mg|kcal)\s+(?:carbs?|protein|fat|sugars?|fiber|sodium)\b|from\b|\+\s*$|$|,?\s*20\d\d)",
    re.IGNORECASE,
)
_WITH_UNIT = re.compile(rf"{NUMBER}[\s-]*(?:{UNIT})", re.IGNORECASE)
_TRAILING = re.compile(
    rf"[A-Za-z][^.!?;\d]{{1,48}}?(?:[\s,:|–-]|\.{{2,}})+(?:about\s+)?(?:{NUMBER})\s?(?:[-–]|to)?\s?(?:{NUMBER})?\s*(?:{UNIT})\.?(?:\s*\([^)]*\))?(?:[\s|]+[\d.]+\s?%)?[\s|]*$",
    re.IGNORECASE,
)
_SENTENCE = re.compile(r"[.!?](?:\s|$)")
_VERB = re.compile(
    r"^(?:(?:first|then|next|now|meanwhile|in|to|using|with|on|once|when|while|after|if)\b.{0,60}?,?\s)?(?:preheat|heat|mix|beat|whisk|stir|combine|cream|sift|add|pour|bake|cook|place|put|melt|fold|spread|roll|cut|let|make|remove|serve|sprinkle|drop|knead|cover|grease|line|bring|boil|simmer|turn|spoon|blend|dissolve|toss|chill|refrigerate|set|allow|take|divide|shape|brush|fry|drain|scald|work|rub|separate|repeat|transfer|cool|dust|prepare|arrange|whip|press|gently|slowly|gradually|position|adjust)\b",
    re.IGNORECASE,
)
_CELL = re.compile(r"\s{3,}|\t+|\s*\|\s*")


def _whole(patterns: list[str]) -> re.Pattern[str]:
    return re.compile("(?:" + "|".join(patterns) + r")\s*[:.\-–—]*\s*$", re.IGNORECASE)


_INGREDIENTS = _whole(_TABLE["heading"]["ingredients"])
_METHOD = _whole(_TABLE["heading"]["method"])
_END = _whole(_TABLE["heading"]["end"])
_NOTES = _whole(_TABLE["heading"]["notes"])
_CLUTTER = _whole(_TABLE["clutter"]["lines"])
_PART_WORDS = frozenset(word for words in _TABLE["part_word"].values() for word in words)
_WORD = re.compile(r"[a-z]+(?:-[a-z]+)?")


@dataclass(slots=True)
class Line:
    """A line without its bullet; ``start``/``end`` in the paste. ``role``: heading, ingredient, skip or ""."""

    start: int
    end: int
    text: str
    gap: bool = False
    role: str = ""
    amount: bool = False
    bullet: bool = False


@dataclass(slots=True)
class Layout:
    """One recipe's place in the paste.

    listed: its ingredient lines; groups: (heading line or None, first, last+1) over ``listed``;
    method: spans of the method; notes: spans of notes; prose: True where there is no list.
    """

    title: str
    start: int
    end: int
    listed: list[Line] = field(default_factory=list)
    groups: list[tuple[Line | None, int, int]] = field(default_factory=list)
    method: list[tuple[int, int]] = field(default_factory=list)
    notes: list[tuple[int, int]] = field(default_factory=list)
    headings: list[Line] = field(default_factory=list)
    prose: bool = False


def lines_of(text: str, start: int = 0, end: int | None = None) -> list[Line]:
    """The non-blank lines of the text without bullets, numbers kept; ``gap`` tells a blank line above."""
    lines: list[Line] = []
    last = start
    for match in _LINE.finditer(text, start, len(text) if end is None else end):
        begin = _BULLET.match(text, match.start(), match.end()).end()  # type: ignore[union-attr]
        stop = match.end()
        while stop > begin and text[stop - 1].isspace():
            stop -= 1
        if stop <= begin:
            continue
        bullet = bool(text[match.start() : begin].strip())
        lines.append(
            Line(
                begin,
                stop,
                text[begin:stop],
                bullet=bullet,
                gap="\n" in text[last : match.start()].replace("\r\n", "\n")[1:] or not lines,
            )
        )
        last = match.end()
    return lines


def opens_with_amount(content: str) -> bool:
    """Whether a line opens (or, in a table, closes) with an ingredient's amount.

    >>> opens_with_amount("1½ cups flour"), opens_with_amount("20 minutes"), opens_with_amount("Flour ... 2 cups")
    (True, False, True)
    """
    if len(content) > 260:
        return False
    match = _OPENING.match(content)
    if match and not _NOT_AMOUNT.match(content, match.end()):
        rest = content[match.end() :]
        return bool(re.search(r"[A-Za-z]", rest)) and not (len(rest) > 120 and len(_SENTENCE.findall(rest)) > 2)
    return content[-1:] in ".)%|abcdefghijklmnopqrstuvwxyz#CTG" and bool(_TRAILING.match(content))


def _unnumbered(text: str, line: Line) -> None:
    """Drop "1." before an ingredient of a numbered list."""
    step = _STEP.match(line.text)
    if step and opens_with_amount(line.text[step.end() :]):
        line.start += step.end()
        line.text = text[line.start : line.end]


def _cells(text: str, line: Line) -> list[Line]:
    """A line of a two-column card as its cells, where at least two of them open with an amount."""
    if "   " not in line.text and "\t" not in line.text and "|" not in line.text:
        return [line]
    cells, at = [], line.start
    for gap in [*_CELL.finditer(text, line.start, line.end), None]:
        stop = gap.start() if gap else line.end
        if stop > at:
            cells.append(Line(at, stop, text[at:stop], line.gap and not cells, amount=opens_with_amount(text[at:stop])))
        at = gap.end() if gap else stop
    return (
        cells
        if sum(cell.amount and bool(re.search(r"[a-z]{3}", cell.text, re.IGNORECASE)) for cell in cells) > 1
        else [line]
    )


def _sentence(content: str) -> bool:
    return (
        len(content) > 60 and (bool(_VERB.match(content)) or len(_SENTENCE.findall(content)) > 1) or len(content) > 200
    )


def _instruction(content: str) -> bool:
    step = _STEP.match(content)
    body = content[step.end() :] if step else content
    if body.endswith(":") and len(body) < 60:
        return False
    return bool(_VERB.match(body)) and (len(body) > 24 or body.endswith(".")) or _sentence(body)


@dataclass(slots=True)
class _Region:
    first: int
    last: int
    headed: bool
    closed: bool = False
    tail: int = 0
    """closed: a method heading follows at once; tail: the line before which the list must end."""


def _mark(text: str, lines: list[Line]) -> None:
    for line in lines:
        if line.text[:1].isdigit():
            _unnumbered(text, line)
        line.amount = opens_with_amount(line.text)
        if not line.amount and len(line.text) < 130 and _CLUTTER.match(line.text):
            line.role = "skip"
        elif line.amount and len(line.text) < 60 and _CLUTTER.match(line.text):
            line.role, line.amount = "skip", False


def _short(line: Line) -> bool:
    return len(line.text) < 90 and not _instruction(line.text)


def _regions(lines: list[Line]) -> list[_Region]:
    regions: list[_Region] = []
    i, n = 0, len(lines)
    while i < n:
        line = lines[i]
        headed = len(line.text) < 90 and bool(_INGREDIENTS.match(line.text))
        if not headed and not (line.amount and not _METHOD.match(line.text)):
            i += 1
            continue
        start = i + 1 if headed else i
        last, misses, amounts, closed, j = start - 1, 0, 0, False, start
        while j < n:
            here = lines[j]
            if len(here.text) < 90 and (_METHOD.match(here.text) and here.role != "skip"):
                closed = True
                break
            if (
                len(here.text) < 90
                and not here.amount
                and (_END.match(here.text) or _INGREDIENTS.match(here.text) or _NOTES.match(here.text))
            ):
                break
            if here.amount and not _instruction_with_amount(here.text):
                last, misses, amounts = j, 0, amounts + 1
            elif here.role != "skip":
                if _instruction(here.text):
                    break
                misses += 1
                if misses > (8 if not amounts else 5):
                    break
            j += 1
        tail = j if closed or (j < n and amounts and _instruction(lines[j].text)) else last + 1
        if amounts >= (1 if headed else 2) or (amounts == 1 and closed):
            regions.append(_Region(start, last, headed, closed, tail))
            i = max(j, i + 1)
        else:
            i = start + 1 if amounts == 0 else max(last + 1, i + 1)
    return regions


_PAGE = 90
"""From this many lines on a paste is a web page with furniture of its own, not a card."""
_COMMENTS = re.compile(
    r"\d*\s*(?:comments?|reviews?|responses|replies|questions|discussion)\b.{0,30}|leave\s+a\s+(?:reply|comment).{0,30}|reader\s+interactions|(?:add|post|write)\s+a\s+(?:comment|review).{0,20}",
    re.IGNORECASE,
)
_NUTRIENT = re.compile(
    r"\b(?:calories|kcal|total\s+fat|saturated|cholesterol|sodium|carbohydrates?|net\s+carbs|protein|fib(?:er|re)|vitamin|potassium|calcium|iron|daily\s+value|per\s+serving|nutrients?)\b",
    re.IGNORECASE,
)
_TASTE = re.compile(
    r"\bto\s+taste|\boptional|\bfor\s+(?:the\s+)?(?:dusting|serving|garnish|topping|sprinkling|greasing|rolling|brushing|pan)|\bas\s+needed",
    re.IGNORECASE,
)


def _tail(lines: list[Line], region: _Region, named: Callable[[Line], bool]) -> None:
    """Let a list take in the last lines without amounts ("salt and pepper") that stand before the method."""
    last, k = region.last, region.last + 1
    while k < region.tail and k - region.last < 12:
        line = lines[k]
        if line.role == "skip" or not _short(line):
            k += 1
            continue
        if named(line) or _TASTE.search(line.text) or (not line.gap and k == last + 1 and len(lines) <= _PAGE):
            last = k
        k += 1
    region.last = max(region.last, last)


def _ingredients_in(
    lines: list[Line], region: _Region, named: Callable[[Line], bool]
) -> tuple[int, int, frozenset[str]]:
    """How many lines of a region open with an amount, how many of these name an ingredient, and their texts."""
    amounts = [line for line in lines[region.first : region.last + 1] if line.amount]
    good = [line for line in amounts if named(line) and not _NUTRIENT.search(line.text)]
    return len(amounts), len(good), frozenset(re.sub(r"\W+", " ", line.text.lower()).strip() for line in good)


def _of_page(lines: list[Line], regions: list[_Region], named: Callable[[Line], bool]) -> list[_Region]:
    """The regions of a page that are recipes: not nutrition, equipment, shopping or a reader's comment, and each only once."""
    scored = [(region, *_ingredients_in(lines, region, named)) for region in regions]
    scored = [row for row in scored if row[2] >= 2 and row[2] * 2 >= row[1]]
    if not scored:
        return [region for region in regions if region.headed and region.closed][:1]
    best = max(
        scored,
        key=lambda row: (row[0].headed and row[0].closed, row[0].closed, row[0].headed, min(row[2], 6), row[0].first),
    )
    talk = next(
        (k for k in range(best[0].last, len(lines)) if len(lines[k].text) < 60 and _COMMENTS.fullmatch(lines[k].text)),
        len(lines),
    )
    kept: list[tuple[_Region, frozenset[str]]] = []
    for region, _, good, texts in scored:
        if region is not best[0]:
            if region.first > talk and not (region.headed and region.closed):
                continue
            if not region.headed and not region.closed and best[0].headed and not _continues(lines, best[0], region):
                continue
            if good < 3 and not region.closed and not region.headed:
                continue
            shared = len(texts & best[3]) / max(1, min(len(texts), len(best[3])))
            if shared > 0.4:
                continue
        kept.append((region, texts))
    return [region for region, _ in kept]


def _continues(lines: list[Line], best: _Region, region: _Region) -> bool:
    """Whether a region goes on where the best one ended (a further group of the same list)."""
    return best.last < region.first <= best.last + 8


def _instruction_with_amount(content: str) -> bool:
    return (
        len(content) > 120
        and len(_SENTENCE.findall(content)) > 1
        and bool(re.search(r"\b(?:add|mix|stir|bake|pour|beat)\b", content, re.IGNORECASE))
    )


def _heading_like(line: Line, following: Line | None, named: Callable[[Line], bool]) -> bool:
    """Whether a line without an amount, inside a list, names a group."""
    content = line.text.strip()
    words = _WORD.findall(content.lower())
    if not words or len(content) > 70:
        return False
    if content.endswith(":") or re.match(r"(?:for|to make)\s+(?:the|a)\b", content, re.IGNORECASE):
        return following is not None
    if content.endswith(("-", "–", "—")) and len(words) < 6:
        return True
    if (
        following is None
        or "," in content
        or re.search(
            r"\bto taste|for\s+(?:dusting|serving|garnish|topping|sprinkling|greasing|rolling|brushing)|\boptional\b",
            content,
            re.IGNORECASE,
        )
    ):
        return False
    part = bool(_PART_WORDS.intersection(words))
    if content.isupper() and len(words) < 7 and following.amount:
        return True
    if part and following.amount and (line.gap or not named(line)):
        return words[-1] in _PART_WORDS or words[-1] in ("ingredients", "mixture", "choose", "of") or line.gap
    return line.gap and following.amount and not named(line)


def _groups(layout: Layout, lines: list[Line], named: Callable[[Line], bool], text: str) -> None:
    """Split a region's lines into ingredient lines and the headings over them."""
    heading: Line | None = None
    first = len(layout.listed)
    for k, line in enumerate(lines):
        if line.role == "skip":
            continue
        following = next((other for other in lines[k + 1 :] if other.role != "skip"), None)
        if not line.amount and _heading_like(line, following, named):
            if len(layout.listed) > first:
                layout.groups.append((heading, first, len(layout.listed)))
            heading, first = line, len(layout.listed)
            line.role = "heading"
            layout.headings.append(line)
            continue
        for cell in _cells(text, line):
            cell.role = "ingredient"
            layout.listed.append(cell)
    if len(layout.listed) > first:
        layout.groups.append((heading, first, len(layout.listed)))


def _title_of(lines: list[Line], upto: int, floor: int, counts: Counter[str]) -> tuple[str, int]:
    """The title above a list: the first line of a clean paste, on a page the line the page repeats."""
    above = [k for k in range(floor, upto) if 2 < len(lines[k].text) < 120 and not lines[k].amount]
    if not above:
        return "", upto
    if upto - floor <= 6:
        best = next((k for k in above if lines[k].role != "skip" and not _INGREDIENTS.match(lines[k].text)), above[0])
        return lines[best].text, best
    near = [
        k
        for k in above
        if lines[k].role != "skip"
        and not _END.match(lines[k].text)
        and not _INGREDIENTS.match(lines[k].text)
        and not _sentence(lines[k].text)
    ]
    best = max(
        near,
        key=lambda k: (
            min(counts[lines[k].text.lower()], 2) * 2
            + _dishy(lines[k].text) * 4
            - 3 * lines[k].bullet
            + lines[k].gap
            - (upto - k) / 60
        ),
        default=above[0],
    )
    return lines[best].text, best


_DISHY = re.compile(
    r"\b(?:cakes?|cookies?|bread|muffins?|scones?|biscuits?|pancakes?|waffles?|brownies?|bars?|pie|tart|rolls?|buns?|dough|cupcakes?|loaf|pudding|soup|salad|recipe|donuts?|doughnuts?|cobbler|cornbread|chicken|pasta|sauce|rice|crisp|fudge|candy|roulade|shortcakes?)\b",
    re.IGNORECASE,
)


def _dishy(content: str) -> bool:
    return bool(_DISHY.search(content)) and not content.endswith((".", "!", "?", ":"))


_PART_ONLY = re.compile(
    r"(?:for\s+(?:the\s+)?|to\s+make\s+(?:the\s+)?|the\s+)?(?:[\w'’-]+\s+){0,3}(?:frosting|icing|glaze|filling|topping|streusel|sauce|ganache|buttercream|syrup|drizzle|crumble|garnish|whipped cream|crust)s?\s*:?\s*$",
    re.IGNORECASE,
)


def lay_out(text: str, named: Callable[[Line], bool] = lambda line: False) -> list[Layout]:
    """Every recipe's layout in the paste, in order.

    text: the paste. named: tells whether a line without an amount is itself an ingredient's name.
    A paste without any list gives one layout with ``prose`` set. Never raises.
    """
    lines = lines_of(text)
    if not lines:
        return []
    _mark(text, lines)
    if len(lines) > 5 and lines[0].amount and lines[1].gap and not _WITH_UNIT.match(lines[0].text):
        lines[0].amount = False
    regions = _regions(lines)
    if len(lines) > _PAGE:
        regions = _of_page(lines, regions, named)
    for region in regions:
        _tail(lines, region, named)
    if not regions:
        return [_prose(text, lines)]
    counts = Counter(line.text.lower() for line in lines)
    layouts: list[Layout] = []
    floor = 0
    for number, region in enumerate(regions):
        first = region.first
        if not region.headed:
            top = first
            while (
                top - 1 > floor
                and _short(lines[top - 1])
                and first - top < 3
                and lines[top - 1].role != "skip"
                and not _METHOD.match(lines[top - 1].text)
            ):
                top -= 1
            first = top if first - top < 3 or floor == 0 else first
            if first == 0 or (floor == 0 and first > 0 and first == region.first and False):
                first = region.first
        title, title_at = _title_of(lines, first - (1 if region.headed else 0), floor, counts)
        if title_at == first and not region.headed and first < region.first:
            first += 1
        own = lines[first : region.last + 1]
        following = (
            regions[number + 1].first - (1 if regions[number + 1].headed else 0)
            if number + 1 < len(regions)
            else len(lines)
        )
        previous = layouts[-1] if layouts else None
        extends = previous is not None and (
            not previous.method
            or _PART_ONLY.match(lines[max(first - 1, 0)].text)
            or (own and _PART_ONLY.match(own[0].text)) is not None
            and bool(own and _PART_ONLY.match(own[0].text))
        )
        if previous is not None and extends:
            layout = previous
        else:
            layout = Layout(title, lines[title_at].start if title_at < len(lines) else own[0].start, own[-1].end)
            layouts.append(layout)
        _groups(layout, own, named, text)
        _method(layout, lines, region.last + 1, following)
        floor = region.last + 1
    return [layout for layout in layouts if layout.listed] or [_prose(text, lines)]


def _method(layout: Layout, lines: list[Line], first: int, stop: int) -> None:
    """Mark the method lines after a list, up to the page's furniture or the next recipe's title."""
    in_notes, headed, last = False, False, first - 1
    for k in range(first, stop):
        line = lines[k]
        if len(line.text) < 90 and _METHOD.match(line.text):
            in_notes, headed = False, True
            layout.end = line.end
            continue
        if len(line.text) < 70 and _END.match(line.text) and (headed or k > first):
            break
        if len(line.text) < 50 and _NOTES.match(line.text) and not _instruction(line.text):
            in_notes = True
            continue
        if line.role == "skip" and len(line.text) < 60:
            continue
        (layout.notes if in_notes else layout.method).append((line.start, line.end))
        layout.end = line.end
        last = k
    # the last short lines before the next recipe are its title
    if stop < len(lines):
        while (
            layout.method
            and last >= first
            and len(lines[last].text) < 70
            and not _instruction(lines[last].text)
            and lines[last].gap
            and (lines[last].start, lines[last].end) == layout.method[-1]
        ):
            layout.method.pop()
            last -= 1
        layout.end = max([layout.method[-1][1]] if layout.method else [layout.end if not layout.method else 0])


def _prose(text: str, lines: list[Line]) -> Layout:
    titled = (
        len(lines) > 1
        and len(lines[0].text) < 100
        and not _SENTENCE.search(lines[0].text.rstrip("."))
        and not lines[0].amount
    )
    title = lines[0].text if titled else ""
    body = lines[1:] if titled else lines
    layout = Layout(title, lines[0].start, lines[-1].end, prose=True)
    layout.method = [(line.start, line.end) for line in body]
    return layout
