"""``rewriter serve``: the page, on this machine."""

from __future__ import annotations

import secrets
import socket
import threading
from typing import TYPE_CHECKING

import click

from rewriter.errors import Unusable
from rewriter.extras import missing

if TYPE_CHECKING:
    from rewriter.web import Door

PORT = 8260  # Cinder Pass, and a little above it


@click.command()
@click.option("--host", default="127.0.0.1", show_default=True, help="The address to listen on.")
@click.option("--port", default=PORT, show_default=True, type=click.IntRange(0, 65535), help="0 takes any free port.")
@click.option("--name", "names", multiple=True, help="A further host name the page is called by. Repeatable.")
@click.option("--token", envvar="REWRITER_TOKEN", help="The token to ask for.  [default: made anew beyond loopback]")
@click.option("--box", metavar="FILE", help="A recipe box to keep recipes in, with pages of its own.")
@click.option("--open", "show", is_flag=True, help="Open the page in the browser.")
def serve(host: str, port: int, names: tuple[str, ...], token: str | None, box: str | None, show: bool) -> int:
    """Open the page: paste on the left, your recipe for your kitchen on the right.

    It listens on this machine alone. With --host 0.0.0.0 phones and tablets of the house reach it too, and it then asks
    for the token it prints. Nothing is stored but what you keep in a box given with --box, and nothing leaves this
    machine. Ctrl-C ends it.
    """
    try:
        import uvicorn

        from rewriter.web import Door, create_app
        from rewriter.web.guard import addresses, is_loopback
        from rewriter.web.jobs import warm
    except ModuleNotFoundError as error:
        raise Unusable(*(missing(error) or f"{error}; install it").split("; ", 1)) from None
    if box is not None:
        _ready(box)
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # Named TCP, so that asyncio sends each answer at once: otherwise its second packet waits 40 ms for a receipt.
    given = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    given.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        given.bind((host, port))
        given.listen(128)  # from here on nobody else can take the port, and whoever calls early waits
    except OSError as error:
        given.close()
        raise Unusable(f"{host}:{port} cannot be listened on: {error.strerror}", "choose another --port") from None
    port = given.getsockname()[1]
    secret = token or ("" if is_loopback(host) else secrets.token_urlsafe(18))
    door = Door(host, port, addresses(names), secret)
    address = page_address(door)
    click.echo(address)
    click.echo("Ctrl-C ends it.", err=True)
    config = uvicorn.Config(
        create_app(door, box),
        access_log=False,
        log_level="warning",
        lifespan="off",
        ws="none",
        proxy_headers=False,
        server_header=False,
        limit_concurrency=64,
        timeout_keep_alive=15,
        timeout_graceful_shutdown=2,
    )
    threading.Thread(target=warm, daemon=True).start()
    if show:
        import webbrowser

        webbrowser.open(address)
    with given:
        uvicorn.Server(config).run(sockets=[given])
    return 0


def _ready(box: str) -> None:
    """Make the box where there is none. Raises Unusable where it cannot be used, before anybody asks for a page."""
    from rewriter.collection import Box

    Box(box).close()


def page_address(door: Door) -> str:
    """Where to find the page; the token stands after the #, which a browser keeps to itself.

    >>> from rewriter.web import Door
    >>> page_address(Door("::1", 8260))
    'http://[::1]:8260/'
    >>> page_address(Door("127.0.0.1", 8260, token="t"))
    'http://127.0.0.1:8260/#t'
    """
    host = own_address() if door.host in ("0.0.0.0", "::") else door.host
    shown = f"[{host}]" if ":" in host else host
    return f"http://{shown}:{door.port}/" + (f"#{door.token}" if door.token else "")


def own_address() -> str:
    """The address of this machine in its own network; no packet is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(
                ("192.0.2.1", 9)
            )  # an address for documentation (RFC 5737): only the route to it is looked up
        except OSError:
            return "127.0.0.1"
        return str(asked.getsockname()[0])
