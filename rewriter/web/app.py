"""The ASGI application: the page, its script and style, and the JSON API that the page itself uses.

>>> from starlette.testclient import TestClient
>>> page = TestClient(create_app(), base_url="http://127.0.0.1")
>>> page.post("/api/annotate", json={"text": "", "elevation": "8200 ft"}).json()["error"]["what"]
'the paste is empty'
"""

from __future__ import annotations

import json
from collections.abc import Callable, Coroutine
from functools import cache
from typing import Any

import jinja2
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from rewriter import __version__
from rewriter.errors import Unusable
from rewriter.extras import missing
from rewriter.web import jobs, uploads
from rewriter.web.ask import Ask, ask
from rewriter.web.choices import choices
from rewriter.web.guard import App, Door, Guard, refuse
from rewriter.web.limits import BODY, Slow, TooBig, body_of, within
from rewriter.web.openapi import description

Handler = Callable[[Request], Coroutine[Any, Any, Response]]


def create_app(door: Door | None = None, box: str | None = None) -> App:
    """The application behind a door; by default loopback, any port, no token. Needs the extra ``web``.

    box: the path of a recipe box, whose pages are then there too (extra ``box``).
    """
    routes = [
        Route("/", page),
        Route("/api", documentation),
        Route("/api/openapi.json", openapi),
        Route("/api/choices", told),
        Route("/api/file", guarded(download), methods=["POST"]),
        Route("/api/intake", guarded(intake), methods=["POST"]),
        *(Route(f"/api/{name}", guarded(job(name)), methods=["POST"]) for name in jobs.JOBS),
        *_of_box(box),
        Mount("/static", StaticFiles(packages=[("rewriter.web", "static")]), name="static"),
    ]
    app = Starlette(routes=routes, exception_handlers={HTTPException: plain_error})
    app.state.box = bool(box)
    return Guard(app, door or Door())


def _of_box(box: str | None) -> list[Route]:
    if box is None:
        return []
    from rewriter.web.boxpages import routes

    return routes(box)


def guarded(handler: Handler) -> Handler:
    """A handler whose complaints come back as one line each: what is wrong, and how to mend it."""

    async def answered(request: Request) -> Response:
        try:
            return await handler(request)
        except TooBig as error:
            return refuse(413, error.what, error.mend)
        except Slow as error:
            return refuse(503, error.what, error.mend)
        except Unusable as error:
            return refuse(422, error.what, error.mend)
        except ModuleNotFoundError as error:
            line = missing(error)
            if line is None:
                raise
            return refuse(501, *line.split("; ", 1))

    return answered


async def json_of(request: Request) -> Any:
    """The JSON of a request's body. Raises Unusable where it is none, TooBig, Slow."""
    data = await body_of(request, BODY)
    try:
        return json.loads(data)
    except (ValueError, RecursionError):
        raise Unusable("the body is no JSON", "send a JSON object in UTF-8") from None


async def asked_of(request: Request) -> Ask:
    """A request's body as what is asked of a paste."""
    return ask(await json_of(request))


def job(name: str) -> Handler:
    """The handler of one job of the table: a request's body in, JSON out."""

    async def handler(request: Request) -> Response:
        asked = await asked_of(request)
        data = await within(jobs.done, name, asked, size=len(asked.text))
        return Response(data, media_type="application/json")

    return handler


async def download(request: Request) -> Response:
    """A file in the style asked for."""
    asked = await asked_of(request)
    name, kind, data = await within(jobs.saved, asked, size=len(asked.text))
    return Response(data, media_type=kind, headers={"content-disposition": f'attachment; filename="{name}"'})


async def intake(request: Request) -> Response:
    """The text of a dropped file."""
    data = await body_of(request, uploads.MOST)
    return JSONResponse(await uploads.take(data, request.headers.get("x-file-name", "")))


async def told(_: Request) -> Response:
    """What there is to choose from."""
    return JSONResponse(choices())


async def openapi(request: Request) -> Response:
    """The API in the open description format OpenAPI 3.1."""
    return JSONResponse(_described(request))


async def page(request: Request) -> Response:
    """The page."""
    return HTMLResponse(render("page.html", choices=choices(), box=request.app.state.box))


async def documentation(request: Request) -> Response:
    """The API for people to read."""
    return HTMLResponse(render("api.html", api=_described(request)))


def _described(request: Request) -> dict[str, Any]:
    if not request.app.state.box:
        return description()
    from rewriter.web.boxshapes import described

    return described()


async def plain_error(_: Request, error: Exception) -> Response:
    """No such page, or no such method."""
    assert isinstance(error, HTTPException)
    return refuse(error.status_code, error.detail.lower(), "GET /api tells what there is")


@cache
def _template(name: str) -> jinja2.Template:
    loader = jinja2.PackageLoader("rewriter.web")
    return jinja2.Environment(loader=loader, autoescape=True, undefined=jinja2.StrictUndefined).get_template(name)


def render(name: str, **values: object) -> str:
    """A template with values set in it."""
    return _template(name).render(version=__version__, **values)
