"""Records are what frozen dataclasses with slots are."""

from __future__ import annotations

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, replace
from fractions import Fraction

import pytest

from rewriter.model import Amount
from rewriter.record import record


@dataclass(frozen=True, slots=True)
class Slow:
    x: int
    y: str = "why"


@record
class Quick:
    x: int
    y: str = "why"


def test_a_record_is_made_compared_and_shown_as_a_dataclass() -> None:
    assert repr(Quick(1)) == repr(Slow(1)).replace("Slow", "Quick")
    assert hash(Quick(1, "no")) == hash(Slow(1, "no"))
    assert Quick(1) == Quick(x=1, y="why") != Quick(2)
    with pytest.raises(TypeError):
        Quick()


def test_a_record_stays_as_it_is() -> None:
    one = Quick(1)
    assert type(one) is Quick
    with pytest.raises(FrozenInstanceError):
        one.x = 2
    with pytest.raises((AttributeError, TypeError)):
        one.z = 2
    assert replace(one, x=2) == Quick(2)


def test_a_record_travels() -> None:
    amount = Amount(0, 5, "1 cup", Fraction(1), unit="cup")
    assert pickle.loads(pickle.dumps(amount)) == copy.deepcopy(amount) == amount
