"""The four guides against elevation, drawn with matplotlib (the extra ``plot``)."""

from __future__ import annotations

from pathlib import Path

from rewriter import air as airs
from rewriter.correcting import GUIDES
from rewriter.correcting.comparison import COURSES, course
from rewriter.errors import Unusable
from rewriter.model import Air, Recipe, Strength

TOP_FT, STEP_FT = 10_000, 100
TITLES = {
    "leavener": "Leavener, % left",
    "liquid": "Liquid added, Tbsp",
    "sugar": "Sugar, % left",
    "oven": "Oven, F hotter",
}
LINES = {"practice": "-", "extension": "--", "formula": "-.", "gas-law": ":"}


def draw(file: str, recipe: Recipe, here: Air, written_for: Air, strength: Strength) -> None:
    """Draw leavener, liquid, sugar and oven for one recipe by every guide, with this kitchen marked, as SVG or PNG.

    Raises Unusable where matplotlib is not installed or the file cannot be written.
    """
    try:
        from matplotlib import rc_context
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure
    except ImportError:
        raise Unusable("pictures need matplotlib", 'install it with: pip install "rewriter[plot]"') from None
    feet = list(range(0, max(TOP_FT, int(here.elevation_ft) + STEP_FT) + 1, STEP_FT))
    places = [airs.of(f"{foot} ft") for foot in feet]
    figure = Figure(figsize=(10, 7.5), layout="constrained")
    FigureCanvasAgg(figure)
    axes = dict(zip(COURSES, figure.subplots(2, 2).flat, strict=True))
    for guide in GUIDES:
        lines = course(recipe, written_for, places, guide, strength)
        for what, values in lines.items():
            axes[what].plot(feet, [float(v) for v in values], LINES[guide], label=guide)
    for what, ax in axes.items():
        ax.axvline(float(here.elevation_ft), color="0.6", linewidth=1)
        ax.set_title(TITLES[what], loc="left")
        ax.set_xlabel("elevation, ft")
        ax.grid(visible=True, alpha=0.3)
    axes["leavener"].legend()
    title = " ".join(recipe.title.split()).replace("$", r"\$")
    figure.suptitle(f"{title}: this kitchen at {float(here.elevation_ft):,.0f} ft, {strength} strength")
    try:
        with rc_context({"svg.hashsalt": "rewriter", "svg.fonttype": "none"}):  # the same picture, byte for byte
            figure.savefig(Path(file), dpi=150, metadata={"Date": None} if file.lower().endswith(".svg") else None)
    except OSError as error:
        raise Unusable(f"{file} cannot be written: {error.strerror}", "choose another file") from None
