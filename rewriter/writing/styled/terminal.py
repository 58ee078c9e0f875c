"""terminal: the inline style in colour, on a terminal that wants it; elsewhere (or with NO_COLOR) inline as it is."""

from __future__ import annotations

from rich.console import Console
from rich.style import Style

from rewriter.writing.block import CAUTION, plain
from rewriter.writing.marks import marks
from rewriter.writing.notes import notes
from rewriter.writing.registry import Job, style
from rewriter.writing.seal import sealed

NEW = Style.parse("bold green")
ASKED = Style.parse("bold yellow")
TITLE = Style.parse("bold cyan")
WARNED = Style.parse("bold red")


@style("terminal")
def terminal(job: Job) -> str:
    """The pasted text with coloured marks and block; ``strip`` gives it back as from inline."""
    console = Console()
    told = notes(job)
    plain_marks, lines = marks(job, told), list(plain(told, job.explain))
    if not console.is_terminal or console.no_color or console.color_system is None:
        return sealed(job.text, plain_marks, lines, "inline")
    coloured = [
        (offset, _painted(mark, ASKED if mark.lstrip().startswith("[!") else NEW)) for offset, mark in plain_marks
    ]
    return sealed(job.text, coloured, [_line(line, index) for index, line in enumerate(lines)], "terminal")


def _painted(words: str, how: Style) -> str:
    """Words in a colour; the space or line end around them stays plain."""
    inner = words.strip()
    return words.replace(inner, how.render(inner), 1)


def _line(line: str, index: int) -> str:
    if index == 0 or line.startswith("-- "):
        return _painted(line, TITLE)
    return _painted(line, WARNED) if line.startswith(CAUTION) else line
