"""html: one page that stands alone, with del and ins; each reason a link that keyboard and screen reader reach.

No script. The pasted text rides along in the closing comment, so that ``strip`` gives it back.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from importlib.resources import files

from rewriter.model import Change
from rewriter.writing.block import CAUTION, fitted
from rewriter.writing.carry import closed
from rewriter.writing.lines import line_end
from rewriter.writing.marks import placed
from rewriter.writing.notes import Notes, Section, notes
from rewriter.writing.registry import Job, style
from rewriter.writing.rows import few, flat, full


@style("html", suffix=".html")
def html(job: Job) -> str:
    """The page."""
    told = notes(job)
    title = next((flat(recipe.title) for recipe in job.recipes if recipe.title), "Recipe")
    css = (files("rewriter.writing.styled") / "page.css").read_text("utf-8")
    reasons = _reasons(job)
    front = "\n".join(
        [
            '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{escape(title)}: {escape(told.heading)}</title>",
            f"<style>\n{css}</style>\n</head>\n<body>\n<main>",
            f'<h1 class="unseen">{escape(title)}</h1>',
            f'<div class="recipe">{_body(job, told, reasons)}</div>',
            f'</main>\n<aside aria-labelledby="notes">\n<h2 id="notes">{escape(told.heading)}</h2>',
            *(line for section in told.sections for line in _section(section, job.explain, len(told.sections) > 1)),
            *_footnotes(reasons),
            *([f"<p>Sources: {escape('; '.join(told.sources))}.</p>"] if told.sources else []),
            "</aside>\n",
        ]
    )
    return closed(front, job.text)


def _reason(change: Change, explain: str) -> str:
    return full(change) if explain == "full" else few(change)


def _reasons(job: Job) -> dict[str, int]:
    """Each reason once, with its number."""
    said = dict.fromkeys(_reason(change, job.explain) for change in job.changes if change.step != "next")
    return {why: number for number, why in enumerate(filter(None, said), 1)}


def _body(job: Job, told: Notes, reasons: dict[str, int]) -> str:
    """The pasted text, escaped, with its changes."""
    end = line_end(job.text)
    pieces: list[tuple[int, int, str]] = []
    for index, change in enumerate(job.changes):
        if change.step != "next":
            link = _link(_reason(change, job.explain), index, reasons)
            pieces.append(_piece(job.text, change, link, end))
    for section in told.sections:
        pieces += [
            (
                asked.query.end,
                asked.query.end,
                f' <a class="why" href="#question-{asked.number}">question {asked.number}</a>',
            )
            for asked in section.asked
            if asked.query.end - asked.query.start > 0
        ]
    out, at = "", 0
    for start, stop, words in sorted(pieces, key=lambda piece: piece[:2]):
        out += escape(job.text[at : max(start, at)]) + words
        at = max(at, stop)
    return out + escape(job.text[at:])


def _link(why: str, index: int, reasons: dict[str, int]) -> str:
    number = reasons.get(why)
    if number is None:
        return ""
    return f'<a class="why" id="mark-{index}" href="#why-{number}" aria-label="why: {escape(why)}">{number}</a>'


def _piece(text: str, change: Change, link: str, end: str) -> tuple[int, int, str]:
    """The place a change takes, and its words."""
    new = escape(change.new)
    if change.step == "offer" or (change.direction == "note" and not change.addition):
        return change.end, change.end, f' <strong class="note">{"or " * (change.step == "offer")}{new}</strong>{link}'
    if change.addition or change.start == change.end:
        own_line = change.direction == "insert"
        at, mark = placed(text, change.end, "\0", own_line, end)
        added = f'<ins><span class="unseen">added: </span><b>{new}</b></ins>{link}'
        return at, at, escape(mark).replace("\0", added)
    was = f'<del><span class="unseen">was </span>{escape(change.old)}</del>'
    return change.start, change.end, f'{was}<ins> <span class="unseen">now </span><b>{new}</b></ins>{link}'


def _section(section: Section, explain: str, titled: bool) -> Iterator[str]:
    if titled:
        yield f"<h3>{escape(section.heading)}</h3>"
    yield from (f'<p class="caution" role="note">{CAUTION}{escape(text)}</p>' for text in section.cautions)
    yield from (f"<p>{escape(line)}</p>" for line in section.opening)
    shown = fitted(section, explain)
    if shown:
        heads = "".join(f'<th scope="col">{head}</th>' for head in ("What", "Was", "Now"))
        yield f"<table><thead><tr>{heads}</tr></thead><tbody>"
        yield from (
            f'<tr><th scope="row">{escape(row.name)}</th><td>{escape(row.old)}</td><td>{escape(row.new)}</td></tr>'
            for row, _ in shown
        )
        yield "</tbody></table>"
    for title, items in section.lists:
        yield f"<h3>{title}</h3><ul>{''.join(f'<li>{escape(item)}</li>' for item in items)}</ul>"
    if section.asked:
        yield "<h3>Questions</h3><ul>"
        yield from (f'<li id="question-{a.number}">Question {a.number}. {escape(a.text)}</li>' for a in section.asked)
        yield "</ul>"


def _footnotes(reasons: dict[str, int]) -> Iterator[str]:
    if reasons:
        yield "<h3>Why</h3><ol>"
        yield from (f'<li id="why-{number}">{escape(why)}</li>' for why, number in reasons.items())
        yield "</ol>"
