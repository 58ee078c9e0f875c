"""The command line: exit statuses, clean standard output, and bytes that come back."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import click
import pytest

from rewriter import cli

EXAMPLES = Path(__file__).parent.parent / "corpus" / "examples"
CAKE = (EXAMPLES / "ninebark-butter-cake.txt").read_bytes()
ASKS = b"Bars, our 7,000 ft version\n\n2 cups flour\n1 cup sugar\n1 egg\n\nMix. Bake at 350 F for 20 minutes.\n"


@dataclass(frozen=True)
class Done:
    """What a run left behind."""

    returncode: int
    stdout: bytes
    stderr: bytes


def run(*arguments: str, stdin: bytes = b"") -> Done:
    """Run the program with bytes on both sides, in this process."""
    streams = [io.TextIOWrapper(io.BytesIO(data), encoding="utf-8") for data in (stdin, b"", b"")]
    before = sys.stdin, sys.stdout, sys.stderr
    sys.stdin, sys.stdout, sys.stderr = streams
    try:
        status = cli.main(arguments)
    finally:
        sys.stdin, sys.stdout, sys.stderr = before
    out, err = (stream.detach().getvalue() for stream in streams[1:] if not stream.flush())  # type: ignore[attr-defined]
    return Done(status, out, err)


def really_run(*arguments: str, stdin: bytes = b"") -> Done:
    """Run the program as a person does, in a process of its own."""
    done = subprocess.run([sys.executable, "-m", "rewriter", *arguments], input=stdin, capture_output=True, check=False)
    return Done(done.returncode, done.stdout, done.stderr)


def test_every_command_of_the_table_loads() -> None:
    context = click.Context(cli.cli)
    for name in cli.COMMANDS:
        command = cli.cli.get_command(context, name)
        assert isinstance(command, click.Command)
        assert command.name == name
    assert cli.cli.get_command(context, "nonsense") is None


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["--help"]) == 0
    shown = capsys.readouterr().out
    assert all(name in shown for name in cli.COMMANDS)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["annotate", "-"], "--boils-at"),
        (["annotate", "-", "-e", "6500"], "no unit"),
        (["annotate", "-", "-e", "99999 ft"], "outside"),
        (["annotate", "-", "--barometer", "1100 hPa"], "station pressure"),
        (["annotate", "-", "--boils-at", "150 F"], "thermometer"),
        (["annotate", "-", "-e", "-282 ft"], "empty"),
        (["annotate", "-", "-e", "6500 ft"], "empty"),
        (["annotate", "-", "-e", "6500 ft", "--answer", "cookie"], "--answer kind@0=cookie"),
        (["annotate", "no-such-card.txt", "-e", "6500 ft"], "No such file"),
        (["annotate", "-e"], "requires an argument"),
        (["annotate", "-", "-e", "6500 ft", "--format", "xml"], "xml"),
        (["bake"], "bake"),
        (["strip", "no-such-card.txt"], "No such file"),
        (["read", "-"], "empty"),
    ],
)
def test_unusable_is_one_line_and_status_two(arguments: list[str], says: str) -> None:
    done = run(*arguments)
    assert done.returncode == 2
    assert done.stdout == b""
    assert says in done.stderr.decode()
    assert len(done.stderr.decode().splitlines()) == 1


@pytest.mark.parametrize(
    ("stdin", "says"),
    [
        (b"\x00\x01\x02\x03\x04", "binary"),
        (b"%PDF-1.4", "PDF"),
        (b"flour " * 900_000, "5 MB"),
        (
            "Die Eier mit dem Zucker schlagen, das Mehl und die Milch dazu, bei 180 Grad backen".encode("ascii"),
            "German",
        ),
        (b"Dear Odalys, the lake is frozen and we miss you. Yours, Pell", "no recipe"),
    ],
)
def test_bad_pastes_leave_standard_output_empty(stdin: bytes, says: str) -> None:
    done = run("annotate", "-", "-e", "6500 ft", stdin=stdin)
    assert (done.returncode, done.stdout) == (2, b"")
    assert says in done.stderr.decode()
    assert len(done.stderr.decode().splitlines()) == 1


@pytest.mark.parametrize(
    "data",
    [
        CAKE,
        CAKE.replace(b"\n", b"\r\n"),
        CAKE.replace(b"\n", b"\r"),
        CAKE.rstrip(b"\n"),
        b"\xef\xbb\xbf" + CAKE,
        CAKE.decode().encode("utf-16"),
        CAKE.decode().encode("utf-16-be"),
        CAKE.decode().encode("cp1252"),
        CAKE.decode().encode("mac_roman"),
    ],
    ids=["lf", "crlf", "cr", "no final newline", "utf-8 mark", "utf-16", "utf-16-be", "cp1252", "mac_roman"],
)
def test_bytes_come_back(data: bytes) -> None:
    annotated = run("annotate", "-", "-e", "6500 ft", stdin=data)
    assert annotated.returncode == 0, annotated.stderr.decode()
    assert annotated.stdout != data
    assert run("strip", stdin=annotated.stdout).stdout == data
    assert run("annotate", "-", "-e", "0 ft", stdin=data).stdout == data
    assert run("strip", stdin=data).stdout == data


def test_edited_annotations_stay_and_it_is_said() -> None:
    annotated = run("annotate", "-", "-e", "6500 ft", stdin=CAKE).stdout
    edited = annotated.replace(b"2 tsp vanilla extract", b"1 Tbsp vanilla extract")
    done = run("strip", "--strict", stdin=edited)
    assert (done.returncode, done.stdout) == (1, edited)
    assert b"--best" in done.stderr
    assert run("strip", "--best", stdin=edited).stdout == CAKE.replace(
        b"2 tsp vanilla extract", b"1 Tbsp vanilla extract"
    )


def test_a_process_of_its_own_does_the_same() -> None:
    data = CAKE.replace(b"\n", b"\r\n")
    for arguments in (("annotate", "-e", "6500 ft"), ("annotate", "-e", "6500"), ("strip",)):
        assert really_run(*arguments, stdin=data) == run(*arguments, stdin=data)


def test_json() -> None:
    done = run("annotate", str(EXAMPLES / "ninebark-butter-cake.txt"), "-e", "6500 ft", "--format", "json")
    found = json.loads(done.stdout)
    assert done.returncode == 0
    assert found["recipe"]["kind"] == "shortened-cake"
    assert all(found["source"][change["start"] : change["end"]] == change["old"] for change in found["changes"])


def test_strict_says_that_something_must_be_looked_at() -> None:
    """A recipe made for an altitude asks for which."""
    plain = run("annotate", "-", "-e", "6500 ft", stdin=ASKS)
    strict = run("annotate", "-", "-e", "6500 ft", "--strict", stdin=ASKS)
    assert (plain.returncode, strict.returncode) == (0, 1)
    assert plain.stdout == strict.stdout != b""
    assert b"look at " in strict.stderr
    assert run("read", "--strict", stdin=ASKS).returncode in (0, 1)


def test_read_shows_what_was_read() -> None:
    found = json.loads(run("read", stdin=CAKE).stdout)
    assert found["source"] == CAKE.decode()
    assert found["recipes"][0]["ingredients"][0]["amounts"][0]["quantity"] == "9/4"


def test_output_goes_to_a_file_and_never_onto_the_recipe(tmp_path: Path) -> None:
    card, out = tmp_path / "card.txt", tmp_path / "card-6500.txt"
    card.write_bytes(CAKE)
    done = run("annotate", str(card), "-e", "6500 ft", "-o", str(out))
    assert (done.returncode, done.stdout) == (0, b"")
    assert out.read_bytes() == run("annotate", str(card), "-e", "6500 ft").stdout
    assert run("annotate", str(card), "-e", "6500 ft", "-o", str(card)).returncode == 2
    assert run("annotate", str(card), "-e", "6500 ft", "-o", str(tmp_path / "no" / "x.txt")).returncode == 2
    assert card.read_bytes() == CAKE
    assert sorted(path.name for path in tmp_path.iterdir()) == ["card-6500.txt", "card.txt"]


def test_a_fault_of_the_program_is_not_status_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fall(*arguments: object, **options: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(cli.cli, "main", fall)
    assert cli.main(["read"]) == 3
    shown = capsys.readouterr()
    assert shown.out == ""
    assert "ZeroDivisionError" in shown.err


@pytest.mark.parametrize(
    ("module", "status", "says"), [("lxml.etree", 2, "rewriter[docs]"), ("rewriter.x", 3, "fault")]
)
def test_a_missing_extra_is_named(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], module: str, status: int, says: str
) -> None:
    def fall(*arguments: object, **options: object) -> None:
        raise ModuleNotFoundError(f"No module named {module!r}", name=module)

    monkeypatch.setattr(cli.cli, "main", fall)
    assert cli.main(["read"]) == status
    assert says in capsys.readouterr().err
