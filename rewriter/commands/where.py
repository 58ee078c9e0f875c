"""Where the kitchen is: the options that every command about one kitchen shares."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

from rewriter.api import kitchen
from rewriter.commands.annotate import HOW
from rewriter.errors import Unusable
from rewriter.model import Air, Query

F = TypeVar("F", bound=Callable[..., Any])

OPTIONS = (
    click.option("-e", "--elevation", help='Where the kitchen is: "6500 ft" or "1981 m".'),
    click.option("--barometer", help='Station pressure there: "796.9 hPa" or "23.53 inHg".'),
    click.option("--boils-at", help='Where plain water boils there: "200 F" or "93.4 C".'),
    click.option("--written-for", default="0 ft", show_default=True, help="The elevation the recipe was written for."),
    click.option("--strength", default="middle", show_default=True, help="gentle, middle or full."),
)


def kitchen_options(command: F) -> F:
    """Add the options to a command."""
    for option in reversed(OPTIONS):
        command = option(command)
    return command


def place(elevation: str | None, barometer: str | None, boils_at: str | None) -> tuple[Air, list[Query]]:
    """The air of the kitchen and a question where what is given disagrees. Raises Unusable where nothing is given."""
    if elevation is None and barometer is None and boils_at is None:
        raise Unusable("it is not said where the kitchen is", HOW)
    return kitchen(elevation, barometer, boils_at)
