"""The API described in OpenAPI 3.1, the open format: for other programs, and for the page /api."""

from __future__ import annotations

from functools import cache
from typing import Any

from rewriter import __version__
from rewriter.web.shapes import SHAPES, ref

ERRORS = {
    "401": "The token is lacking or wrong (only where the program listens beyond this machine).",
    "403": "The request comes from a page elsewhere.",
    "413": "The text or file is too large.",
    "415": "The body has another media type.",
    "421": "The Host header names another address.",
    "422": "The paste or an argument cannot be used; the error says what is wrong and how to mend it.",
    "501": "A library is missing; the error says which extra to install.",
    "503": "The work took too long and was stopped.",
}
POSTS = (
    (
        "annotate",
        "Annotate every recipe in a paste",
        "Annotated",
        "One card a recipe: changes, notes, questions.",
    ),
    (
        "compare",
        "Set the guides side by side",
        "Compared",
        "What each guide writes at each place.",
    ),
    (
        "curves",
        "Follow the guides over elevation",
        "Curves",
        "Leavening, sugar, liquid and oven to 12,000 ft.",
    ),
    ("formula", "Weigh the formula before and after", "Formulas", "Baker's percent by role."),
    ("next", "Find the next step after a bake", "Following", "What to change next, one change at a time."),
)


@cache
def description() -> dict[str, Any]:
    """The whole description, as plain values."""
    paths: dict[str, Any] = {
        f"/api/{name}": {"post": _post(name, summary, shape, text)} for name, summary, shape, text in POSTS
    }
    paths["/api/file"] = {"post": _file()}
    paths["/api/intake"] = {"post": _intake()}
    paths["/api/choices"] = {
        "get": {
            "operationId": "choices",
            "summary": "List what there is to choose from",
            "responses": _responses("Choices", "The names there are.", ("401",)),
        }
    }
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "rewriter",
            "version": __version__,
            "license": {"name": "MIT", "identifier": "MIT"},
            "description": (
                "Recipes annotated for baking at an elevation: the API that the page itself uses. Offsets count "
                "characters (Unicode code points) of `source`. Nothing is stored, and nothing leaves this machine."
            ),
        },
        "servers": [{"url": "/"}],
        "security": [{}, {"token": []}],
        "paths": paths,
        "components": {
            "schemas": SHAPES,
            "securitySchemes": {
                "token": {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "Asked for only where the program listens beyond this machine.",
                }
            },
        },
    }


def _post(name: str, summary: str, shape: str, text: str) -> dict[str, Any]:
    return {
        "operationId": name,
        "summary": summary,
        "requestBody": {"required": True, "content": {"application/json": {"schema": ref("Ask")}}},
        "responses": _responses(shape, text, ("401", "403", "413", "415", "421", "422", "503")),
    }


def _file() -> dict[str, Any]:
    made = _post("file", "Save in a style", "Error", "The file.")
    made["responses"]["200"] = {
        "description": "The file, its name in Content-Disposition.",
        "content": {"application/octet-stream": {}, "text/plain": {}, "text/html": {}},
    }
    made["responses"]["501"] = _error("501")
    return made


def _intake() -> dict[str, Any]:
    name = {
        "name": "X-File-Name",
        "in": "header",
        "required": False,
        "description": "The file's name, percent-encoded.",
        "schema": {"type": "string"},
    }
    return {
        "operationId": "intake",
        "summary": "Read the text of a file",
        "parameters": [name],
        "requestBody": {"required": True, "content": {"application/octet-stream": {}}},
        "responses": _responses("Taken", "Its text.", ("401", "403", "413", "415", "421", "422", "501", "503")),
    }


def _responses(shape: str, text: str, errors: tuple[str, ...]) -> dict[str, Any]:
    done = {"description": text, "content": {"application/json": {"schema": ref(shape)}}}
    return {"200": done, **{status: _error(status) for status in errors}}


def _error(status: str) -> dict[str, Any]:
    return {"description": ERRORS[status], "content": {"application/json": {"schema": ref("Error")}}}
