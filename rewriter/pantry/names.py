"""Looking up ingredients: by key, by name, by every surface form."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from rewriter.pantry import shelf
from rewriter.pantry.entry import Entry, from_row
from rewriter.pantry.plural import plural


@cache
def entries() -> Mapping[str, Entry]:
    """Every entry by its key, in the order of the tables.

    >>> entries()["baking-soda"].role
    'leavener'
    """
    return MappingProxyType({key: from_row(key, row) for key, row in shelf.tables()["entries"].items()})


def entry(key: str) -> Entry:
    """The entry with this key. Raises KeyError where there is none.

    >>> entry("honey").role
    'syrup'
    """
    return entries()[key]


def surfaces(row: Entry) -> tuple[str, ...]:
    """Every form an entry's names take in print: the singulars, the plurals, both with a curly apostrophe too.

    >>> surfaces(Entry("pecan", ("pecan", "pecan half"), "other", countable=True))
    ('pecan', 'pecan half', 'pecans', 'pecan halves')
    """
    forms = dict.fromkeys(row.names)
    if row.countable:
        forms.update(dict.fromkeys(plural(name) for name in row.names))
    forms.update(dict.fromkeys(row.plurals))
    forms.update(dict.fromkeys(form.replace("'", "’") for form in tuple(forms) if "'" in form))
    return tuple(forms)


@cache
def _phrases() -> tuple[tuple[str, str], ...]:
    claimed: dict[str, str] = {}
    for key, row in entries().items():
        for form in surfaces(row):
            if claimed.setdefault(form, key) != key:
                raise ValueError(f"pantry: {form!r} is claimed by {claimed[form]} and by {key}")
    return tuple(claimed.items())


def phrases() -> list[tuple[str, str]]:
    """Every surface form (lower case, singular and plural) with the key it names; each form stands once.

    >>> ("egg whites", "egg-white") in phrases()
    True
    """
    return list(_phrases())


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())


@cache
def _by_phrase() -> Mapping[str, str]:
    return MappingProxyType({_plain(phrase): key for phrase, key in reversed(_phrases())})


def find(name: str) -> Entry | None:
    """The entry a whole name stands for, or None. Case, hyphens and outer blanks do not count.

    >>> find("Plain Flour").key, find("all purpose flour").key
    ('all-purpose-flour', 'all-purpose-flour')
    """
    key = _by_phrase().get(_plain(name))
    return None if key is None else entries()[key]
