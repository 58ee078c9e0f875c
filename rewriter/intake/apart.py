"""Reading in a process of its own: a file that crashes a library, hangs it or fills its memory costs only that file.

The process is started when it is first needed and kept. What passes to and fro is JSON and the file's bytes, never
code, so that a file that took the process over could not take this one as well.
"""

from __future__ import annotations

import contextlib
import json
import subprocess
import sys
import threading
from collections.abc import Iterator
from dataclasses import asdict
from importlib import import_module
from typing import IO, Any

from rewriter.errors import Unusable
from rewriter.intake.guards import Harmful
from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.taken import Taken
from rewriter.model import Page, Word

KINDS = {  # kind: its module
    "pdf": "pdf",
    "photo": "photo",
    "document": "document",
    "open document": "opendocument",
    "rich text": "richtext",
}
SECONDS = 180.0  # the longest that one file may take
MEMORY = 8_000_000_000  # bytes of address space that the process may have
_MEND = "print it to a new PDF, or type it"


class Apart:
    """Reads files of the kinds in ``KINDS`` in another process. Close it when done."""

    def __init__(
        self, limits: Limits = LIMITS, seconds: float = SECONDS, modules: dict[str, str] | None = None
    ) -> None:
        """Nothing is started yet. modules: kind -> module, where others than the usual are to read."""
        self._limits, self._seconds, self._modules = limits, seconds, modules or KINDS
        self._process: subprocess.Popen[bytes] | None = None

    def read(self, kind: str, data: bytes) -> Taken:
        """A file's text. Raises what its reader raises, and Unusable where reading it failed badly or took too long."""
        process = self._running()
        assert process.stdin is not None
        assert process.stdout is not None
        late = threading.Event()

        def stop() -> None:
            late.set()
            process.kill()

        watch = threading.Timer(self._seconds, stop)
        watch.start()
        try:
            head = {"module": self._modules[kind], "size": len(data), "limits": asdict(self._limits)}
            process.stdin.write(json.dumps(head).encode() + b"\n" + data)
            process.stdin.flush()
            line = process.stdout.readline()
        except OSError:
            line = b""
        finally:
            watch.cancel()
        if not line.endswith(b"\n"):
            self.close()
            why = f"reading this took longer than {self._seconds:g} s" if late.is_set() else "reading this failed badly"
            raise Unusable(why, _MEND)
        return _answer(json.loads(line), data)

    def close(self) -> None:
        """End the process."""
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.wait()
            for pipe in (process.stdin, process.stdout):
                if pipe is not None:
                    with contextlib.suppress(OSError):
                        pipe.close()

    def _running(self) -> subprocess.Popen[bytes]:
        if self._process is None or self._process.poll() is not None:
            self.close()
            self._process = subprocess.Popen(
                [sys.executable, "-m", "rewriter.intake.apart"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
            )
        return self._process


@contextlib.contextmanager
def apart(limits: Limits = LIMITS) -> Iterator[Apart]:
    """A process to read in, ended with the ``with``."""
    reader = Apart(limits)
    try:
        yield reader
    finally:
        reader.close()


def _answer(told: dict[str, Any], data: bytes) -> Taken:
    if "lacking" in told:
        raise ModuleNotFoundError(f"No module named {told['lacking']!r}", name=told["lacking"])
    if "unusable" in told:
        raise (Harmful if told["harmful"] else Unusable)(*told["unusable"])
    pages = tuple(Page(**{**page, "words": tuple(Word(**word) for word in page["words"])}) for page in told["pages"])
    return Taken(told["text"], pages, kind=told["kind"], warnings=tuple(told["warnings"]), data=data)


def serve(asked: IO[bytes], answers: IO[bytes]) -> None:
    """The other process: reads a head and a file's bytes, answers a line, until there is no more."""
    while line := asked.readline():
        head = json.loads(line)
        told = _read(head["module"], asked.read(head["size"]), Limits(**head["limits"]))
        answers.write(json.dumps(told).encode() + b"\n")
        answers.flush()


def _read(module: str, data: bytes, limits: Limits) -> dict[str, Any]:
    try:
        taken: Taken = import_module(module if "." in module else f"rewriter.intake.{module}").read(data, limits)
    except ModuleNotFoundError as error:
        return {"lacking": error.name}
    except Unusable as error:
        return {"unusable": [error.what, error.mend], "harmful": isinstance(error, Harmful)}
    except MemoryError:
        return {"unusable": ["reading this takes too much memory", "give a part of it"], "harmful": False}
    except Exception as error:
        return {"unusable": [f"reading this failed ({type(error).__name__}: {error})", _MEND], "harmful": False}
    pages = [asdict(page) for page in taken.pages]
    return {"text": taken.text, "pages": pages, "kind": taken.kind, "warnings": list(taken.warnings)}


def main() -> None:
    """Serve on standard input and output, with a bound on memory; whatever else is printed goes to standard error."""
    import os

    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    serve(sys.stdin.buffer, answers)


if __name__ == "__main__":
    main()
