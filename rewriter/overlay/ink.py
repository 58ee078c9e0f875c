"""What is printed where: a page's picture, set straight, as a map of its ink."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rewriter.overlay.frame import Frame, Rect

if TYPE_CHECKING:
    from numpy.typing import NDArray

SCALE = 2.0  # pixels for a point
CONTRAST = 20  # how much darker or lighter than its surroundings ink is, of 255
DARK = 105  # no label is put on ground darker than this
_AROUND = 9  # points on each side that make the surroundings


@dataclass(frozen=True)
class Ink:
    """Counts of inked pixels above and left of each point of the straight page."""

    sums: NDArray[Any]

    def share(self, rect: Rect) -> float:
        """How much of a rectangle is printed, from 0 to 1; what lies outside the page is bare."""
        high, wide = self.sums.shape[0] - 1, self.sums.shape[1] - 1
        x0, x1 = (round(min(max(x * SCALE, 0), wide)) for x in (rect.x0, rect.x1))
        y0, y1 = (round(min(max(y * SCALE, 0), high)) for y in (rect.y0, rect.y1))
        area = max((rect.x1 - rect.x0) * (rect.y1 - rect.y0) * SCALE**2, 1.0)
        return float(self.sums[y1, x1] - self.sums[y0, x1] - self.sums[y1, x0] + self.sums[y0, x0]) / area

    def bare(self, rect: Rect, most: float = 0.004) -> bool:
        """Whether nothing is printed in a rectangle."""
        return self.share(rect) <= most

    def bare_foot(self, height: float) -> float:
        """How many points at the foot of a page of this height are bare."""
        step = 2.0
        y = height
        while y > step and self.bare(Rect(0.0, y - step, self.sums.shape[1] / SCALE, y), 0.0):
            y -= step
        return height - y


def ink(picture: Any, frame: Frame) -> Ink:
    """The ink of a page from its picture: what is darker or lighter than its surroundings, and ground too dark.

    Surroundings are taken near by, so that a shadow across a photo is none.
    """
    import numpy
    from PIL import Image, ImageFilter

    size = (max(round(frame.width * SCALE), 1), max(round(frame.height * SCALE), 1))
    grey = picture.convert("L").resize(size, Image.Resampling.BOX)
    if frame.skew:
        paper = int(numpy.median(numpy.asarray(grey)))
        grey = grey.rotate(frame.skew, resample=Image.Resampling.BICUBIC, fillcolor=paper)
    near = grey.filter(ImageFilter.GaussianBlur(0.6))
    around = grey.filter(ImageFilter.BoxBlur(_AROUND * SCALE))
    sharp, ground = (numpy.asarray(one, dtype=numpy.int16) for one in (near, around))
    marked = (abs(ground - sharp) > CONTRAST) | (ground < DARK)
    sums = numpy.zeros((marked.shape[0] + 1, marked.shape[1] + 1), dtype=numpy.int64)
    sums[1:, 1:] = marked.cumsum(axis=0).cumsum(axis=1)
    return Ink(sums)
