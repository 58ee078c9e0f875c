"""Each specimen card in turn."""

from __future__ import annotations

import pytest

from rewriter.intake import Taken
from rewriter.writing.registry import Job
from tests.overlay.cards import NAMES, card


@pytest.fixture(params=NAMES)
def specimen(request: pytest.FixtureRequest) -> tuple[Taken, Job, bytes]:
    return card(request.param)
