"""schema.org Recipe, in whatever shape it comes, to the text of a recipe: https://schema.org/Recipe.

>>> print(as_text({"@type": "Recipe", "name": "Snow Cake", "recipeIngredient": ["2 cups flour"],
...     "recipeInstructions": [{"@type": "HowToStep", "text": "Bake at 350 F."}]}), end="")
Snow Cake
<BLANKLINE>
Ingredients
2 cups flour
<BLANKLINE>
Directions
1. Bake at 350 F.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from typing import Any

_TAG = re.compile(r"<[^<>]{0,300}>")
_BREAK = re.compile(r"<\s*(?:br|/p|/li|/div)\b[^<>]{0,100}>", re.I)
_STEP = re.compile(r"\s*(?:step\s*)?\d{1,2}\s*[.):]\s", re.I)
_DEEP = 12
_LENGTH = re.compile(r"P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?(?:\d+S)?)?$")
_TIMES = (("prepTime", "Preparation"), ("cookTime", "Baking"), ("totalTime", "In all"))


def recipes(value: object, depth: int = 0) -> Iterator[dict[str, Any]]:
    """Every Recipe in JSON-LD, in ``@graph``, lists and nested values, in the order it stands.

    >>> [one["name"] for one in recipes({"@graph": [{"@type": ["Thing", "Recipe"], "name": "Rusk"}]})]
    ['Rusk']
    """
    if depth > _DEEP:
        return
    if isinstance(value, list):
        for item in value:
            yield from recipes(item, depth + 1)
    elif isinstance(value, dict):
        if "Recipe" in _types(value):
            yield value
        else:
            for item in value.values():
                if isinstance(item, (dict, list)):
                    yield from recipes(item, depth + 1)


def whole(recipe: dict[str, Any]) -> bool:
    """Whether a Recipe has both its ingredients and its method."""
    return bool(_ingredients(recipe)) and bool(list(_steps(_of(recipe, "recipeInstructions", "instructions"))))


def as_text(recipe: dict[str, Any]) -> str:
    """The recipe as a person would copy it: title, description, yield, ingredients, numbered steps.

    Words are kept as they are; only markup and entities inside them are resolved.
    """
    title = _plain(recipe.get("name"))
    head = [_plain(recipe.get("description")), _yield(recipe), _times(recipe)]
    blocks = [title, "\n".join(line for line in head if line)]
    lines = _ingredients(recipe)
    if lines:
        blocks.append("Ingredients\n" + "\n".join(lines))
    steps = list(_numbered(_steps(_of(recipe, "recipeInstructions", "instructions"))))
    if steps:
        blocks.append("Directions\n" + "\n".join(steps))
    return "\n\n".join(block for block in blocks if block) + "\n"


def _types(value: dict[str, Any]) -> list[str]:
    types = value.get("@type", value.get("type", ()))
    types = types if isinstance(types, list) else [types]
    return [str(one).rsplit("/", 1)[-1].rsplit(":", 1)[-1] for one in types]


def _of(recipe: dict[str, Any], *names: str) -> object:
    """Its properties, where microdata has nested them, too."""
    return next((recipe[name] for name in names if recipe.get(name)), None)


def _plain(value: object) -> str:
    """One line without markup. Of several values, the first."""
    if isinstance(value, list):
        value = value[0] if value else ""
    if isinstance(value, dict):
        value = value.get("@value") or value.get("name") or value.get("text") or ""
    text = html.unescape(_TAG.sub(" ", str(value))) if value is not None else ""
    return " ".join(text.split())


def _ingredients(recipe: dict[str, Any]) -> list[str]:
    found = _of(recipe, "recipeIngredient", "ingredients", "supply")
    if isinstance(found, str):
        found = _BREAK.sub("\n", found).split("\n")
    items = found if isinstance(found, list) else [found]
    return [line for line in (_plain(item) for item in items) if line]


def _yield(recipe: dict[str, Any]) -> str:
    given = recipe.get("recipeYield") or recipe.get("yield")
    values = given if isinstance(given, list) else [given]
    texts = [_plain(value) for value in values]
    text = max(texts, key=len)
    if not text:
        return ""
    return text if re.match(r"(?:makes|serves|yield)", text, re.I) else f"Makes: {text}"


def _times(recipe: dict[str, Any]) -> str:
    told = ((word, _length(recipe.get(name))) for name, word in _TIMES)
    return "; ".join(f"{word}: {length}" for word, length in told if length)


def _length(value: object) -> str:
    """A duration of ISO 8601 in words; free words stay."""
    text = _plain(value)
    match = _LENGTH.match(text)
    if not match:
        return text if re.search(r"\d", text) and not text.startswith("P") else ""
    days, hours, minutes = (int(part or 0) for part in match.groups())
    parts = ((days, "d"), (hours, "h"), (minutes, "min"))
    return " ".join(f"{count} {unit}" for count, unit in parts if count)


def _steps(value: object, depth: int = 0) -> Iterator[tuple[str, str]]:
    """("heading" or "step", words) in order."""
    if depth > _DEEP or value is None:
        return
    if isinstance(value, list):
        for item in value:
            yield from _steps(item, depth + 1)
    elif isinstance(value, dict):
        inner = value.get("itemListElement") or value.get("steps")
        name, text = _plain(value.get("name")), value.get("text")
        if inner:
            if name:
                yield "heading", name
            yield from _steps(inner, depth + 1)
        elif text or name:
            yield from _steps(text if text else name, depth + 1)
    else:
        for line in re.split(r"\n+", _BREAK.sub("\n", str(value))):
            words = _plain(line)
            if words:
                yield "step", words


def _numbered(steps: Iterator[tuple[str, str]]) -> Iterator[str]:
    number = 0
    for kind, words in steps:
        if kind == "heading":
            yield words if words.endswith(":") else f"{words}:"
        elif _STEP.match(words):
            yield words
        else:
            number += 1
            yield f"{number}. {words}"
