"""Who may come in: checks of the Host header, of cross-site requests and of the token, and the headers of safety.

A page elsewhere can reach a program on this machine only by a host *name* that it has pointed here, or by a request
sent from its own site. The first is refused by the Host header, the second by Origin and Sec-Fetch-Site (W3C Fetch
Metadata Request Headers) and by the kinds of body the API takes, which no form can send.

>>> door = Door("127.0.0.1", 8420)
>>> door.knows("127.0.0.1:8420"), door.knows("localhost:8420"), door.knows("kitchen.example:8420")
(True, True, False)
>>> Door("0.0.0.0", 8420).knows("192.168.1.20:8420")
True
"""

from __future__ import annotations

import hmac
import ipaddress
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from dataclasses import dataclass
from typing import Any

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse

Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

CSP = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "connect-src 'self'",
        "form-action 'none'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
        "trusted-types 'none'",
    )
)
SAFE = {
    "content-security-policy": CSP,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "cache-control": "no-store",
}
BODIES = ("application/json", "application/octet-stream")  # a form elsewhere can send neither


@dataclass(frozen=True, slots=True)
class Door:
    """Where the program listens, under which further names it may be called, and the token it asks for ("": none).

    port 0 takes any port in the Host header: for tests and servers that choose their own.
    """

    host: str = "127.0.0.1"
    port: int = 0
    names: tuple[str, ...] = ()
    token: str = ""

    @property
    def open(self) -> bool:
        """Whether other machines can reach it."""
        return not is_loopback(self.host)

    def knows(self, host: str) -> bool:
        """Whether a Host header is one of ours: loopback, a name given, or (when open) an address in figures."""
        name, port = split(host)
        if self.port and port != self.port:
            return False
        if is_loopback(name) or name in {one.casefold() for one in (*self.names, self.host)}:
            return True
        return self.open and _is_address(name)

    def admits(self, authorization: str) -> bool:
        """Whether the header carries the token, compared in constant time."""
        kind, _, told = authorization.partition(" ")
        return not self.token or (
            kind.casefold() == "bearer" and hmac.compare_digest(told.strip().encode(), self.token.encode())
        )


class Guard:
    """Lets through what the door admits, and sets the headers of safety on every answer."""

    def __init__(self, app: App, door: Door) -> None:
        self.app, self.door = app, door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse with one line that says why, or pass on."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def safe(message: MutableMapping[str, Any]) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(SAFE)
            await send(message)

        refusal = self._refusal(scope, Headers(scope=scope))
        await (refusal(scope, receive, safe) if refusal else self.app(scope, receive, safe))

    def _refusal(self, scope: Scope, headers: Headers) -> JSONResponse | None:
        hosts = headers.getlist("host")
        if len(hosts) != 1 or not self.door.knows(hosts[0]):
            return refuse(421, "this address is not one of ours", "open the address that rewriter serve printed")
        if self._foreign(scope, headers, hosts[0]):
            return refuse(403, "a page elsewhere may not use this program", "open the page itself")
        if scope["path"].startswith("/api/") and not self.door.admits(headers.get("authorization", "")):
            answer = refuse(401, "this needs the token", "type the token that rewriter serve printed")
            answer.headers["www-authenticate"] = "Bearer"
            return answer
        if scope["method"] == "POST" and headers.get("content-type", "").partition(";")[0].strip() not in BODIES:
            return refuse(415, "this kind of body is not taken", f"send {' or '.join(BODIES)}")
        return None

    @staticmethod
    def _foreign(scope: Scope, headers: Headers, host: str) -> bool:
        """Whether another site sent it; following a link to the page itself is allowed."""
        origin = headers.get("origin")
        if origin is not None and origin.casefold() != f"{scope.get('scheme', 'http')}://{host}".casefold():
            return True
        if headers.get("sec-fetch-site", "same-origin") in ("same-origin", "none"):
            return False
        visit = headers.get("sec-fetch-mode") == "navigate" and headers.get("sec-fetch-dest") == "document"
        return not (visit and scope["method"] == "GET" and scope["path"] in ("/", "/api"))


def refuse(status: int, what: str, mend: str = "", **more: object) -> JSONResponse:
    """An error as the API gives it: what is wrong, and how to mend it."""
    return JSONResponse({"error": {"what": what, "mend": mend, **more}}, status_code=status)


def split(host: str) -> tuple[str, int]:
    """Name and port of a Host header; port 80 where it names none, -1 where it is no number.

    >>> split("[::1]:8420"), split("LocalHost")
    (('::1', 8420), ('localhost', 80))
    """
    name, port = host.strip().casefold(), ""
    if name.startswith("["):
        name, _, port = name[1:].partition("]")
        port = port.removeprefix(":")
    elif name.count(":") == 1:
        name, _, port = name.partition(":")
    return name.rstrip("."), int(port) if port.isdecimal() and port.isascii() else (-1 if port else 80)


def is_loopback(name: str) -> bool:
    """Whether a name or address is this machine alone.

    >>> is_loopback("127.0.0.1"), is_loopback("::1"), is_loopback("0.0.0.0"), is_loopback("127.0.0.1.example")
    (True, True, False, False)
    """
    return name == "localhost" or (_is_address(name) and ipaddress.ip_address(name).is_loopback)


def addresses(names: Iterable[str]) -> tuple[str, ...]:
    """Names as a Host header has them: lower case, without brackets and a final dot."""
    return tuple(split(name)[0] for name in names)


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True
