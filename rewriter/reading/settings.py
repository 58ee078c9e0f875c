"""Figures joined into settings: "180C/160C fan/gas 4" is one oven setting written three times.

>>> from rewriter.reading.degrees import scan
>>> text = "oven to 180C/160C fan/gas 4"
>>> [(len(s.figures), s.fans) for s in settings(text.lower(), scan(text, text.lower()))]
[(3, (False, True, False))]
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from rewriter.reading.degrees import Degrees, Figure, fahrenheit

_PUNCTUATION = r"[\s./|\\()\[\]=,;:~≈–—-]"
_GAP = re.compile(
    rf"{_PUNCTUATION}*(?:(?:or|in|for|on|at|an?|the|use|using|if|with|about|approx\w*|ca|circa|fan|forced|assisted"
    rf"|convection|conventional|electric|ovens?|gas|mark|conv|static|to|your|of|equals?|heat"
    rf"|setting|top|bottom|degrees?|which is|that is|i\.e){_PUNCTUATION}*)*"
)
_FAN = re.compile(r"\b(?:fan|convection|conv)\b")
_TAIL = re.compile(
    rf"{_PUNCTUATION}{{0,3}}(?:for |in |on |with |using |if using )?(?:an? |the )?(?:fan|convection|conv)\b"
)
_HEAD = re.compile(
    r"(?:\bfan|\bconvection|\bconv)(?:[ -](?:forced|assisted|bake|setting))?(?:[ -]ovens?)?"
    r"(?:[ ,:(-]|\bto\b|\bat\b|\bset\b){0,6}$"
)
_LEAD = re.compile(
    r"(?:(?<!off the )(?<!no )(?<!not )(?<!without )(?<!out )\b(?:fan|convection)\b(?! off)[^.;\n\d]{0,40}?)"
    r"(?:\b(?:to|at|set|is|use|for)|[:(,]|fan|convection|ovens?|forced)\s*(?:about\s+)?$"
)


@dataclass(frozen=True, slots=True)
class Setting:
    """The figures of one heat setting in reading order, which of them are a fan oven's, and whether they agree."""

    figures: tuple[Figure, ...]
    fans: tuple[bool, ...]
    sure: bool

    @property
    def worded(self) -> bool:
        """Whether an oven word or a gas mark is among them: it can only be an oven's."""
        return any(figure.scale in ("gas", "word") for figure in self.figures)

    @property
    def start(self) -> int:
        """Where its first figure starts."""
        return self.figures[0].start

    @property
    def end(self) -> int:
        """Where its last figure ends."""
        return self.figures[-1].end


def _fahrenheit(figure: Figure) -> Degrees:
    return fahrenheit(figure.low) if figure.scale == "C" else figure.low


def _agree(first: Figure, second: Figure, within: int = 30) -> bool:
    return -within <= _fahrenheit(first) - _fahrenheit(second) <= within


def _lettered(figures: list[Figure], figure: Figure) -> Figure:
    """A bare twin takes the scale that makes it agree ("350F/180", "180C/160 fan")."""
    if figure.scale:
        return figure
    first = figures[0]
    if not first.scale and 10 <= first.low - figure.low <= 30:
        return figure  # "180/160 fan": one scale, told by what else there is
    scales = ("C", "F") if first.scale in ("F", "gas", "word") and figure.low < 290 else ("F", "C")
    for scale in scales:
        guess = Figure(figure.start, figure.end, figure.low, figure.high, scale, figure.kind, figure.scanned)
        if _agree(first, guess):
            return guess
    return Figure(figure.start, figure.end, figure.low, figure.high, first.scale, figure.kind, figure.scanned)


def _joins(low: str, figures: list[Figure], figure: Figure) -> bool:
    """Whether a figure is another way of writing the setting before it."""
    last = figures[-1]
    if figure.start - last.end > 45:
        return False
    gap = low[last.end : figure.start]
    if "\n" in gap or not _GAP.fullmatch(gap):
        return False
    fan = bool(_FAN.search(gap)) or bool(_TAIL.match(low, figure.end))
    if figure.kind == "bare" and not (fan or any(c in gap for c in "/(|=") or " or " in gap):
        return False
    new = _lettered(figures, figure)
    if all(f.kind == "bare" for f in figures) and new.kind == "bare":
        return fan or ("/" in gap and new.low != last.low)
    if last.kind == "word":
        return len(figures) == 1 and new.kind != "word" and bool(new.scale)
    twin = next((f for f in figures if f.scale == new.scale), None)
    if twin is None:
        return bool(gap.strip() or new.kind == "word") and (any(_agree(f, new) for f in figures) or fan)
    if fan:
        return -50 <= twin.low - new.low <= 50
    return ("/" in gap or "(" in gap) and new.scale == "C" and 0 < twin.low - new.low <= 25


def _fan_before(low: str, figures: list[Figure], i: int) -> bool:
    """Whether a fan word stands before the figure as its own ("(fan 160C", "fan oven then preheat to 160C")."""
    figure = figures[i]
    if i == 0:
        left = max(0, figure.start - 60)
        told = low.find("fan", left, figure.start) >= 0 or low.find("convection", left, figure.start) >= 0
        return told and bool(_LEAD.search(low, left, figure.start))
    between = low[figures[i - 1].end : figure.start]
    if not _HEAD.search(between):
        return False
    if re.match(r"\s*[/(,;|]|\s+or\b", between):
        return True
    return len(figures) == 2 and figure.low < figures[0].low and figure.scale == figures[0].scale


def _fan_after(low: str, figures: list[Figure], i: int) -> bool:
    """Whether a fan word stands after the figure as its own ("160C fan/gas 4"), not as the next one's."""
    end = figures[i].end
    tail = _TAIL.match(low, end)
    if not tail:
        return False
    close = i + 1 < len(figures) and figures[i + 1].start - tail.end() <= 4
    return not (close and re.match(r"[ ]?[/(,;|]", low[end : end + 2]))


def _fans(low: str, figures: list[Figure]) -> tuple[bool, ...]:
    """Which figures are a fan oven's: by the word beside them; of two on one scale the lower; their exact twins."""
    fans = [
        f.kind not in ("gas", "word") and (_fan_before(low, figures, i) or _fan_after(low, figures, i))
        for i, f in enumerate(figures)
    ]
    if len(figures) == 1:
        return tuple(fans)
    for scale in "FC":
        same = sorted((i for i, f in enumerate(figures) if f.scale == scale), key=lambda i: figures[i].low)
        if len(same) == 2 and figures[same[0]].low < figures[same[1]].low:
            fans[same[0]], fans[same[1]] = True, False
    if (
        len(figures) == 2
        and fans != [False, False]
        and {f.scale for f in figures} == {"F", "C"}
        and _agree(figures[0], figures[1], within=8)
    ):
        bracketed = (
            low[figures[1].end : figures[1].end + 1] == ")" and low[figures[0].end : figures[0].end + 2].strip() == "("
        )
        if fans[0] or bracketed:
            return (True, True)
    return tuple(fans)


def _folded(found: list[Setting]) -> list[Setting]:
    """A fan oven's setting written after the conventional one ("in a fan oven set it to 160C") becomes its twins."""
    folded: list[Setting] = []
    for setting in found:
        last = folded[-1] if folded else None
        if last and all(setting.fans) and not any(last.fans) and setting.start - last.end < 250:
            pairs = [(a, b) for a in last.figures for b in setting.figures if a.scale == b.scale]
            if pairs and all(5 <= a.low - b.low <= 50 for a, b in pairs):
                folded[-1] = Setting(last.figures + setting.figures, last.fans + setting.fans, last.sure)
                continue
        folded.append(setting)
    return folded


def _setting(low: str, figures: list[Figure]) -> Setting:
    fans = _fans(low, figures)
    still = [figure for figure, fan in zip(figures, fans, strict=True) if not fan and figure.scale != "word"]
    told = any(f.scale in ("F", "C", "gas") for f in figures)
    guessed = not told and any(
        f.scanned and (f.kind == "word" or (f.high is None and not f.scale and f.kind == "weak")) for f in figures
    )
    return Setting(tuple(figures), fans, not guessed and all(_agree(still[0], figure) for figure in still))


def settings(low: str, figures: list[Figure]) -> list[Setting]:
    """The settings a text writes, from its figures in reading order; ``low`` is the text in small letters."""
    groups: list[list[Figure]] = []
    for figure in figures:
        if groups and figure.start < groups[-1][-1].end:
            if figure.kind == "word":
                groups[-1].append(figure)
            continue
        if groups and _joins(low, groups[-1], figure):
            groups[-1].append(_lettered(groups[-1], figure))
        else:
            groups.append([figure])
    return _folded([_setting(low, group) for group in groups])
