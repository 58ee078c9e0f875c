"""Tables in plain text, for standard output.

>>> print(table(("", "a"), [("flour", "2 cups")], right=(1,)))
           a
flour 2 cups
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text


def table(head: Sequence[str], rows: Iterable[Sequence[str]], right: Sequence[int] = ()) -> str:
    """Columns under their headings, as wide as they need; ``right``: the columns set to the right."""
    made = Table(box=None, pad_edge=False, padding=(0, 1, 0, 0), header_style=None, show_edge=False)
    for number, name in enumerate(head):
        made.add_column(Text(name), justify="right" if number in right else "left", no_wrap=True)
    for row in rows:
        made.add_row(*(Text(cell) for cell in row))
    out = io.StringIO()
    Console(file=out, width=400, color_system=None, legacy_windows=False).print(made)
    return "\n".join(line.rstrip() for line in out.getvalue().splitlines())
