"""Turn the labelled recipes (``corpus/labelled/*/*.rec``) into text and brat standoff (``corpus/recipes``).

A ``.rec`` file is a header (``key: value`` lines), a line ``---`` and the recipe with labels in it::

    ⟦A 3/2 cup|1½ cups⟧               Amount: quantity (or low..high), canonical unit, then x2 (count), ~ (approximate)
    ⟦N|unsalted butter⟧                Name
    ⟦I fat batter same|...⟧            Ingredient round its A and N: role, part, expected move; then "shared" where
                                       it takes the amount of the ingredient before it ("1 tsp each salt and soda")
    ⟦P flour 1/2 share|half the flour⟧ Portion: head word, quantity, unit or "share"; then remaining or restated
    ⟦H 350F oven bake g1|350°F⟧        Heat: figure, place, purpose; twins share a group number
    ⟦T 30..35 bake|30 to 35 minutes⟧   Time in minutes and what it times
    ⟦S frosting confection|Icing⟧      part heading: part and its own kind
    ⟦R cookie|Ginger Snaps⟧            title of one recipe, needed where a paste holds several

A quantity without a figure is ``?``, a missing unit ``-``. Heat figures: 350F, 180C, 160Cfan, gas4, 350Fword.

>>> text, spans = parse("⟦I sugar batter down|⟦A 3/2 cup|1½ cups⟧ ⟦N|sugar⟧⟧, sifted")
>>> text, [(span.label, span.args, text[span.start : span.end]) for span in spans][1]
('1½ cups sugar, sifted', ('Amount', ('3/2', 'cup'), '1½ cups'))
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).parent
LABELLED, RECIPES = HERE / "labelled", HERE / "recipes"
SPLITS = ("test", "train")
OPEN, CLOSE = "⟦", "⟧"


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


KINDS = _words(
    "shortened-cake foam-cake quick-bread cookie griddle lean-yeast rich-yeast pastry steam-raised custard fried-dough"
    " confection savoury uncooked"
)
UNCORRECTED = _words("pastry steam-raised custard confection savoury uncooked")
ROLES = _words("flour starch sugar syrup liquid thick-liquid leavener self-rising yeast egg fat salt cocoa other")
PARTS = _words("batter topping frosting filling dusting bloom serving dish")
UNITS = _words(
    "cup tbsp tsp ml l g kg oz lb floz pint quart gill gal stick pinch dash packet can clove slice each -"
    " teacup coffee-cup wineglass saltspoon dessertspoon tumbler jigger egg-size walnut-size nut-size knob pat"
    " yeast-cake square handful drop"
)
MOVES = _words("up down same either")
RISES, FALLS = frozenset({"liquid", "thick-liquid"}), frozenset({"sugar", "leavener", "yeast"})
PLACES = _words("oven oil syrup food water pan room")
LABELS = {
    "A": "Amount",
    "N": "Name",
    "I": "Ingredient",
    "P": "Portion",
    "H": "Heat",
    "T": "Time",
    "S": "Heading",
    "R": "Recipe",
}
FIELDS = {
    "Amount": ("Quantity", "Unit"),
    "Name": (),
    "Ingredient": ("Role", "Part", "Move"),
    "Portion": ("Of", "Quantity", "Unit"),
    "Heat": ("Figure", "Place", "Purpose"),
    "Time": ("Minutes", "Times"),
    "Heading": ("Part", "Kind"),
    "Recipe": ("Kind",),
}
EXTRAS = {
    "Amount": ((r"x\d+(/\d+)?", "Count"), ("~", "Approximate")),
    "Ingredient": (("shared", "Shared"),),
    "Portion": (("remaining|restated", "Manner"),),
    "Heat": ((r"g\d+", "Group"),),
}
NUMBER = r"\d+(?:\.\d+)?(?:/\d+)?"
QUANTITY = re.compile(rf"\?|{NUMBER}(\.\.{NUMBER})?")
FIGURE = re.compile(r"\d+(\.\.\d+)?[FC](fan|word)?|gas\d+(/\d+)?(\.\.\d+)?")
WORD = re.compile(r"[a-z][a-z0-9-]*")


@dataclass(frozen=True, slots=True)
class Span:
    """One label: its long name, the words of its header, and its place in the plain text."""

    label: str
    args: tuple[str, ...]
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Document:
    """One labelled recipe, or several in one paste: header, plain text, labels in reading order."""

    header: dict[str, str]
    text: str
    spans: tuple[Span, ...]

    @property
    def kinds(self) -> tuple[str, ...]:
        """Kind of bake of each recipe in the paste, in order."""
        return tuple(re.split(r"\s*;\s*", self.header.get("kinds") or self.header.get("kind", "")))


def parse(marked: str) -> tuple[str, tuple[Span, ...]]:
    """Strip the labels from a marked text: the plain text, and the labels with offsets into it (outer before inner).

    Raises ValueError for an unclosed, unopened or unknown label.
    """
    out: list[str] = []
    length, place = 0, 0
    stack: list[tuple[int, str, tuple[str, ...], int]] = []
    spans: list[tuple[int, Span]] = []
    for match in re.finditer(rf"{OPEN}([A-Z])( [^|{OPEN}{CLOSE}\n]*)?\||{CLOSE}|{OPEN}", marked):
        out.append(marked[place : match.start()])
        length += match.start() - place
        place = match.end()
        if match[1]:
            if match[1] not in LABELS:
                raise ValueError(f"unknown label {match[0]!r}")
            order = len(spans) + len(stack)
            stack.append((order, LABELS[match[1]], tuple((match[2] or "").split()), length))
        elif match[0] == OPEN or not stack:
            raise ValueError(f"stray {match[0]} near {marked[max(0, match.start() - 30) : match.end() + 30]!r}")
        else:
            order, label, args, start = stack.pop()
            spans.append((order, Span(label, args, start, length)))
    if stack:
        raise ValueError(f"{len(stack)} label(s) never closed, the last one {stack[-1][1:3]}")
    out.append(marked[place:])
    return "".join(out), tuple(span for _, span in sorted(spans, key=lambda pair: (pair[1].start, pair[0])))


def read(source: str) -> Document:
    """Read one ``.rec``; raises ValueError where header or labels are not well formed."""
    head, rule, body = source.partition("\n---\n")
    if not rule:
        raise ValueError("no line '---' after the header")
    header = dict(re.split(r":\s*", line.strip(), maxsplit=1) for line in head.splitlines() if line.strip())
    return Document(header, *parse(body))


def load(path: Path) -> Document:
    """Read one ``.rec`` file, its line ends as they are."""
    return read(path.read_bytes().decode("utf-8"))


def attributes(span: Span) -> Iterator[tuple[str, str]]:
    """Name and value of each attribute of a label; raises ValueError where one is not legal."""
    fields, args = FIELDS[span.label], list(span.args)
    if len(args) < len(fields):
        raise ValueError(f"{span.label} needs {' '.join(fields)}, has {' '.join(args)!r}")
    for name, value in zip(fields, args, strict=False):
        if not LEGAL[name](value):
            raise ValueError(f"{span.label}: {value!r} is no {name}")
        yield name, value
    for value in args[len(fields) :]:
        names = [name for pattern, name in EXTRAS.get(span.label, ()) if re.fullmatch(pattern, value)]
        if not names:
            raise ValueError(f"{span.label}: {value!r} is not known")
        yield names[0], value.removeprefix("x") if names[0] == "Count" else value.lstrip("~") or "yes"


def _quantity(value: str) -> bool:
    if not QUANTITY.fullmatch(value):
        return False
    figures = [Fraction(part) if "/" not in part else _ratio(part) for part in value.split("..") if part != "?"]
    return all(figure > 0 for figure in figures) and figures == sorted(figures)


def _ratio(part: str) -> Fraction:
    over, under = part.split("/")
    return Fraction(over) / Fraction(under)


LEGAL: dict[str, Callable[[str], bool]] = {
    "Quantity": _quantity,
    "Minutes": _quantity,
    "Unit": (UNITS | {"share"}).__contains__,
    "Role": ROLES.__contains__,
    "Part": PARTS.__contains__,
    "Move": MOVES.__contains__,
    "Kind": KINDS.__contains__,
    "Place": PLACES.__contains__,
    "Figure": lambda value: bool(FIGURE.fullmatch(value)),
    "Purpose": lambda value: bool(WORD.fullmatch(value)),
    "Times": lambda value: bool(WORD.fullmatch(value)),
    "Of": lambda value: bool(WORD.fullmatch(value.lower())),
}


def faults(doc: Document, name: str, split: str) -> Iterator[str]:
    """What is wrong with a labelled recipe: header, legal words, nesting, moves that no part or role can have."""
    if doc.header.get("id") != name or doc.header.get("split") != split:
        yield f"header id/split {doc.header.get('id')!r}/{doc.header.get('split')!r} differ from the file's place"
    if not doc.header.get("style") or not set(doc.kinds) <= KINDS:
        yield f"style missing, or kinds {doc.kinds} not legal"
    titles = tuple(span.args[0] for span in doc.spans if span.label == "Recipe" and span.args)
    if titles and titles != doc.kinds:
        yield f"titles say {titles}, the header {doc.kinds}"
    if len(doc.kinds) > 1 and not titles:
        yield "several recipes need their titles labelled"
    if not any(span.label == "Ingredient" for span in doc.spans):
        yield "no ingredient"
    for index, span in enumerate(doc.spans):
        words = doc.text[span.start : span.end]
        if words != words.strip() or not words:
            yield f"{span.label} {words!r} is empty or has space round it"
        try:
            list(attributes(span))
        except ValueError as error:
            yield f"{error} ({words!r})"
        else:
            yield from _nesting(doc, index, words)


def _nesting(doc: Document, index: int, words: str) -> Iterator[str]:
    span, later = doc.spans[index], doc.spans[index + 1 :]
    holds = [other.label for other in later if other.end <= span.end]
    if span.label == "Ingredient":
        _, part, move = span.args[:3]
        if holds.count("Name") != 1 or not set(holds) <= {"Name", "Amount", "Heat", "Time"}:
            yield f"Ingredient {words!r} must hold one name, amounts, heats and times only; holds {holds}"
        yield from _move(span.args[0], part, move, words)
        if set(doc.kinds) <= UNCORRECTED and part == "batter" and not _corrected_heading(doc):
            yield f"Ingredient {words!r}: in a kind that is never corrected the part is dish"
    elif span.label in {"Amount", "Name"} and not any(
        other.label == "Ingredient" and other.start <= span.start and span.end <= other.end
        for other in doc.spans[:index]
    ):
        yield f"{span.label} {words!r} stands outside an ingredient"
    elif span.label != "Recipe" and holds:
        yield f"{span.label} {words!r} may hold no other label"


def _corrected_heading(doc: Document) -> bool:
    return any(span.label == "Heading" and span.args[1] not in UNCORRECTED for span in doc.spans)


def _move(role: str, part: str, move: str, words: str) -> Iterator[str]:
    if part != "batter" and move != "same":
        yield f"Ingredient {words!r}: only batter moves"
    if (move == "up" and role not in RISES) or (move == "down" and role not in FALLS):
        yield f"Ingredient {words!r}: {role} never goes {move}"


def standoff(doc: Document) -> str:
    """The labels in brat's standoff format: T lines, their A lines, header in # notes (brat manual)."""
    lines: list[str] = []
    spans = doc.spans if any(span.label == "Recipe" for span in doc.spans) else (_whole(doc), *doc.spans)
    marks = 0
    for number, span in enumerate(spans, 1):
        pieces = list(re.finditer(r"[^\r\n]+", doc.text[span.start : span.end]))
        places = ";".join(f"{span.start + piece.start()} {span.start + piece.end()}" for piece in pieces)
        lines.append(f"T{number}\t{span.label} {places}\t{' '.join(piece[0] for piece in pieces)}")
        for name, value in attributes(span):
            marks += 1
            lines.append(f"A{marks}\t{name} T{number} {value}")
    first = next(number for number, span in enumerate(spans, 1) if span.label == "Recipe")
    notes = (f"{key}: {value}" for key, value in doc.header.items() if key not in {"kind", "kinds"})
    lines += [f"#{number}\tAnnotatorNotes T{first}\t{note}" for number, note in enumerate(notes, 1)]
    return "\n".join(lines) + "\n"


def _whole(doc: Document) -> Span:
    first = re.search(r"\S(?:[^\r\n]*\S)?", doc.text)
    if first is None:
        raise ValueError("the recipe is empty")
    return Span("Recipe", doc.kinds[:1], first.start(), first.end())


def outputs() -> tuple[dict[Path, str], list[str]]:
    """Every file that belongs in ``corpus/recipes``, and every fault found on the way."""
    files: dict[Path, str] = {}
    wrong: list[str] = []
    for path in sorted(path for split in SPLITS for path in (LABELLED / split).glob("*.rec")):
        try:
            doc = load(path)
            found = list(faults(doc, path.stem, path.parent.name))
            if not found:
                place = RECIPES / path.parent.name / path.stem
                files[place.with_name(place.name + ".txt")] = doc.text
                files[place.with_name(place.name + ".ann")] = standoff(doc)
        except ValueError as error:
            found = [str(error)]
        wrong += [f"{path.parent.name}/{path.name}: {fault}" for fault in found]
    return files, wrong


def main(arguments: list[str]) -> int:
    """Write the outputs; with ``--check`` only compare them. 0 well, 1 where something is at fault or out of date."""
    files, wrong = outputs()
    if "--check" in arguments:
        wrong += [
            f"{path.relative_to(HERE)}: out of date"
            for path, text in files.items()
            if not path.exists() or path.read_bytes().decode("utf-8") != text
        ]
        kept = (path for split in SPLITS for path in (RECIPES / split).glob("*.*"))
        wrong += [f"{path.relative_to(HERE)}: has no .rec" for path in sorted(set(kept) - set(files))]
    else:
        for path, text in files.items():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode("utf-8"))
    for fault in wrong:
        sys.stderr.write(fault + "\n")
    sys.stdout.write(f"{len(files) // 2} recipes, {len(wrong)} faults\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
