"""What a setting heats, and what for, from the words around it.

>>> from rewriter.reading.degrees import scan
>>> from rewriter.reading.settings import settings
>>> text = "Heat 2 inches of oil in a Dutch oven to 365°F."
>>> whereabouts(text, text.lower(), settings(text.lower(), scan(text, text.lower()))[0])
Whereabouts(place='oil', purpose='fry', sure=True)
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from rewriter.reading.clauses import clause, cues, patterns, word_table, words
from rewriter.reading.settings import Setting

_ROWS = patterns("heats")
_PLACE, _AFTER = word_table(_ROWS["place"]), word_table(_ROWS["after"])
_PURPOSE, _AIM = word_table(_ROWS["purpose"]), word_table(_ROWS["aim"])
_LIMITS: dict[str, list[int]] = _ROWS["limits"]
_NEVER_BEFORE, _NEVER_AFTER = frozenset(_ROWS["never"]["before"]), frozenset(_ROWS["never"]["after"])
_BY = frozenset({"by", "up", "down", "another", "extra", "additional"})
_MORE = frozenset(
    "hotter higher lower cooler less more above below warmer low high off slow fast too difference increase".split()
)
_CHANGED = frozenset(
    "lower reduce drop down raise increase decrease lowered reduced turned up crank in air fryer toaster".split()
)
_FILLERS = frozenset({"degrees", "degree", "f", "c", "fahrenheit", "celsius", "a", "an", "the", "in", "on"})
_PURPOSES = {"oil": "fry", "syrup": "stage", "water": "proof", "pan": "griddle"}

_BARE_BEFORE = re.compile(
    r"(?:\boven(?:\s+(?:temp(?:erature)?|heat|setting|dial|rack|down|up|over|on|is|and preheat(?: it)?|thermometer"
    r"|reaches))*"
    r"[\s:,(=–-]*(?:(?:preheated|set|heated|down|up|turned)\s+)?(?:to|at|on|of|about|@|is)?"
    r"|\b(?:bak(?:e|es|ed|ing)|roast(?:ed)?|cook(?:ed)?|toast|broil)\b[^.;\n]{0,60}?(?:\b(?:at|to|on|in|about)|@)(?:\s+an?)?"
    r"|\b(?:bak(?:e|es|ed|ing)|roast)[,:]?(?:\s+(?:it|them))?"
    r"|\bpre-?heat(?:ed|ing)?\b[^.;\n]{0,40}?(?:\bto|\bat|@|:)?"
    r"|\b(?:reduc|lower|turn|rais|increas|drop|decreas|crank|set)(?:e|es|ed|ing|s)?\b[^.;\n]{0,45}?\b(?:to|at)"
    r"|\btemp(?:erature)?\b[\s:=–-]*(?:(?:of|to|is|at)\b)?"
    r"|\bheat\b[^.;\n]{0,25}?\b(?:to|at)|\b(?:minutes?|mins?\.?|hours?|hrs?\.?)[\s,]*(?:at|@|on)|@|\bdegrees?:?"
    r"|\b(?:reads?|reach(?:es)?|registers?|hits)|\b(?:oil|fat|lard|syrup|fry|fryer)\b[^.;\n]{0,40}?\b(?:to|at))"
    r"\s*(?:about|approx(?:imately)?|around|a)?\s*$"
)
_WARM_BEFORE = re.compile(
    r"\b(?:water|milk|liquid|warm|warmed|cool|cooled|lukewarm)\b[^.;\n]{0,25}?\b(?:to|at)(?:\s+about)?\s*$"
)
_BARE_AFTER = re.compile(r"[\s)-]{0,2}(?:degree)?\s*oven\b|\s*on (?:the|a|an|your) (?:[a-z-]+ ){0,2}thermometer\b")
_TIMED = re.compile(r"[,:]?[ ](?:for )?(?:about )?\d[^.;\n]{0,14}?\b(?:min|hour|hr)")
_COOKS = re.compile(
    r"\b(?:bake|bakes|baking|baked|roast|roasting|toast|toasting|broil)\b"
    r"(?! (?:sheet|dish|pan|powder|soda|tray|paper|tin|time))"
)
_WARM = re.compile(
    r"\b(?:keep|kept|hold|stay|keeping)\b[^.;\n]{0,40}\b(?:warm|hot)\b"
    r"|\bwarm (?:in|until)\b|\bto hold\b|\bhold (?:on|in|them|covered|finished)\b"
)


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """place and purpose as in :class:`rewriter.model.Heat`; sure: whether the words tell them."""

    place: str
    purpose: str
    sure: bool


def _value(setting: Setting) -> Fraction:
    """Degrees F, roughly: a number without a letter counts as Fahrenheit."""
    figure = next((f for f in setting.figures if f.scale in ("F", "C")), setting.figures[0])
    return figure.low * Fraction(9, 5) + 32 if figure.scale == "C" else figure.low


def _fits(place: str, setting: Setting) -> bool:
    low, high = _LIMITS[place]
    value = _value(setting)
    if low <= value <= high:
        return True
    lettered = any(f.scale for f in setting.figures)
    return not lettered and setting.figures[0].low < 265 and low <= value * Fraction(9, 5) + 32 <= high


def _plain_number(low: str, setting: Setting, left: int) -> bool:
    """Whether a number without any mark is a heat, by the words that lead to it or follow."""
    first = setting.figures[0]
    if not (100 <= first.low <= 600) or first.low.denominator != 1 or first.low % 5:
        return False
    before = low[max(left, first.start - 90) : first.start]
    if low[first.start].isalpha() and before.split()[-1:] not in (["at"], ["to"]):
        return False
    if (
        250 <= first.low <= 500
        and first.low % 25 == 0
        and not before.strip(" ,.*-)(0123456789")
        and _TIMED.match(low, setting.end)
    ):
        return True
    if (_BARE_BEFORE.search(before) and first.low >= 130) or (first.low <= 130 and _WARM_BEFORE.search(before)):
        return True
    return bool(_BARE_AFTER.match(low, setting.end))


def _never(low: str, setting: Setting, left: int, right: int) -> bool:
    near = words(low, max(left, setting.start - 40), setting.start)[-5:]
    after = words(low, setting.end, min(right, setting.end + 20))[:1]
    if setting.figures[0].low <= 75 and (_BY.intersection(near[-1:]) or _MORE.intersection(after)):
        return True
    if setting.figures[0].low <= 50 and not setting.figures[0].scale and "oven" in near:
        return True
    if (
        _NEVER_BEFORE.intersection(near)
        and "oven" not in near
        and "heat" not in near
        and not any(f.scale for f in setting.figures)
    ):
        return not {"to", "down", "up"}.intersection(near[-1:])
    return bool(_NEVER_AFTER.intersection(words(low, setting.end, min(right, setting.end + 15))[:1]))


def _beside(following: list[str], setting: Setting) -> str:
    """The place named right after the figure ("375 degree oil"), or ""."""
    nouns = [word for word in following[:8] if word not in _FILLERS]
    for noun in (" ".join(nouns[:2]), *nouns[:1]):
        place = _AFTER.get(noun, "")
        if place and place != "measure" and _fits(place, setting):
            return place
    return ""


def _led_to(before: list[str], setting: Setting) -> tuple[str, bool]:
    """The place the nearest words before the figure name ("" where none does), and whether a reading is spoken of."""
    measured, pan, sweet = False, "", ""
    reached = before[-1:] in (["to"], ["until"]) and not {"oven", "preheat", "temperature"}.intersection(before[-6:])
    low, scalded = _value(setting) <= 225, _value(setting) > 140 and "water" not in before
    for place in cues(before, _PLACE, backwards=True):
        if place == "measure":
            measured = True
        elif place == "pass" or not _fits(place, setting) or (place in ("food", "heating") and pan):
            continue
        elif place == "pan":
            pan = place
        elif place == "sweet":
            sweet = "syrup"
        elif (place == "oven" and low and (measured or reached)) or (place == "water" and scalded):
            return "food", True
        else:
            return {"heating": "oven", "griddle": "pan"}.get(place, place), measured
    return sweet or pan, measured


def _unled(low: str, setting: Setting, left: int, measured: bool) -> tuple[str, bool]:
    """The place where no word of the clause names one: by what is read off, and by the value."""
    value = _value(setting)
    if value <= 225 and (measured or low[left : setting.start].rstrip().endswith((" to", " until"))):
        return "food", True
    if measured:
        earlier = cues(words(low, max(0, left - 500), left), _PLACE, backwards=True)
        near = next((p for p in earlier if p in ("oil", "syrup", "oven") and _fits(p, setting)), "oven")
        return near, near != "oven"
    celsius = not any(f.scale for f in setting.figures) and 135 <= value <= 190
    return ("oven" if value > 225 or celsius else "food"), setting.figures[0].kind != "weak"


def _place(low: str, setting: Setting, left: int, right: int) -> tuple[str, bool]:
    """The place of a setting, and whether the words told it."""
    if setting.worded:
        return "oven", True
    after = words(low, setting.end, right)
    if beside := _beside(after, setting):
        return beside, True
    if _value(setting) <= 225 and "measure" in cues([word for word in after[:4] if word not in _FILLERS][:1], _AFTER):
        return "food", True
    if 140 <= _value(setting) <= 260 and _WARM.search(low, left, min(right, setting.end + 30)):
        return "oven", True
    place, measured = _led_to(words(low, left, setting.start), setting)
    if place and place != "pan":
        return place, True
    for other in cues(after[:12], _AFTER):
        if other in ("syrup", "oil") and _fits(other, setting):
            return other, True
        measured = measured or other == "measure"
    return (place, True) if place else _unled(low, setting, left, measured)


def _purpose(low: str, setting: Setting, left: int, right: int, place: str) -> str:
    before, after = words(low, left, setting.start), words(low, setting.end, right)
    if place in ("food", "water"):
        aim = next(iter(cues(before, _AIM, backwards=True)), "") or next(iter(cues(after[:8], _AIM)), "")
        if place == "water":
            return "scald" if _value(setting) > 140 else "proof"
        if aim == "scald" and _value(setting) < 150:
            aim = ""
        return aim or "doneness"
    if place != "oven":
        return _PURPOSES[place]
    if _value(setting) <= 260 and _WARM.search(low, left, right):
        return "keep-warm"
    for found in (cues(before, _PURPOSE, backwards=True), cues(after[:12], _PURPOSE)):
        for purpose in found:
            if purpose != "pass" and not (purpose == "proof" and _value(setting) > 140):
                return purpose
    return "preheat" if {"oven", "ovens"}.intersection(before) and not _CHANGED.intersection(before) else "bake"


def whereabouts(text: str, low: str, setting: Setting) -> Whereabouts | None:
    """Place and purpose of a setting, or None where it is no heat. low: the text in small letters."""
    left, right = clause(text, setting.start, setting.end)
    kinds = {figure.kind for figure in setting.figures}
    if (
        kinds <= {"bare", "weak"}
        and not any(f.scale for f in setting.figures)
        and not _plain_number(low, setting, left)
    ):
        return None
    if (
        kinds <= {"weak"}
        and setting.figures[0].scale == "C"
        and setting.figures[0].low >= 100
        and not _plain_number(low, setting, left)
    ):
        return None
    if _never(low, setting, left, right) or _value(setting) > 1000:
        return None
    place, sure = _place(low, setting, left, right)
    return Whereabouts(place, _purpose(low, setting, left, right, place), sure)


def spoken_of(low: str, start: int, end: int) -> str:
    """What the oven does in ``low[start:end]``: "bake" where anything is baked, else "roast", "toast" or ""."""
    for kind, stem in (("bake", "bak"), ("roast", "roast"), ("toast", "toast")):
        at = low.find(stem, start, end)
        while at >= 0:
            if (not at or not low[at - 1].isalpha()) and _COOKS.match(low, at, end):
                return kind
            at = low.find(stem, at + 3, end)
    return ""
