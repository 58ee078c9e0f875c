"""The error a person can mend."""

from __future__ import annotations

import pickle

from rewriter.air import NoSuchAir
from rewriter.errors import Unusable


def test_it_travels_between_processes_whole() -> None:
    for error in (Unusable("a", "b"), NoSuchAir("c")):
        again = pickle.loads(pickle.dumps(error))
        assert (type(again), again.what, again.mend, str(again)) == (type(error), error.what, error.mend, str(error))


def test_it_is_one_line() -> None:
    assert str(Unusable("a\nb", "c\r\n d")) == "a b; c d"
