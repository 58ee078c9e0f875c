"""The block as plain lines."""

from __future__ import annotations

from collections.abc import Iterator

from rewriter.writing.notes import Notes, Section
from rewriter.writing.rows import Row
from rewriter.writing.seal import FIRST

CAUTION = "CAUTION: "


def plain(said: Notes, explain: str) -> Iterator[str]:
    """Notes as lines of plain text."""
    yield first_line(said)
    for section in said.sections:
        if len(said.sections) > 1:
            yield f"-- {section.heading} --"
        yield from _section(section, explain)
    if said.sources:
        yield f"Sources: {'; '.join(said.sources)}."


def first_line(said: Notes) -> str:
    """The line by which the block is known."""
    return f"{FIRST}{said.heading} ==="


def _section(section: Section, explain: str) -> Iterator[str]:
    yield from section.opening
    if section.rows:
        yield "Changed (was -> now):"
        yield from (f"  {row}" for row in table(section, explain))
    for title, items in section.lists:
        if len(items) == 1:
            yield f"{title}: {items[0]}"
        else:
            yield f"{title}:"
            yield from (f"  - {item}" for item in items)
    if section.asked:
        yield "Questions:"
        yield from (f"  {asked.number}. {asked.text}" for asked in section.asked)
    yield from (CAUTION + text for text in section.cautions)


def table(section: Section, explain: str) -> list[str]:
    """The rows in words, as far as they fit."""
    shown = [f"{row.name}: {row.move}" + (f" ({why})" if why else "") for row, why in fitted(section, explain)]
    if explain == "full":
        shown = [f"{row.name}: {row.move}: {row.full}" for row in section.rows]
    more = len(section.rows) - len(shown)
    return [*shown, f"and {more} more, marked above" if shown else "marked above"] if more else shown


def fitted(section: Section, explain: str) -> list[tuple[Row, str]]:
    """The rows of the table with their reasons: a third of the recipe's length at most, unless all is to be explained.

    A reason stands where it is given first, while there is room; rows that do not fit are left out (their marks stay).
    """
    if explain == "full":
        return [(row, row.full) for row in section.rows]
    room = section.length // 3
    kept: list[Row] = []
    for row in section.rows:
        room -= len(row.name) + len(row.move) + 5
        if room < 0:
            break
        kept.append(row)
    room = max(room, 0) if len(kept) == len(section.rows) else 0
    out, given = [], set[str]()
    for row in kept:
        fits = row.why not in given and len(row.why) + 3 <= room
        out.append((row, row.why if fits else ""))
        given.add(row.why)
        room -= len(row.why) + 3 if fits else 0
    return out
