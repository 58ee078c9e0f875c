"""The second reader works without a network and without a word on standard output, and settles only what it can."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import textwrap
from fractions import Fraction
from pathlib import Path

import pytest

import rewriter
from rewriter import pantry
from rewriter.reading import second
from rewriter.reading.garbled import garbled
from rewriter.reading.second import consult, second_opinion

BLOCKED = """
import socket, sys
tried = []
def refuse(*args, **kwargs):
    tried.append(args)
    raise OSError("no network here")
class Refused(socket.socket):
    connect = connect_ex = sendto = sendmsg = refuse  # urllib3 binds one to itself to see whether IPv6 works
socket.socket = Refused
socket.create_connection = socket.getaddrinfo = socket.gethostbyname = refuse
"""
CARD = """Pell's Loaf

2 cups flour
1 cup milk
1/4 cup quibbleberry must, strained through muslin
2 tsp baking powder

Stir together. Bake in a loaf pan at 350 F for 50 minutes.
"""


def _alone(body: str, tmp_path: Path) -> subprocess.CompletedProcess[str]:
    """Run a program of its own, sockets blocked, with no NLTK data to be found anywhere else."""
    program = BLOCKED + textwrap.dedent(body)
    surroundings = {key: value for key, value in os.environ.items() if key != "NLTK_DATA"} | {"HOME": str(tmp_path)}
    return subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, env=surroundings, check=False
    )


@pytest.mark.parametrize(
    "body",
    [
        """
        import rewriter
        parse = rewriter.second_reader()
        assert parse("1½ cups rye flour, sifted", string_units=True).name[0].text == "rye flour"
        assert not tried, tried
        import scipy.stats  # kept out while the parser was loaded, not afterwards
        """,
        f"""
        import rewriter
        result = rewriter.rewrite({CARD!r}, elevation="6500 ft")
        assert "ingredient_parser" in sys.modules and result.changes
        assert not tried, tried
        """,
    ],
    ids=["the parser alone", "a rewrite that needs it"],
)
def test_nothing_opens_a_connection_and_standard_output_stays_clean(body: str, tmp_path: Path) -> None:
    ran = _alone(body, tmp_path)
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout == ""


def test_the_block_catches_the_parser_without_our_tagger(tmp_path: Path) -> None:
    """The check above can fail: without our tagger the parser does reach for the network, and prints about it."""
    ran = _alone("import ingredient_parser\nassert tried\n", tmp_path)
    assert ran.returncode == 0, ran.stderr
    assert "Downloading" in ran.stdout


@pytest.mark.parametrize("drawn", ["sugar", "sugar, strained through muslin", "quibbleberry must"])
def test_it_is_not_loaded_where_names_are_known_or_nothing_is_left_to_find(drawn: str, tmp_path: Path) -> None:
    card = CARD.replace("quibbleberry must, strained through muslin", drawn)
    body = f"""
    import rewriter
    assert rewriter.rewrite({card!r}, elevation="6500 ft").changes
    assert "ingredient_parser" not in sys.modules and "nltk" not in sys.modules
    """
    ran = _alone(textwrap.dedent(body), tmp_path)
    assert ran.returncode == 0, ran.stderr


@pytest.mark.skipif(os.name != "posix", reason="modes of files are POSIX")
def test_a_checkout_that_a_group_may_write_to_works_too(tmp_path: Path) -> None:
    """NLTK reads no data that others could have planted (its pathsec module): then by a private copy."""
    shared = tmp_path / "tagger"
    shutil.copytree(second.HOME, shared)
    for path in (shared, *shared.rglob("*")):
        path.chmod(0o777 if path.is_dir() else 0o666)
    body = f"""
    import warnings
    from pathlib import Path
    from rewriter.reading import second
    second.HOME = Path({str(shared)!r})
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        assert second._ready(second.HOME) is None
    assert second.second_reader()("2 cups rye flour").name[0].text == "rye flour"
    assert not tried, tried
    """
    ran = _alone(body, tmp_path)
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout == ""


def test_a_missing_tagger_is_an_error_not_a_download(tmp_path: Path) -> None:
    body = f"""
    from pathlib import Path
    from rewriter.reading import second
    second.HOME = Path({str(tmp_path)!r})
    try:
        second.second_reader()
    except FileNotFoundError as error:
        assert "tagger" in str(error)
    else:
        raise SystemExit("no error")
    assert not tried, tried
    """
    ran = _alone(body, tmp_path)
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout == ""


# Amounts by hand; the readings are ingredient-parser-nlp's, an outside reader of ingredient lines.
@pytest.mark.parametrize(
    ("line", "name", "amounts"),
    [
        ("2 cups grommet meal", "grommet meal", ((Fraction(2), "cup"),)),
        ("1 1/2 tablespoons quibbleberry syrup, warmed", "quibbleberry syrup", ((Fraction(3, 2), "tbsp"),)),
        ("250 g zanthe powder", "zanthe powder", ((Fraction(250), "g"),)),
    ],
)
def test_an_opinion_gives_name_and_amounts(line: str, name: str, amounts: tuple[tuple[Fraction, str], ...]) -> None:
    opinion = second_opinion(line)
    assert opinion is not None
    assert (opinion.name, opinion.amounts) == (name, amounts)
    assert 0 < opinion.confidence <= 1


def test_a_name_that_nobody_knows_stays_unsure_and_is_asked_about() -> None:
    (recipe,) = rewriter.read(CARD)
    (unknown,) = [one for one in recipe.ingredients if one.key is None]
    assert (unknown.role, unknown.sure) == ("other", False)
    assert any(query.id == f"role@{unknown.start}" for query in recipe.queries)


def test_a_name_the_second_reader_isolates_is_settled(monkeypatch: pytest.MonkeyPatch) -> None:
    (recipe,) = rewriter.read(CARD)
    unknown = next(one for one in recipe.ingredients if one.key is None)
    told = second.Opinion("rye flour", 0.99, ((Fraction(1, 4), "cup"),))
    monkeypatch.setattr(second, "second_opinion", lambda _line: told)
    (settled,) = consult([unknown], CARD, lambda _seen: True)
    assert (settled.role, settled.sure) == ("flour", True)
    assert consult([unknown], CARD, lambda _seen: False) == [unknown]
    for doubtful in (second.Opinion("rye flour", 0.5, told.amounts), second.Opinion("rye flour", 0.99, ())):
        monkeypatch.setattr(second, "second_opinion", lambda _line, said=doubtful: said)
        assert not consult([unknown], CARD, lambda _seen: True)[0].sure


# What scanners take for each other: common practice, no source.
@pytest.mark.parametrize(
    ("seen", "key"),
    [
        ("glnger", "ginger"),
        ("white fIour", "all-purpose-flour"),
        ("buttermi1k", "buttermilk"),
        ("butterrnilk", "buttermilk"),
        ("granulated 5ugar", "granulated-sugar"),
        ("melted short-\nening", "shortening"),
        ("baking pow-\r\n   der", "baking-powder"),
        ("brown su9ar", None),
        ("01l", None),
        ("quibbleberry", None),
    ],
)
def test_garbled_names_find_their_row_or_none(seen: str, key: str | None) -> None:
    assert garbled(seen) == key


def test_a_name_spelled_well_is_never_taken_for_another() -> None:
    """Every phrase of the pantry finds its own row, or none where two rows look alike to a scanner."""
    wrong = {phrase: garbled(phrase) for phrase, key in pantry.phrases() if garbled(phrase) not in (key, None)}
    assert not {phrase: key for phrase, key in wrong.items() if len(phrase) >= 4}
    assert sum(garbled(phrase) is None for phrase, _ in pantry.phrases()) < 60


def test_a_scanned_card_is_read_whole() -> None:
    card = "TEA CAKE\n\n2 cups fIour\n1 cup sugar\n2 tsp. baking powder\nl cup buttermi1k\n\nMix. Bake at 350 F.\n"
    roles = [one.role for one in rewriter.read(card)[0].ingredients]
    assert roles == ["flour", "sugar", "leavener", "liquid"]


def test_a_line_the_second_reader_fails_on_is_asked_about_and_not_fatal() -> None:
    recipe = rewriter.read(
        "Scones\n\n2 cups flour\n1 tsp baking powder\n4/0 1c frumble\n1 cup milk\n\nBake at 400 F.\n"
    )[0]
    assert [one.role for one in recipe.ingredients][:2] == ["flour", "leavener"]
