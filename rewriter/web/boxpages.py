"""The recipe box on the page: its routes, there only where ``create_app`` is given a box.

The pages themselves hold nothing of the box: their script asks the API, which stands behind the same guards as the
rest. Each request opens the box by itself, so that the command line and other pages may write at the same time.

>>> [route.path for route in routes("box.sqlite")][:3]
['/box', '/box/twins', '/box/{number:int}']
"""

from __future__ import annotations

import shutil
import tempfile
from functools import partial

from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, Response
from starlette.routing import Route

from rewriter.web import boxasks, boxjobs, boxout
from rewriter.web.app import Handler, asked_of, guarded, json_of, render
from rewriter.web.choices import choices
from rewriter.web.limits import within

WHOLE = 120.0  # seconds for what goes through every card
LONG = ("twins",)
MIME = "application/json"


def routes(path: str) -> list[Route]:
    """Every page of the box at a path, and its part of the API."""
    return [
        Route("/box", shown("list")),
        Route("/box/twins", shown("twins")),
        Route("/box/{number:int}", shown("card")),
        Route("/api/box/keep", guarded(partial(_keep, path)), methods=["POST"]),
        Route("/api/box/out", guarded(partial(_out, path)), methods=["POST"]),
        *(Route(f"/api/box/{name}", guarded(partial(_job, path, name)), methods=["POST"]) for name in boxjobs.JOBS),
    ]


def shown(view: str) -> Handler:
    """The handler of a page of the box."""

    async def page(_: Request) -> Response:
        return HTMLResponse(render("box.html", view=view, choices=choices()))

    return page


async def _job(path: str, name: str, request: Request) -> Response:
    told = boxasks.told(name, await json_of(request))
    apart = name in LONG
    data = await within(boxjobs.done, path, name, told, apart=apart, seconds=WHOLE if apart else None)
    return Response(data, media_type=MIME)


async def _keep(path: str, request: Request) -> Response:
    asked = await asked_of(request)
    return Response(await within(boxjobs.kept, path, asked, size=len(asked.text)), media_type=MIME)


async def _out(path: str, request: Request) -> Response:
    """A file, written to a folder of its own that is gone when it is sent."""
    told = boxasks.told("out", await json_of(request))
    room = tempfile.mkdtemp(prefix="box-out-")
    clear = partial(shutil.rmtree, room, ignore_errors=True)
    try:
        made, kind = await within(boxout.taken, path, told, room, apart=True, seconds=WHOLE)
    except BaseException:
        clear()
        raise
    return FileResponse(made, media_type=kind, filename=made.name, background=BackgroundTask(clear))
