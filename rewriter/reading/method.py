"""What the method says is done with what: each clause and the part it works on.

The method is cut into clauses; headings and phrases ("for the glaze", "make the filling") turn to a part that goes on;
words
such as "grease" or "sprinkle" put only what they name into another; after the bake, what is newly mixed is frosting.

>>> text = "Cream the butter. Bake 20 minutes. Whisk the sugar and milk."
>>> [(c.part, c.baked) for c in clauses_of(text, [(0, len(text))])]
[('batter', False), ('batter', False), ('frosting', True)]
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from rewriter.reading.clauses import plain
from rewriter.reading.sentences import body_of, split, unwrapped
from rewriter.reading.units import table

_TABLE = table("method")
_TURN = {part: re.compile(pattern) for part, pattern in _TABLE["turn"].items()}
_TURN_WORDS = {part: frozenset(words) for part, words in _TABLE["turn_words"].items()}
_ANY_TURN = frozenset().union(*_TURN_WORDS.values())
_TOUCH_WORDS = {part: frozenset(words) for part, words in _TABLE["touch_words"].items()}
_ANY_TOUCH = frozenset().union(*_TOUCH_WORDS.values())
_WORDS = re.compile(r"[a-zé]+")
_TOUCH = {part: re.compile(pattern) for part, pattern in _TABLE["touch"].items()}
_BAKE = re.compile(_TABLE["state"]["bake"])
_TIMED = re.compile(_TABLE["state"]["timed"])
_NOT_BAKE = re.compile(_TABLE["state"]["not_bake"])
_COOLED = re.compile(_TABLE["state"]["cooled"])
_INTO_BATTER = re.compile(_TABLE["state"]["into_batter"])
_MIXING_WORDS = frozenset(
    "mix beat whisk combine stir cream whip blend melt add heat bring boil dissolve sift fold toss simmer cook".split()
)
_MIXING = re.compile(rf"\b(?:{'|'.join(sorted(_MIXING_WORDS))})\b")


@dataclass(slots=True)
class Clause:
    """A clause of the method. part: the part it works on; touches: (offset, part) from which words on it is another.

    baked: it stands after the bake; heading: the part was turned to by a heading or a phrase of the recipe's own.
    words: its words in small letters, which tell quickly what no pattern need be tried on.
    """

    start: int
    end: int
    part: str
    baked: bool = False
    heading: bool = False
    touches: tuple[tuple[int, str], ...] = ()
    words: frozenset[str] = field(default=frozenset(), repr=False, compare=False)

    def part_at(self, offset: int) -> str:
        """The part an ingredient named at this offset goes into."""
        part = self.part
        for start, other in self.touches:
            if offset >= start:
                part = other
        return part


def _turned(low: str, words: frozenset[str]) -> tuple[str, int] | None:
    """The part a sentence turns to, and where in the sentence it says so; None where it turns to none."""
    if _ANY_TURN.isdisjoint(words):
        return None
    best: tuple[int, str] | None = None
    for part, pattern in _TURN.items():
        if _TURN_WORDS[part].isdisjoint(words):
            continue
        match = pattern.search(low, 0, 130)
        if match and _ADDED.match(low) and _INGREDIENT_TOO.search(match[0]):
            continue
        if match and (best is None or match.start() < best[0]):
            best = (match.start(), part)
    return (best[1], best[0]) if best else None


_ADDED = re.compile(r"\W*(?:add|stir|pour|mix|whisk|beat|combine|fold|blend|drizzle|brush|warm|melt)\b")
_INGREDIENT_TOO = re.compile(r"\b(?:syrup|sauce|caramel|butter|cream|custard|curd)\W*$")
"""Words that name a part, but as often an ingredient ("add the maple syrup")."""


_LINKS = frozenset(("the", "in", "with", "until", "for"))
_LINKED = re.compile(r"[a-z]{3,}\s+(?:the|in|with|until|for)\s")


def _mixes(low: str, words: frozenset[str]) -> bool:
    return not _MIXING_WORDS.isdisjoint(words) and bool(_MIXING.search(low))


def _is_heading(body: str, low: str, stop: str, words: frozenset[str]) -> bool:
    """Whether a clause is a heading inside the method; stop: the character after it."""
    if len(body) >= 60:
        return False
    if (body + stop).rstrip().endswith(":"):
        return True
    return not _mixes(low, words) and (_LINKS.isdisjoint(words) or not _LINKED.search(body))


def _touches(small: str, start: int, words: frozenset[str]) -> tuple[tuple[int, str], ...]:
    """From where on which words of a sentence put what they name into another part; start: where the sentence does."""
    if _ANY_TOUCH.isdisjoint(words):
        return ()
    found: list[tuple[int, str]] = []
    for part, pattern in _TOUCH.items():
        if not _TOUCH_WORDS[part].isdisjoint(words):
            found += [(start + match.start(), part) for match in pattern.finditer(small)]
    return tuple(sorted(found))


_FINISHED_WORDS = frozenset(("split", "fill", "sandwich", "spread", "frost", "top", "whipped"))
_FINISHED = re.compile(r"\b(?:split|fill|sandwich|spread|frost|top)(?:\s+\w+){0,5}?\s+with\b|\bwhipped\b")
"""What is done to a bake that is done."""


def _finishes(low: str, words: frozenset[str]) -> bool:
    return not _FINISHED_WORDS.isdisjoint(words) and bool(_FINISHED.search(low))


_LETTERS = re.compile(r"[A-Za-z]+")
_MADE_WORDS = frozenset(
    "add sift whisk combine mix stir beat fold measure sieve put place pour blend tip rub cut"
    " batter dough dry meringue egg".split()
)
"""The words that the next pattern can begin with."""
_MADE = re.compile(
    r"\b(?:add|sift|whisk|combine|mix|stir|beat|fold|measure|sieve|put|place|pour|blend|tip|rub|cut)\b[^.]{0,120}\b(?:flour|dry|baking\s+(?:powder|soda)|cornmeal|oats|mix)\b"
    r"|\b(?:batter|dough|dry\s+ingredients|meringue|egg\s+whites)\b",
    re.IGNORECASE,
)


_FLOURED = re.compile(r"\b(?:whisk|sift|mix|combine|stir|beat)\b[^.]{0,60}\bflour\b|\bbaking\s+(?:powder|soda)\b")
_LEAVENED = re.compile(r"\bbaking\s+(?:powder|soda)\b|\b(?:cake|dough|batter|muffin|cookie|bread)\s+ingredients\b")
_TO_BATTER = re.compile(r"(?:to|now|next,?)\s+make\s+the\b|make\s+the\b|for\s+the\b|meanwhile,?\s+make\s+the\b")
_AGAIN_MADE = re.compile(r"\b(?:baking\s+(?:powder|soda)|bicarb\w*|into\s+the\s+batter|knead)\b")


def _bakes(low: str) -> bool:
    told = ("bak" in low or "cook" in low or "fry" in low) and _BAKE.search(low)
    timed = not told and ("min" in low or "hr" in low or "hour" in low) and _TIMED.search(low)
    return bool(told or timed) and not _NOT_BAKE.search(low)


def _cooled(low: str) -> bool:
    if not ("cool" in low or "whe" in low or "whi" in low or "once" in low):
        return False
    return bool(_COOLED.search(low)) and bool(_FROM_HEAT.search(low))


_FROM_HEAT = re.compile(r"\boven|rack|pan\b")


def _first_made(text: str, spans: Sequence[tuple[int, int]]) -> int:
    """Where the method first makes a batter or dough: what is baked before that is only an ingredient of it."""
    if not spans:
        return 0
    first, last = spans[0][0], spans[-1][1]
    for word in _LETTERS.finditer(text, first, last):
        if word[0].lower() in _MADE_WORDS and _MADE.match(text, word.start(), last):
            return word.start()
    return first


_DASHED = re.compile(_TABLE["state"]["dashed"])


@dataclass(slots=True)
class _State:
    """What the method works on as it is followed: the part, whether it has baked, whether a heading said so."""

    made: int
    part: str = "batter"
    baked: bool = False
    headed: bool = False

    def turn(self, low: str, words: frozenset[str], heading: bool) -> None:
        """Take in how a clause begins: a heading, an announcement, or a mixing that tells another part."""
        turned = _turned(low, words)
        if turned and (heading or turned[1] < low.find(":") < 50):
            self.part, self.headed = turned[0], True
            self.baked = self.baked and turned[0] != "batter"
        elif (
            turned
            and turned[0] != "batter"
            and turned[1] < 70
            and (_opens(low, turned[1]) or _DASHED.match(low, turned[1]))
        ):
            self.part, self.headed = turned[0], True
        elif turned and self.part != "batter" and not self.baked and _TO_BATTER.match(low):
            self.part, self.headed = "batter", False
        elif self.part != "batter" and self.headed and not self.baked:
            if self._back(low, words):
                self.part, self.headed = "batter", self.headed and self.part != "frosting"
        elif self.baked and not self.headed and (_mixes(low, words) or _finishes(low, words)):
            self.part = "frosting"

    def _back(self, low: str, words: frozenset[str]) -> bool:
        """Whether a clause under another part's heading goes back to the batter."""
        if _FLOURED.search(low) if self.part == "frosting" else _LEAVENED.search(low):
            return True
        return _mixes(low, words) and bool(_INTO_BATTER.search(low)) and not _COOLED.search(low)

    def bake(self, clause: Clause, low: str) -> None:
        """Take in what a clause does to the bake: baked, cooled, or a new batter begun."""
        if clause.end > self.made and (self.part == "batter" or not self.headed) and _bakes(low):
            self.baked, self.headed, self.part = True, False, "batter"
        elif clause.end > self.made and self.part == "batter" and _cooled(low):
            self.baked = True
        elif self.baked and not self.headed and _AGAIN_MADE.search(low):
            self.baked, self.part = False, "batter"
            clause.part, clause.baked = "batter", False


_ASIDE = re.compile(
    r"\W*(?:(?:for\s+)?(?:an?\s+|the\s+)?variations?|notes?|tips?|substitut(?:e|ions?)|make[\s-]ahead|storage|to\s+store|leftovers?)\b\s*[:.–—-]",
    re.IGNORECASE,
)
"""A paragraph that speaks of something else than making this: what it measures is no part of the recipe."""


_OTHERS = re.compile(
    r"\W*(?:(?:my|our)\s+(?:sister|brother|mother|mom|mum|aunt|grand(?:mother|ma)|nana|neighbou?r|friend|husband|wife)"
    r"|some(?:\s+(?:people|cooks|folks|bakers))?|others)\s+(?:uses?|used|adds?|added|puts?|likes?|liked|prefers?)\b",
    re.IGNORECASE,
)
"""A sentence that tells how somebody else makes it."""
_OTHERS_WORDS = frozenset(("my", "our", "some", "others"))


def clauses_of(text: str, spans: Sequence[tuple[int, int]]) -> list[Clause]:
    """The clauses of the method with their parts, in order.

    spans: the method's lines.
    """
    clauses: list[Clause] = []
    state = _State(_first_made(text, spans))
    for start, end in unwrapped(text, spans):
        if _ASIDE.match(text, start, end):
            continue
        for first, last in split(text, start, end):
            sentence = text[first:last]
            body, small = body_of(sentence), plain(sentence)
            low = small[len(small) - len(body) :]
            words = frozenset(_WORDS.findall(low))
            if not _OTHERS_WORDS.isdisjoint(words) and _OTHERS.match(text, first, last):
                continue
            state.turn(low, words, _is_heading(body, low, text[last : last + 1], words))
            touches = _touches(small, first, words)
            clauses.append(Clause(first, last, state.part, state.baked, state.headed, touches, words))
            state.bake(clauses[-1], low)
    return clauses


_ANNOUNCED = re.compile(r"(?:meanwhile|while|when|to\s+make|for|next|now|then|in\s+a|once|after|as)\b")
_MAKE = re.compile(r"\s*(?:to\s+)?(?:make|prepare)")


def _opens(low: str, at: int) -> bool:
    """Whether the turn stands where a new piece of work is announced, not in passing ("pour the icing over")."""
    return at < 12 or bool(_ANNOUNCED.match(low)) or bool(_MAKE.match(low, at))
