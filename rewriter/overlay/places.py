"""Where each label goes: as near its amount as print leaves room, and never on print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from rewriter.overlay.frame import Frame, Rect, Row
from rewriter.overlay.ink import Ink
from rewriter.overlay.labels import Label

SIZES = (1.0, 0.88, 0.76)  # of the print's own size
LARGEST, SMALLEST = 12.0, 7.0
NEAR = 40.0  # a label nearer than this to the end of a line beside it would be taken for that line's
EDGE = 4.0  # points left free at the page's edge
GAP = 4.0  # between print and a label beside it
CROSSED = 0.04  # of a leader may cross print; where it would be more, the amount is underlined alone
MARGIN = 6.0  # added margin beside a page that has none: free of its edge by this much
Segment = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Placed:
    """A label on the straight page: its box, type size, and leader. way: above, below, left, right or margin."""

    label: Label
    box: Rect
    size: float
    leader: tuple[Segment, ...]
    way: str


def placed(
    labels: Sequence[Label], widths: Sequence[float], frame: Frame, ink: Ink, lines: Sequence[Row]
) -> list[Placed]:
    """A place for every label of a page.

    widths: of each label at one point of type size, so that a label takes ``widths[i] * size`` by 1.2 ``size``. Where
    the page has no room beside a line, the label goes into a margin that is added to the page.
    """
    out: list[Placed] = []
    taken: list[Rect] = []
    for label, width in sorted(zip(labels, widths, strict=True), key=lambda pair: _order(pair[0])):
        one = _place(label, width, frame, ink, taken, lines)
        taken.append(one.box)
        out.append(one)
    return out


def _order(label: Label) -> tuple[float, float]:
    return label.row.rect.middle, label.about.x0


def _place(label: Label, width: float, frame: Frame, ink: Ink, taken: list[Rect], lines: Sequence[Row]) -> Placed:
    tall = median(rect.y1 - rect.y0 for _, rect in label.row.words)
    base = min(max(min(0.82 * tall, 0.72 * _pitch(label.row, lines)), SMALLEST), LARGEST)
    sizes = list(dict.fromkeys(max(base * share, SMALLEST) for share in SIZES))
    nearest = [(size, one) for size in sizes for one in _nearest(label, width * size, 1.2 * size)]
    others = [(size, one) for size in sizes for one in _beside(label, width * size, 1.2 * size, frame, ink)]
    sheet = Rect(EDGE, EDGE, frame.width - EDGE, frame.height - EDGE)
    for size, (way, box) in (*nearest, *others):
        free = sheet.holds(box) and ink.bare(box) and not any(box.meets(other, 1.5) for other in taken)
        if free and _apart(box, label.row, lines):
            return Placed(label, box, size, _leader(label, box, way, ink), way)
    return _in_added_margin(label, width * base, base, frame, ink, taken)


def _pitch(row: Row, lines: Sequence[Row]) -> float:
    """From a line of print to the next above or below it."""
    over = [one.rect for one in lines if one.rect.x0 < row.rect.x1 and row.rect.x0 < one.rect.x1]
    steps = [abs(rect.middle - row.rect.middle) for rect in over]
    return min((step for step in steps if step > 2), default=100.0)


def _apart(box: Rect, own: Row, lines: Sequence[Row]) -> bool:
    """Whether a label cannot be taken for one of another line: it stands beside none."""
    for line in lines:
        beside = min(box.y1, line.rect.y1) - max(box.y0, line.rect.y0) > 0.3 * (box.y1 - box.y0)
        near = box.x0 < line.rect.x1 + NEAR and line.rect.x0 < box.x1 + NEAR
        if line.rect != own.rect and beside and near:
            return False
    return True


def _nearest(label: Label, wide: float, high: float) -> Iterator[tuple[str, Rect]]:
    """Boxes right above the amount, or for a line of its own right below the line it follows."""
    row = label.row.rect
    if label.below:
        yield from _around("below", row.x0, row.y1, wide, high)
    else:
        yield from _around("above", label.about.x0, row.y0 - high, wide, high)


def _beside(label: Label, wide: float, high: float, frame: Frame, ink: Ink) -> Iterator[tuple[str, Rect]]:
    """Boxes after the line and before it, near first; then further off; then below the amount."""
    row = label.row.rect
    left = Rect(row.x0 - 2 * GAP - wide, row.middle - high / 2, row.x0 - 2 * GAP, row.middle + high / 2)
    right = Rect(row.x1 + 2 * GAP, left.y0, row.x1 + 2 * GAP + wide, left.y1)
    for way, box in (("right", right),) if label.below else (("right", right), ("left", left)):
        for step in (0.0, 0.2, -0.2, 0.4, -0.4):
            yield way, Rect(box.x0, box.y0 + step * high, box.x1, box.y1 + step * high)
    # further off, as long as nothing is printed between the line and the label
    for far in range(1, 40):
        box = Rect(right.x0 + 6 * far, right.y0, right.x1 + 6 * far, right.y1)
        if box.x1 > frame.width - EDGE or not ink.bare(Rect(row.x1 + GAP, row.y0 + 1, box.x0, row.y1 - 1)):
            break
        yield "right", box
    if not label.below:
        yield from _around("below", label.about.x0, row.y1, wide, high)


def begins(label: Label) -> bool:
    """Whether a label's amount begins its line."""
    return label.about.x0 - label.row.rect.x0 < 0.5 * (label.about.y1 - label.about.y0)


def _around(way: str, x: float, y: float, wide: float, high: float) -> Iterator[tuple[str, Rect]]:
    """Boxes near a corner, moved a little sideways and up and down; half of each stays over its corner's right."""
    for down in (0.0, -0.12, 0.12, 0.25) if way == "below" else (0.0, -0.12, 0.12, -0.25, -0.4, -0.55):
        for aside in (0.0, 8.0, -0.25 * wide, -0.5 * wide):
            left, top = x + aside, y + down * high
            yield way, Rect(left, top, left + wide, top + high)


def _in_added_margin(label: Label, wide: float, size: float, frame: Frame, ink: Ink, taken: list[Rect]) -> Placed:
    """Beside the page, left or right, on the side with the less print between; over the edge where none is."""
    row = label.row.rect
    rest_left = ink.share(Rect(0, row.y0 + 1, row.x0 - GAP, row.y1 - 1))
    rest_right = ink.share(Rect(row.x1 + GAP, row.y0 + 1, frame.width, row.y1 - 1))
    to_left = rest_left < rest_right
    if to_left:
        x0 = (row.x0 - 2 * GAP if rest_left == 0 else -MARGIN) - wide
    else:
        x0 = row.x1 + 2 * GAP if rest_right == 0 else frame.width + MARGIN
    high = 1.2 * size
    box = Rect(x0, row.middle - high / 2, x0 + wide, row.middle + high / 2)
    while (other := next((one for one in taken if box.meets(one, 1.0)), None)) is not None:
        x0 = other.x0 - 2 * GAP - wide if to_left else other.x1 + 2 * GAP
        box = Rect(x0, box.y0, x0 + wide, box.y1)
    return Placed(label, box, size, _leader(label, box, "left" if to_left else "right", ink), "margin")


def _leader(label: Label, box: Rect, way: str, ink: Ink) -> tuple[Segment, ...]:
    """A fine line from a label to its amount: under the amount, then along the gap between two lines of print.

    It runs under the label, not beside it, where it would be taken for a minus. Where a line of print holds nothing
    else that a label could be about, one to that line is enough.
    """
    about, row, foot = label.about, label.row.rect, box.y1
    if way == "below" and label.below:
        return ()
    if way in ("above", "below"):
        y = min(about.y0, box.y1) if way == "above" else max(about.y1, box.y0)
        return ((min(box.x0, about.x0), y, max(box.x1, about.x1) if box.x0 > about.x1 else about.x1, y),)
    if way == "left" and begins(label):
        return ((box.x0, foot, about.x0 - 1.5, foot),)
    if way == "right" and (begins(label) or label.below or row.x1 - about.x1 < 1):
        return ((row.x1 + 2, foot, box.x1, foot),)
    beside, end = (box.x0, box.x1) if way == "right" else (box.x1, box.x0)
    bend = row.x1 + GAP if way == "right" else row.x0 - GAP
    near = about.x0 if way == "right" else about.x1
    y, crossed = _gap_below(about, min(near, bend), max(near, bend), ink)
    under = (bend, foot, beside, foot), (beside, foot, end, foot)
    if crossed <= CROSSED:
        return ((near, y, bend, y), (bend, y, beside, foot), under[1])
    y, _ = _gap_below(about, about.x0, about.x1, ink)
    return ((about.x0, y, about.x1, y), *under)


def _gap_below(about: Rect, x0: float, x1: float, ink: Ink) -> tuple[float, float]:
    """The height at which a line below some words crosses the least print, and how much of the line it crosses."""
    tall = about.y1 - about.y0
    tries = [about.y1 + tall * step / 20 for step in range(-4, 5)]
    shares = [(round(ink.share(Rect(x0, y - 0.5, x1, y + 0.5)), 3), abs(y - about.y1), y) for y in tries]
    crossed, _, y = min(shares)
    return y, crossed
