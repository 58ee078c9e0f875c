"""The pantry: what bakers know about ingredients, units, oven words and kinds of bake, in tables anyone can mend.

>>> from fractions import Fraction
>>> from rewriter import pantry
>>> flour = pantry.find("plain flour")
>>> flour.role, pantry.grams(flour, Fraction(1), "cup")
('flour', (115.0, 125.0, 145.0))
"""

from rewriter.pantry.entry import Entry
from rewriter.pantry.names import entries, entry, find, phrases
from rewriter.pantry.oven import OvenWord, gas_mark, oven_phrases, oven_word, to_gas_mark
from rewriter.pantry.tables import Kind, Measure, kinds, measure, measure_phrases, measures, roles
from rewriter.pantry.units import UnitError, convert, dimension, factor, known_units
from rewriter.pantry.weigh import grams

__all__ = [
    "Entry",
    "Kind",
    "Measure",
    "OvenWord",
    "UnitError",
    "convert",
    "dimension",
    "entries",
    "entry",
    "factor",
    "find",
    "gas_mark",
    "grams",
    "kinds",
    "known_units",
    "measure",
    "measure_phrases",
    "measures",
    "oven_phrases",
    "oven_word",
    "phrases",
    "roles",
    "to_gas_mark",
]
