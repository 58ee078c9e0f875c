"""README.md: every command line works, and prints what is shown; so do its examples in Python."""

from __future__ import annotations

import doctest
import io
import os
import re
import shlex
import sys
from pathlib import Path

import pytest

from corpus import card
from rewriter import cli
from rewriter.writing.registry import styles

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"^```console\n(.*?)^```$", README, re.M | re.S)


@pytest.fixture
def clone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder that has the corpus, as a clone does."""
    (tmp_path / "corpus").symlink_to(ROOT / "corpus")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("REWRITER_BOX", raising=False)
    return tmp_path


def parted(block: str) -> list[tuple[str, str]]:
    """The commands of a block, each with what is shown under it."""
    found = re.split(r"^\$ (.*)\n", block, flags=re.M)
    assert found[0] == ""
    return list(zip(found[1::2], found[2::2], strict=True))


def run(line: str, monkeypatch: pytest.MonkeyPatch) -> str:
    """What a command prints: standard output, then standard error."""
    words = shlex.split(line)
    assert words[0] == "rewriter"
    streams = [io.TextIOWrapper(io.BytesIO(), encoding="utf-8", write_through=True) for _ in range(2)]
    with monkeypatch.context() as patch:
        patch.setattr(sys, "stdout", streams[0])
        patch.setattr(sys, "stderr", streams[1])
        status = cli.main(words[1:])
    printed = "".join(stream.detach().getvalue().decode() for stream in streams)  # type: ignore[attr-defined]
    assert status == 0, printed
    return printed


def matches(shown: str, printed: str) -> bool:
    r"""Whether something is printed as shown; a line of three dots stands for any lines.

    >>> matches("a\n...\nd\n", "a\nb\nc\nd\n"), matches("a\n...\n", "b\na\n"), matches("a\n", "a\nb\n")
    (True, False, False)
    """
    parts = [re.escape(line) if line != "...\n" else "(?:.*\n)*?" for line in shown.splitlines(keepends=True)]
    ended = printed if printed.endswith("\n") or not printed else printed + "\n"
    return re.fullmatch("".join(parts), ended) is not None


@pytest.mark.parametrize("block", BLOCKS, ids=[block.split()[2] for block in BLOCKS])
def test_what_is_shown_is_what_is_printed(block: str, clone: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if "rewriter print" in block:
        pytest.importorskip("typst")
    for line, shown in parted(block):
        printed = run(line, monkeypatch)
        assert matches(shown, printed), f"$ {line}\n{printed}"


def test_every_command_is_shown_or_named() -> None:
    assert {name for name in cli.COMMANDS if f"rewriter {name}" not in README} == set()
    for name in re.findall(r"\$ rewriter (\w+)", README):
        assert name in cli.COMMANDS


def test_every_style_is_named() -> None:
    assert set(re.findall(r"^\| `(\w+)` \|", README, re.M)) == set(styles())


def test_the_examples_in_python_run(clone: Path) -> None:
    (example,) = re.findall(r"^```python\n(.*?)^```$", README, re.M | re.S)
    test = doctest.DocTestParser().get_doctest(example, {}, "README.md", "README.md", 0)
    out = io.StringIO()
    assert doctest.DocTestRunner().run(test, out=out.write).failed == 0, out.getvalue()
    assert (clone / "cake.docx").stat().st_size > 0


def test_its_figures_are_those_of_the_model_card() -> None:
    table = re.search(r"<!-- readme -->\n(.*?)\n<!-- /readme -->", README, re.S)
    assert table is not None
    assert table[1] == card.short(card.CARD.read_text("utf-8"))


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "corpus/MODEL_CARD.md"])
def test_every_link_leads_somewhere(name: str) -> None:
    file = ROOT / name
    links = re.findall(r"\]\(([^)#:]+)\)", file.read_text("utf-8"))
    assert [link for link in links if not (file.parent / link).exists()] == []


def test_no_more_than_belongs_at_the_top() -> None:
    top = set(
        "README.md DEVELOPERS.md CHANGELOG.md LICENSE pyproject.toml rewriter tests corpus .ci .gitignore".split()
    )
    if not (ROOT / ".git").exists():
        pytest.skip("no clone")
    kept = os.popen(f"git -C {shlex.quote(str(ROOT))} ls-files").read().split("\n")
    assert {line.split("/")[0] for line in kept if line} <= top
