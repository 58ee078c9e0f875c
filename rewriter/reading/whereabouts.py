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

from rewriter.reading.clauses import clause, cues, patterns, word_table, words
from rewriter.reading.degrees import Degrees, fahrenheit
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
_LEADS = re.compile(r"(?:^|[\s(])(?:at|@)(?: about| around)?[ ]$|^\W*\d{1,2}:\d\d\W+[a-z]{2,12}:[ ]$")
"""What leads to a heat that its time follows: "it goes in at 350 for 35 minutes", "[10:44] Bea: 375 x 20 min"."""
_TIMED = re.compile(r"[,:]?[ ](?:for |x )?(?:about )?\d[^.;\n]{0,14}?\b(?:min|hour|hr)")
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


class _Around:
    """A setting and its clause, from ``left`` to ``right``: the words before and after it, and roughly how hot."""

    __slots__ = ("after", "before", "left", "lettered", "low", "right", "setting", "value")

    def __init__(self, low: str, setting: Setting, left: int, right: int) -> None:
        self.low, self.setting, self.left, self.right = low, setting, left, right
        self.before, self.after = words(low, left, setting.start), words(low, setting.end, right)
        figure = next((f for f in setting.figures if f.scale in ("F", "C")), setting.figures[0])
        self.value: Degrees = fahrenheit(figure.low) if figure.scale == "C" else figure.low
        """Degrees F, roughly: a number without a letter counts as Fahrenheit."""
        self.lettered = any(f.scale for f in setting.figures)

    def fits(self, place: str) -> bool:
        """Whether a place is ever so hot."""
        low, high = _LIMITS[place]
        if low <= self.value <= high:
            return True
        return not self.lettered and self.setting.figures[0].low < 265 and low <= fahrenheit(self.value) <= high


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
        and (not before.strip(" ,.*-)(0123456789") or _LEADS.search(before))
        and _TIMED.match(low, setting.end)
    ):
        return True
    if (_BARE_BEFORE.search(before) and first.low >= 130) or (first.low <= 130 and _WARM_BEFORE.search(before)):
        return True
    return bool(_BARE_AFTER.match(low, setting.end))


def _never(around: _Around) -> bool:
    low, setting = around.low, around.setting
    near = words(low, max(around.left, setting.start - 40), setting.start)[-5:]
    first = setting.figures[0]
    if first.low <= 75 and (
        _BY.intersection(near[-1:])
        or _MORE.intersection(words(low, setting.end, min(around.right, setting.end + 20))[:1])
    ):
        return True
    if first.low <= 50 and not first.scale and "oven" in near:
        return True
    if not around.lettered and "oven" not in near and "heat" not in near and not _NEVER_BEFORE.isdisjoint(near):
        return not {"to", "down", "up"}.intersection(near[-1:])
    return bool(_NEVER_AFTER.intersection(words(low, setting.end, min(around.right, setting.end + 15))[:1]))


def _beside(around: _Around) -> str:
    """The place named right after the figure ("375 degree oil"), or ""."""
    nouns = [word for word in around.after[:8] if word not in _FILLERS]
    for noun in (" ".join(nouns[:2]), *nouns[:1]):
        place = _AFTER.get(noun, "")
        if place and place != "measure" and around.fits(place):
            return place
    return ""


def _led_to(around: _Around) -> tuple[str, bool]:
    """The place the nearest words before the figure name ("" where none does), and whether a reading is spoken of."""
    measured, pan, sweet = False, "", ""
    before = around.before
    reached = before[-1:] in (["to"], ["until"]) and not {"oven", "preheat", "temperature"}.intersection(before[-6:])
    low, scalded = around.value <= 225, around.value > 140 and "water" not in before
    for place in cues(before, _PLACE, backwards=True):
        if place == "measure":
            measured = True
        elif place == "pass" or not around.fits(place) or (place in ("food", "heating") and pan):
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


def _unled(around: _Around, measured: bool) -> tuple[str, bool]:
    """The place where no word of the clause names one: by what is read off, and by the value."""
    low, left, setting, value = around.low, around.left, around.setting, around.value
    if value <= 225 and (measured or low[left : setting.start].rstrip().endswith((" to", " until"))):
        return "food", True
    if measured:
        earlier = cues(words(low, max(0, left - 500), left), _PLACE, backwards=True)
        near = next((p for p in earlier if p in ("oil", "syrup", "oven") and around.fits(p)), "oven")
        return near, near != "oven"
    celsius = not around.lettered and 135 <= value <= 190
    return ("oven" if value > 225 or celsius else "food"), setting.figures[0].kind != "weak"


def _place(around: _Around) -> tuple[str, bool]:
    """The place of a setting, and whether the words told it."""
    low, setting, after = around.low, around.setting, around.after
    if setting.worded:
        return "oven", True
    if beside := _beside(around):
        return beside, True
    if around.value <= 225 and "measure" in cues([word for word in after[:4] if word not in _FILLERS][:1], _AFTER):
        return "food", True
    if 140 <= around.value <= 260 and _WARM.search(low, around.left, min(around.right, setting.end + 30)):
        return "oven", True
    place, measured = _led_to(around)
    if place and place != "pan":
        return place, True
    for other in cues(after[:12], _AFTER):
        if other in ("syrup", "oil") and around.fits(other):
            return other, True
        measured = measured or other == "measure"
    return (place, True) if place else _unled(around, measured)


def _purpose(around: _Around, place: str) -> str:
    before, after, value = around.before, around.after, around.value
    if place == "water":
        return "scald" if value > 140 else "proof"
    if place == "food":
        aim = next(cues(before, _AIM, backwards=True), "") or next(cues(after[:8], _AIM), "")
        if aim == "scald" and value < 150:
            aim = ""
        return aim or "doneness"
    if place != "oven":
        return _PURPOSES[place]
    if value <= 260 and _WARM.search(around.low, around.left, around.right):
        return "keep-warm"
    for found in (cues(before, _PURPOSE, backwards=True), cues(after[:12], _PURPOSE)):
        for purpose in found:
            if purpose != "pass" and not (purpose == "proof" and value > 140):
                return purpose
    return "preheat" if {"oven", "ovens"}.intersection(before) and not _CHANGED.intersection(before) else "bake"


def whereabouts(text: str, low: str, setting: Setting) -> Whereabouts | None:
    """Place and purpose of a setting, or None where it is no heat. low: the text in small letters."""
    left, right = clause(text, setting.start, setting.end)
    if not _marked(setting) and not _plain_number(low, setting, left):
        return None
    around = _Around(low, setting, left, right)
    if _never(around) or around.value > 1000:
        return None
    place, sure = _place(around)
    return Whereabouts(place, _purpose(around, place), sure)


def _marked(setting: Setting) -> bool:
    """Whether a sign or a letter that means degrees stands by one of the figures."""
    kinds = {figure.kind for figure in setting.figures}
    first = setting.figures[0]
    if kinds <= {"weak"} and first.scale == "C" and first.low >= 100:
        return False
    return not kinds <= {"bare", "weak"} or any(f.scale for f in setting.figures)


def spoken_of(low: str, start: int, end: int) -> str:
    """What the oven does in ``low[start:end]``: "bake" where anything is baked, else "roast", "toast" or ""."""
    for kind, stem in (("bake", "bak"), ("roast", "roast"), ("toast", "toast")):
        at = low.find(stem, start, end)
        while at >= 0:
            if (not at or not low[at - 1].isalpha()) and _COOKS.match(low, at, end):
                return kind
            at = low.find(stem, at + 3, end)
    return ""
