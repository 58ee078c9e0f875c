r"""Intake: a file as people keep recipes (text, web page, document, PDF, photo, archive) to its text, word for word.

>>> from rewriter import intake
>>> taken = intake.take(b"<h1>Snow Cake</h1><ul><li>2 cups flour</li></ul>", "snow.html")
>>> taken.kind, taken.text
('web page', 'Snow Cake\n\n  * 2 cups flour\n')
"""

from __future__ import annotations

from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.take import take, take_each
from rewriter.intake.taken import Taken

__all__ = ["LIMITS", "Limits", "Taken", "take", "take_each"]
