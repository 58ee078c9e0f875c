"""Files and standard streams as bytes: what every command reads from and writes to.

>>> pairs(("kind@0=cookie",))
(Answer(query='kind@0', value='cookie'),)
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

import click

from rewriter import paste
from rewriter.codec import Form, decode
from rewriter.errors import Unusable
from rewriter.model import Answer

FILE = click.argument("file", default="-", metavar="[FILE|-]")
ANSWER = click.option(
    "--answer",
    "answers",
    multiple=True,
    metavar="ID=VALUE",
    help="Answer a question, or overrule a reading. Repeatable.",
)


def read_text(file: str) -> tuple[str, Form]:
    """Text of a file, or of standard input for "-", and the form it had. Raises Unusable where it is no text."""
    if file == "-":
        if sys.stdin.isatty():
            click.echo("Paste the recipe, then press Ctrl-D on a line of its own.", err=True)
        data = sys.stdin.buffer.read(4 * paste.LIMIT + 1)
    else:
        try:
            with Path(file).open("rb") as opened:
                data = opened.read(4 * paste.LIMIT + 1)
        except OSError as error:
            raise Unusable(
                f"{file} cannot be read: {error.strerror}", "check its name, or paste to standard input"
            ) from None
    if len(data) > 4 * paste.LIMIT:
        paste.size(len(data))
    return decode(data)


def write_bytes(data: bytes, output: str | None = None) -> None:
    """Write to standard output, or to a file that is either written whole or left as it was."""
    if output is None or output == "-":
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    else:
        write_whole(Path(output), lambda path: path.write_bytes(data))


def write_whole(output: Path, write: Callable[[Path], object]) -> None:
    """Let ``write`` make a file and what belongs beside it, then put both in place. Raises Unusable where it fails."""
    try:
        with tempfile.TemporaryDirectory(prefix=".rewriter-", dir=output.parent) as room:
            write(Path(room) / output.name)
            for part in Path(room).iterdir():
                part.replace(output.parent / part.name)
    except OSError as error:
        raise Unusable(f"{output} cannot be written: {error.strerror}", "choose another --output") from None


def pairs(answers: Iterable[str]) -> tuple[Answer, ...]:
    """Answers from "id=value". Raises Unusable where there is no "=" or no id."""
    found = []
    for one in answers:
        query, sign, value = one.partition("=")
        if not sign or not query.strip():
            raise Unusable(
                f'the answer "{one}" has no id', "write it as --answer kind@0=cookie, with the id of the question"
            )
        found.append(Answer(query.strip(), value.strip()))
    return tuple(found)
