"""The one error a person can mend: what is wrong, and what to do about it, in one line.

>>> error = Unusable("the paste is empty", "paste a whole recipe")
>>> print(error)
the paste is empty; paste a whole recipe
"""

from __future__ import annotations


class Unusable(ValueError):
    """Input or an argument that cannot be used.

    what: what is wrong. mend: what to do about it ("" where nothing can be done). ``str()`` is both, on one line.
    """

    def __init__(self, what: str, mend: str = "") -> None:
        """Keep both halves, with every run of white space as one blank."""
        self.what = " ".join(what.split())
        self.mend = " ".join(mend.split())
        super().__init__(f"{self.what}; {self.mend}" if self.mend else self.what)

    def __reduce__(self) -> tuple[type[Unusable], tuple[str, str]]:
        """Travel whole between processes."""
        return type(self), (self.what, self.mend)
