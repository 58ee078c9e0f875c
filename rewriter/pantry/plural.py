"""The plural of an ingredient name, by rule.

English kitchen nouns only: the head of "cream of X" or "X in Y" takes the ending, everything else takes it last.
"""

from __future__ import annotations

_SPLITS = (" of ", " in ", " with ", " on the ", " for ")
_IRREGULAR = {
    "leaf": "leaves",
    "loaf": "loaves",
    "half": "halves",
    "knife": "knives",
    "calf": "calves",
    "goose": "geese",
    "radish": "radishes",
}
# Fish, meat, grain and what is bought by weight: the same in the plural.
_UNCHANGED = frozenset(
    """squash fish shrimp couscous asparagus hummus molasses swiss oats grits greens salmon beef tuna cod pork lamb veal
    mutton venison bacon ham brisket prosciutto pancetta salami pastrami chorizo halibut trout haddock snapper tilapia
    catfish bass seafood squid calamari surimi caviar roe crabmeat meat poultry mince tofu cheese butter
    pasta spaghetti macaroni penne orzo ziti rigatoni fusilli rotini farfalle gnocchi ravioli tortellini lasagna ramen
    rice corn popcorn sweetcorn garlic ginger spinach kale chard arugula rocket lettuce watercress celery broccoli
    cauliflower cabbage okra jicama taro cassava yuca daikon celeriac kimchi nori kombu wakame seaweed kelp edamame
    natto fennel lemongrass watermelon rhubarb coconut citron fruit praline chocolate candy fudge toffee nougat licorice
    caramel bark fondant icing frosting jam jelly gelatin agar pudding collagen flax chia linseed sesame hemp panko
    granola muesli cereal bran bread toast pastry phyllo filo brittle topping filling mix crust dough lox""".split()
)
_O_TAKES_ES = frozenset(("potato", "tomato", "mango"))
_SIBILANT = ("s", "x", "z", "ch", "sh")


def plural_word(word: str) -> str:
    """The plural of one noun.

    >>> [plural_word(w) for w in ("egg", "cherry", "peach", "potato", "avocado", "bay leaf".split()[1])]
    ['eggs', 'cherries', 'peaches', 'potatoes', 'avocados', 'leaves']
    """
    if word in _UNCHANGED:
        return word
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if word in _O_TAKES_ES:
        return word + "es"
    if word.endswith("y") and len(word) > 1 and word[-2] not in "aeiou":
        return word[:-1] + "ies"
    return word + ("es" if word.endswith(_SIBILANT) else "s")


def plural(name: str) -> str:
    """The plural of a name of one or more words.

    >>> plural("egg white"), plural("ear of corn"), plural("chocolate chip")
    ('egg whites', 'ears of corn', 'chocolate chips')
    """
    for split in _SPLITS:
        head, found, tail = name.partition(split)
        if found:
            return plural(head) + found + tail
    front, space, last = name.rpartition(" ")
    return front + space + plural_word(last)
