r"""Where things stand in a paste: title, headings, ingredient lines, method, notes, and the clutter around them.

A paste becomes lines (:mod:`rows`); runs of lines that measure ingredients are lists (:mod:`regions`), of a page
only those that are recipes (:mod:`pages`); above a list stands its title (:mod:`titles`), below it the method, up to
the next list or the page's own furniture. A paste without a list is read as running prose.

>>> found = lay_out("Scones\n\nIngredients\n2 cups flour\n1 cup milk\n\nMethod\nMix. Bake.\n")
>>> found[0].title, [line.text for line in found[0].listed], found[0].prose
('Scones', ['2 cups flour', '1 cup milk'], False)
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from functools import cache
from itertools import pairwise

from rewriter.reading.beside import second_column
from rewriter.reading.headings import (
    BATTER_WORDS,
    LABEL,
    PART_ONLY,
    PART_WORDS,
    group_heading,
    instruction,
    mark,
    short,
)
from rewriter.reading.measures import find_amounts
from rewriter.reading.namesfirst import card_title
from rewriter.reading.pages import is_page, of_page, without_repeats
from rewriter.reading.regions import Region, drop_head, find_regions, take_tail
from rewriter.reading.rows import Line, Named, lines_of
from rewriter.reading.titles import capitals, dishy, possible, prose_title, title_above, word_lines


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


def _unnamed(_: Line) -> bool:
    return False


def lay_out(text: str, named: Named = _unnamed) -> list[Layout]:
    """Every recipe's layout in the paste, in order.

    text: the paste. named: tells whether a line (or a part of one) names an ingredient.
    A paste without any list gives layouts with ``prose`` set. Never raises.
    """
    lines = lines_of(text)
    if not lines:
        return []
    find_amounts(text, lines, named)
    mark(lines)
    page = is_page(text, len(lines))
    regions = find_regions(lines)
    regions = of_page(lines, regions, named) if page else without_repeats(lines, regions, named)
    for region in regions:
        drop_head(lines, region, named)
        take_tail(lines, region, named)
    layouts = _Reader(lines, regions, named, page).read()
    if not layouts:
        return _prose(lines)
    return layouts if page else _cards_within(lines, _beside(lines, layouts))


class _Reader:
    """Makes layouts of the lists of one paste."""

    def __init__(self, lines: list[Line], regions: list[Region], named: Named, page: bool) -> None:
        self.lines, self.regions, self.named = lines, regions, named
        self.counts = cache(lambda: Counter([line.text.lower() for line in lines]))
        self.words = cache(lambda: word_lines(lines)) if page else None
        self.layouts: list[Layout] = []

    def read(self) -> list[Layout]:
        """The layouts, in order."""
        floor = 0
        for region in self.regions:
            low = self._after_method(floor, region.top) if self.layouts else 0
            title, at = title_above(self.lines, region.top, low, self.counts, self.words)
            if low > floor and not region.headed and self._stray(region, title):
                continue
            first = self._first(region, title, at if title else low - 1)
            previous = self.layouts[-1] if self.layouts else None
            if previous is not None:
                self._method(previous, floor, min(at, first))
            if previous is not None and self._extends(previous, title, first, low):
                layout = previous
            else:
                start = self.lines[at].start if title else self.lines[first].start
                layout = Layout(title, start, self.lines[region.last].end)
                self.layouts.append(layout)
            self._groups(layout, self.lines[first : region.last + 1], self.lines[first - 1] if first else None)
            floor = region.last + 1
        if self.layouts:
            self._method(self.layouts[-1], floor, len(self.lines))
            if not self.layouts[0].method:
                self._method_before(self.layouts[0])
        return [layout for layout in self.layouts if layout.listed]

    def _stray(self, region: Region, title: str) -> bool:
        """Whether a further list is no recipe's: it follows the method, untitled, with hardly an ingredient."""
        if not (dishy(title) or capitals(title) or PART_ONLY.match(title)):
            lines = self.lines[region.first : region.last + 1]
            return sum(line.amount and self.named(line) for line in lines) < 3 and any(map(self.named, self.lines))
        return False

    def _after_method(self, floor: int, stop: int) -> int:
        """The line after the last instruction (or the rule) between two lists: below it stands the second's head."""
        for k in range(stop - 1, floor - 1, -1):
            if self.lines[k].rule:
                return k
            if instruction(self.lines[k].text) and not capitals(self.lines[k].text):
                return k + 1
        return floor

    def _first(self, region: Region, title: str, above: int) -> int:
        """The list's own first line: a group's heading, or ingredients without an amount above the first amount."""
        first = region.first
        if region.headed:
            return first
        if title and PART_ONLY.match(title):
            above -= 1
        while first - 1 > above and region.first - first < 3:
            line, below = self.lines[first - 1], self.lines[first]
            if line.role == "skip" or not short(line) or line.kind:
                break
            if group_heading(line, below, self.named):
                return first - (line.text != title)
            if below.gap or not self.named(line) or len(line.text.split()) > 6:
                break
            first -= 1
        return first

    def _extends(self, previous: Layout, title: str, first: int, low: int) -> bool:
        """Whether a further list belongs to the recipe before it."""
        if not previous.method or not title:
            return True
        if self.lines[min(low, len(self.lines) - 1)].rule:
            return False
        return bool(PART_ONLY.match(title) or PART_ONLY.match(self.lines[first].text))

    def _groups(self, layout: Layout, lines: list[Line], above: Line | None) -> None:
        """Split a list's lines into ingredient lines and the headings over them."""
        shown = [line for line in lines if line.role != "skip"]
        over: Line | None = None
        first = len(layout.listed)
        shown, beside = second_column(shown, above)
        for k, line in enumerate(shown):
            following = shown[k + 1] if k + 1 < len(shown) else None
            if not line.amount and group_heading(line, following, self.named):
                if len(layout.listed) > first:
                    layout.groups.append((over, first, len(layout.listed)))
                over, first = line, len(layout.listed)
                line.role = "heading"
                layout.headings.append(line)
                continue
            label = LABEL.match(line.text) if line.cells else None
            if label and PART_WORDS.intersection(label["label"].lower().split()):
                self._labelled(layout, line, label, over, first)
                over, first = None, len(layout.listed)
                continue
            for cell in line.cells or [line]:
                cell.role = "ingredient"
                layout.listed.append(cell)
        if len(layout.listed) > first:
            layout.groups.append((over, first, len(layout.listed)))
        if beside:
            layout.headings.append(beside[0])
            layout.groups.append((beside[0], len(layout.listed), len(layout.listed) + len(beside) - 1))
            layout.listed += beside[1:]
        layout.end = max(layout.end, lines[-1].end)

    def _labelled(self, layout: Layout, line: Line, label: re.Match[str], over: Line | None, first: int) -> None:
        """A line that names its part and lists it ("Glaze: 1 cup sugar, 2 Tbsp milk"): a group of its own."""
        if len(layout.listed) > first:
            layout.groups.append((over, first, len(layout.listed)))
        heading = Line(line.start + label.start("label"), line.start + label.end("label"), label["label"], line.gap)
        heading.role = "heading"
        layout.headings.append(heading)
        start = len(layout.listed)
        for cell in line.cells:
            cell.role = "ingredient"
            layout.listed.append(cell)
        layout.groups.append((heading, start, len(layout.listed)))

    def _method(self, layout: Layout, first: int, stop: int) -> None:
        """Mark the method lines from a list's end to the page's furniture or the next recipe's title."""
        start = self._method_heading(first, stop)
        headed, in_notes, seen = start > first, False, False
        for line in self.lines[start:stop]:
            kind = line.kind
            if kind == "method":
                headed, in_notes, layout.end = True, False, line.end
            elif kind == "end" or (line.rule and seen):
                if seen or headed:
                    break
            elif kind == "notes" and len(line.text) < 50 and not instruction(line.text):
                in_notes = True
            elif line.role != "skip" or len(line.text) >= 60:
                (layout.notes if in_notes else layout.method).append((line.start, line.end))
                layout.end, seen = max(layout.end, line.end), True

    def _method_before(self, layout: Layout) -> None:
        """The method of a recipe that tells what to do before it lists the ingredients."""
        first = layout.listed[0].start if layout.listed else layout.end
        above = [line for line in self.lines if layout.start < line.start < first and line.role != "skip"]
        if any(line.kind == "method" for line in above):
            above = above[next(k for k, line in enumerate(above) if line.kind == "method") + 1 :]
        elif self.words is not None or not any(instruction(line.text) for line in above):
            return
        layout.method = [(line.start, line.end) for line in above if not line.kind and line.role != "heading"]

    def _method_heading(self, first: int, stop: int) -> int:
        """The line after the method's heading, where one stands soon after the list; else the line after the list."""
        for k in range(first, min(stop, first + 30)):
            if self.lines[k].kind == "method":
                return k + 1
            if instruction(self.lines[k].text):
                break
        return first


_MEASURE = re.compile(r"cup|spoon|pint|quart|ounce|pound|glass|\b(?:tbsp|tsp|eggs?|oz|lb|g|gill|c|t)\b", re.IGNORECASE)


def _measures(lines: list[Line]) -> int:
    return sum(len(_MEASURE.findall(line.text)) for line in lines)


def _prose(lines: list[Line]) -> list[Layout]:
    """A paste without a list: one recipe in running prose, or several, under titles in capitals or below rules."""
    starts = [0]
    for k in range(1, len(lines) - 1):
        line = lines[k]
        headline = len(line.text) < 100 and (line.rule or (line.gap and capitals(line.text))) and possible(line)
        if headline and not instruction(line.text) and _measures(lines[starts[-1] : k]) > 1:
            starts.append(k)
    sections = list(pairwise([*starts, len(lines)]))
    if len(sections) > 1 and _measures(lines[starts[-1] :]) < 2:
        sections[-2:] = [(sections[-2][0], len(lines))]
    return [_told(lines[first:last]) for first, last in sections]


def _told(lines: list[Line]) -> Layout:
    """One recipe in running prose."""
    title, body = prose_title(lines)
    layout = Layout(title, lines[max(body - 1, 0)].start, lines[-1].end, prose=True)
    layout.method = [(line.start, line.end) for line in lines[body:]]
    return layout


def _beside(lines: list[Line], layouts: list[Layout]) -> list[Layout]:
    """The layouts of the lists, and of recipes in running prose that stand between rules beside them."""
    rules = [k for k, line in enumerate(lines) if line.rule]
    found = list(layouts)
    for first, last in pairwise([*rules, len(lines)]):
        start, end = lines[first].start, lines[last - 1].end
        if last - first < 2 or any(layout.start < end and start < layout.end for layout in layouts):
            continue
        head = lines[first]
        if (
            possible(head)
            and short(head)
            and (dishy(head.text) or capitals(head.text))
            and _measures(lines[first + 1 : last]) > 2
        ):
            found.append(_told(lines[first:last]))
    return sorted(found, key=lambda layout: layout.start)


def _cards_within(lines: list[Line], layouts: list[Layout]) -> list[Layout]:
    """The layouts, with each card that stands in one line beside or below another recipe as a recipe of its own."""
    found = list(layouts)
    for k, line in enumerate(lines):
        if not line.gap or ":" not in line.text[:44] or line.text.count(",") < 3 or not _other_card(line):
            continue
        place = line.start, line.end
        over = next((one for one in found if place in one.method[1:]), None)
        stop = lines[-1].end
        if over is not None:
            at = over.method.index(place)
            stop = over.method[-1][1]
            over.method, over.end = over.method[:at], over.method[at - 1][1]
        elif any(one.start < line.end and line.start < one.end for one in found):
            continue
        stop = min([stop, *(one.start for one in found if one.start > line.start)])
        found.append(_told([other for other in lines[k:] if other.end <= stop]))
    return sorted(found, key=lambda layout: layout.start)


def _other_card(line: Line) -> bool:
    title = card_title(line.text)
    words = title.lower().split()
    return bool(words) and (words[-1] in BATTER_WORDS or (dishy(title) and PART_WORDS.isdisjoint(words)))


__all__ = ["Layout", "Line", "lay_out", "lines_of"]
