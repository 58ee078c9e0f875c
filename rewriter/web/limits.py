"""Limits of size and time: how much is read, and how long the work may take."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, partial
from typing import Any, ParamSpec, TypeVar

import anyio
import anyio.to_process
import anyio.to_thread
from starlette.requests import Request

from rewriter.errors import Unusable

BODY = 16_000_000  # bytes of JSON: 5 MB of text, with room for escapes
LARGE = 100_000  # characters from which the work is done in a process of its own, which can be stopped
SECONDS = 30.0
READING = 90.0  # seconds to read a file: a photo takes its time
AT_ONCE = 2

Given = ParamSpec("Given")
Made = TypeVar("Made")


class TooBig(Unusable):
    """More bytes than are taken."""


class Slow(Unusable):
    """Work that took longer than it may."""


@cache
def _turns() -> anyio.CapacityLimiter:
    return anyio.CapacityLimiter(AT_ONCE)


async def body_of(request: Request, most: int) -> bytes:
    """The body of a request, no byte of it kept beyond the limit. Raises TooBig, or Slow where it does not come."""
    said = request.headers.get("content-length", "")
    parts: list[bytes] = []
    size = int(said) if said.isdecimal() else 0
    if size <= most:
        size = 0
        with anyio.move_on_after(SECONDS) as scope:
            async for part in request.stream():
                size += len(part)
                if size > most:
                    break
                parts.append(part)
        if scope.cancelled_caught:
            raise Slow(f"the upload took more than {SECONDS:.0f} seconds", "try again, or give a smaller file")
    if size > most:
        raise TooBig(f"this is more than {most // 1_000_000} MB", "split it, and give each part by itself")
    return b"".join(parts)


async def within(
    work: Callable[Given, Made], *given: Any, size: int = 0, apart: bool = False, seconds: float | None = None
) -> Made:
    """Do the work beside the server: in a thread, or (large, or ``apart``) in a process that is stopped when late.

    Raises Slow where it takes longer than the limit.
    """
    call, limit = partial(work, *given), seconds or SECONDS
    with anyio.move_on_after(limit):
        if apart or size > LARGE:
            return await anyio.to_process.run_sync(call, cancellable=True, limiter=_turns())
        return await anyio.to_thread.run_sync(call, abandon_on_cancel=True, limiter=_turns())
    raise Slow(f"this took more than {limit:.0f} seconds and was stopped", "split it, and give each part by itself")
