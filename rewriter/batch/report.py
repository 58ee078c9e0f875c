"""The report of a batch: what needs a look, in Markdown, written as a stream.

First the counts, then what was set aside and why, then every recipe with open questions. A question is answered by
giving its id and the answer with the row ("answers": {"kind@0": "cookie"}) or to ``rewriter annotate --answer``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from types import TracebackType
from typing import IO, Any

ABOUT = {
    "kind": "what is baked",
    "role": "what an ingredient does",
    "part": "what an ingredient goes into",
    "unit": "which measure is meant",
    "quantity": "how much is meant",
    "heat": "what a temperature is of",
    "written-for": "for which elevation it was written",
    "edited": "annotations that were edited",
    "air": "where the kitchen is",
}


class Report:
    """Collects in two files of their own what needs a look, and joins them at the end."""

    def __init__(self, room: Path) -> None:
        self._paths = room / "aside.part", room / "asked.part"
        self.asides = self.asked = self.done = self.changed = self.twice = 0
        self._questions: Counter[str] = Counter()
        self._seen: set[int] = set()

    def __enter__(self) -> Report:
        """Open both files."""
        self._aside, self._asked = (path.open("w", encoding="utf-8", errors="backslashreplace") for path in self._paths)
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        """Close and remove both."""
        for file, path in zip((self._aside, self._asked), self._paths, strict=True):
            file.close()
            path.unlink()

    def add(self, outcome: dict[str, Any]) -> None:
        """Take note of one outcome."""
        self.done += 1
        name = hash(outcome["id"])  # eight bytes stand for an id
        again = name in self._seen
        self._seen.add(name)
        self.twice += again
        where = f"row {outcome['row']}, {_quoted(outcome['id'])}" + (", an id that stood before" if again else "")
        if "error" in outcome:
            self.asides += 1
            self._aside.write(f"- {where}: {_line(outcome['error'])}\n")
            return
        self.changed += bool(outcome["changes"])
        review, warnings = outcome["review"], outcome.get("warnings", ())
        if review or again or warnings:
            self.asked += bool(review or warnings)
            self._asked.write(f"\n### {_line(outcome['titles'][0] or 'Without a title')} ({where})\n\n")
        self._asked.writelines(f"- {_line(warning)}\n" for warning in warnings)
        for query in review:
            self._questions[query["id"].partition("@")[0]] += 1
            choices = f" ({_line(' / '.join(query['choices']))})" if query["choices"] else ""
            said = f" {_quoted(query['text'])}:" if query["text"] else ""
            self._asked.write(f"- `{query['id']}`:{said} {_line(query['question'])}{choices}\n")

    def write(self, path: Path, heading: str) -> None:
        """Write the report. heading: what was done, in a sentence."""
        with path.open("w", encoding="utf-8", errors="backslashreplace") as out:
            out.write(f"# What needs a look\n\n{heading}\n\n| | recipes |\n|---|---|\n")
            out.writelines(f"| {what} | {count} |\n" for what, count in self._counts())
            for title, part, any_there in (
                ("Set aside", self._aside, self.asides),
                ("Questions", self._asked, self.asked + self.twice),
            ):
                if any_there:
                    out.write(f"\n## {title}\n" + ("\n" if part is self._aside else ""))
                    part.flush()
                    _copy(self._paths[part is self._asked], out)

    def _counts(self) -> Iterable[tuple[str, int]]:
        yield "in all", self.done
        yield "with changes", self.changed
        yield "without any", self.done - self.changed - self.asides
        yield "with questions", self.asked
        yield "set aside", self.asides
        if self.twice:
            yield "under an id that stood before", self.twice
        for what, count in self._questions.most_common():
            yield f"questions about {ABOUT.get(what, what)}", count


def _copy(path: Path, out: IO[str]) -> None:
    with path.open(encoding="utf-8") as part:
        while block := part.read(1 << 16):
            out.write(block)


def _line(text: str) -> str:
    return " ".join(text.split())


def _quoted(text: str) -> str:
    """As code, so that what an id or a recipe holds is not taken for Markdown."""
    return f"`{_line(text).replace('`', chr(39))}`"
