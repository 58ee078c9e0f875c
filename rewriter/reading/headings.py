"""What a line says it is: a heading of the ingredients, the method or what ends a recipe, clutter, an instruction.

>>> heading("I N G R E D I E N T S"), heading("Directions:"), heading("Leave a comment"), heading("Fold in the whites.")
('ingredients', 'method', 'end', '')
"""

from __future__ import annotations

import re

from rewriter.reading.openings import may_open, stems
from rewriter.reading.rows import SENTENCE, STEP, VERBS, Line, Named
from rewriter.reading.units import table

_TABLE = table("layout")
_LEADING = "first then next now meanwhile in to using with on once when while after if".split()
_VERB = re.compile(rf"(?:(?:{'|'.join(_LEADING)})\b.{{0,60}}?,?\s)?(?:{'|'.join(VERBS)})\b", re.IGNORECASE)
_VERB_STEMS = stems([*VERBS, *_LEADING])


def _whole(patterns: list[str]) -> re.Pattern[str]:
    return re.compile("(?:" + "|".join(patterns) + r")\s*[:.\-–—]*\s*$", re.IGNORECASE)


_WHOLE = {name: _whole(_TABLE["heading"][name]) for name in ("ingredients", "method", "end", "notes")}
_ENDS = re.compile("(?:" + "|".join(_TABLE["heading"]["end_opening"]) + ")", re.IGNORECASE)
_CLUTTER = _whole(_TABLE["clutter"]["lines"])
_HEAD_STEMS = stems(_TABLE["heading"]["first_words"])
_COUNTING = re.compile(r"[\d.,]+\s*(?:$|[x:.\-–—]|com|mor|res|rep|rev|tho|let|not|fro|sta|vot|rat|ite)", re.IGNORECASE)
"""How a heading or clutter goes on that opens with a figure ("12 comments", "4.5 stars")."""
_NUTRIENT = re.compile(_TABLE["clutter"]["nutrient"], re.IGNORECASE)
LABEL = re.compile(
    r"[*_#\s]*(?:optional\s+)?(?:(?=[^:\n]{3,64}:)|(?=[^.\n]{3,30}\.{4})|(?=(?:\w+\s+){0,2}?(?:frosting|icing|glaze|filling|topping|streusel|ganache)\s+[–—-]\s))"
    r"(?P<label>[A-Z][\w' ]{2,28}?)\s*[*_]*(?:\s*\([^()]{0,30}\))?[*_]*(?::[*_]*|\s?\.{4,}|\s[–—-])\s+(?=\S)",
    re.IGNORECASE,
)
"""A label before the amounts of a line ("Glaze (optional): 3 oz cream cheese", "Icing - 2 cups sugar")."""
PART_WORDS = frozenset(word for words in _TABLE["part_word"].values() for word in words)
BATTER_WORDS = frozenset(_TABLE["part_word"]["batter"])
_WORD = re.compile(r"[a-z]+(?:-[a-z]+)?")
_TASTE = re.compile(
    r"\bto\s+taste|\boptional|\bfor\s+(?:the\s+)?(?:dusting|serving|garnish|topping|sprinkling|greasing|rolling|brushing|pan)|\bas\s+needed",
    re.IGNORECASE,
)
PART_ONLY = re.compile(
    r"(?:for\s+(?:the\s+)?|to\s+make\s+(?:the\s+)?|the\s+)?(?:[\w'’-]+\s+){0,3}"
    r"(?:frosting|icing|glaze|filling|topping|streusel|sauce|ganache|buttercream|syrup|drizzle|crumble|garnish"
    r"|whipped cream|crust|wash)s?"
    r"(?:\s+(?:for|per)\b.{0,40}|\s*\(.{0,40}\))?\s*:?\s*$",
    re.IGNORECASE,
)
_GROUP = re.compile(
    r"(?=[A-Z])(?:[\w'’&/-]+\s+){0,5}[\w'’&/-]*?(?:frosting|icing|glaze|custard|filling|topping|streusel|ganache|buttercream|layer|ingredients|cake|batter|dough|sponge|(?:whipped|butter|pastry)\s+cream|crumble|drizzle|for\s+serving)s?\s*$",
    re.IGNORECASE,
)
"""A line that names a part and nothing else, also where no blank line stands above it."""
YIELD = re.compile(r"\W*(?:serves|makes|yields?|servings|prep)\b", re.IGNORECASE)
_SPACED = re.compile(r"(?:\w ){3,}\w")


def plain(content: str) -> str:
    """A heading without what decorates it.

    >>> plain("** M E T H O D **")
    'METHOD'
    """
    bare = content.strip(" \t*#_=~|[]<>")
    return bare.replace(" ", "") if bare[1:2] == " " and _SPACED.fullmatch(bare) else bare


def may_head(bare: str) -> bool:
    """Whether a line without its decoration opens like a heading or clutter: False is sure, True is not.

    >>> may_head("2 cups flour"), may_head("Toss with salt"), may_head("12 comments")
    (False, False, True)
    """
    if bare[:1].isdecimal():
        return _COUNTING.match(bare) is not None
    return bare[:1] not in "½⅓⅔¼¾⅛" and may_open(bare, _HEAD_STEMS)


def heading(content: str) -> str:
    """Whether a whole line is a heading: "ingredients", "method", "notes" or "end", else ""."""
    bare = plain(content)
    return _heading(content, bare, may_head(bare))


def _heading(content: str, bare: str, opens: bool) -> str:
    """What :func:`heading` tells of a line, its bare text looked at already."""
    if len(content) >= 90:
        ends = may_head(content) and _ENDS.match(content) is not None
        return "end" if ends or (len(content) < 400 and _lists_nutrients(content)) else ""
    if opens:
        for name in ("method", "ingredients", "notes", "end"):
            if _WHOLE[name].match(bare):
                return name
        if _ENDS.match(bare):
            return "end"
    return "end" if _lists_nutrients(bare) else ""


def _lists_nutrients(content: str) -> bool:
    low = content.lower()
    told = "fat" in low or "carb" in low or "protein" in low or "calor" in low
    return told and len(_NUTRIENT.findall(low)) > 2 and any(letter.isdigit() for letter in low)


def nutrition(content: str) -> bool:
    """Whether a line tells what a serving holds."""
    return bool(_NUTRIENT.search(content))


def mark(lines: list[Line]) -> None:
    """Tell of each line what it heads, and which lines are clutter: buttons, yields, times, ratings, adverts."""
    for line in lines:
        bare = plain(line.text)
        opens = may_head(bare)
        if opens or len(line.text) >= 90:
            line.kind = _heading(line.text, bare, opens)
        elif _lists_nutrients(bare):
            line.kind = "end"
        if opens and len(line.text) < (60 if line.amount else 130) and _CLUTTER.match(bare):
            line.role, line.amount, line.cells = "skip", False, []


def _tells(content: str) -> bool:
    """Whether words tell what to do ("Mix", "In a bowl, beat")."""
    return may_open(content, _VERB_STEMS) and _VERB.match(content) is not None


def sentence(content: str) -> bool:
    """Whether a line is running text."""
    if len(content) <= 60:
        return False
    return len(content) > 200 or _tells(content) or len(SENTENCE.findall(content)) > 1


def instruction(content: str) -> bool:
    """Whether a line tells what to do."""
    step = STEP.match(content)
    body = content[step.end() :] if step else content
    if body.endswith(":") and len(body) < 60:
        return False
    told = (step is not None or len(body) > 24 or body.endswith((".", "-"))) and _tells(body)
    return told or sentence(body)


def instruction_with_amount(content: str) -> bool:
    """Whether a line that opens with an amount is nevertheless running text."""
    return (
        len(content) > 120
        and len(SENTENCE.findall(content)) > 1
        and bool(re.search(r"\b(?:add|mix|stir|bake|pour|beat)\b", content, re.IGNORECASE))
    )


def short(line: Line) -> bool:
    """Whether a line can be a title, a heading or an ingredient without an amount."""
    return len(line.text) < 90 and not instruction(line.text)


def unmeasured(content: str) -> bool:
    """Whether a line without an amount says so itself ("salt to taste")."""
    return bool(_TASTE.search(content))


_LONE_PART = frozenset("drizzle frosting icing glaze filling topping streusel crumble sauce syrup dough batter".split())
"""Words that head a group all by themselves, whatever stands below."""


def group_heading(line: Line, following: Line | None, named: Named) -> bool:
    """Whether a line without an amount, inside a list, names a group."""
    content = line.text.strip()
    words = _WORD.findall(content.lower())
    if not words or len(content) > 70 or following is None:
        return False
    if line.gap and len(words) == 1 and words[0] in _LONE_PART and not line.amount:
        return True
    if following.amount and _GROUP.match(content.lstrip("\u200b\u200c\u200d")):
        return True
    if following.bullet and following.amount and not line.bullet and len(words) < 8:
        return True
    if content.endswith(":") or re.match(r"(?:for|to make)\s+(?:the|a)\b", content, re.IGNORECASE):
        return True
    if (content.endswith(("-", "–", "—")) and len(words) < 6) or (
        line.gap and following.amount and PART_ONLY.match(content)
    ):
        return True
    if ("," in re.sub(r"\(.*?\)", "", content) and not content.isupper()) or unmeasured(content):
        return False
    if content.isupper() and len(words) < 8 and following.amount:
        return True
    if PART_WORDS.intersection(words) and following.amount and (line.gap or not named(line)):
        return words[-1] in PART_WORDS or words[-1] in ("ingredients", "mixture", "choose", "of") or line.gap
    return line.gap and following.amount and not named(line)
