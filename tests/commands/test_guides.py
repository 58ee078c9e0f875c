"""The commands compare, formula and next, from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rewriter import cli, strip

CARD = """Pell Supper Cake

2 1/2 cups flour
3 tsp baking powder
2 cups sugar
1 cup butter
4 eggs
1 cup milk

Cream the butter and sugar, beat in the eggs, stir in the flour and baking powder with the milk.
Bake at 350 F for 30 minutes in two layer pans.
"""


@pytest.fixture
def card(tmp_path: Path) -> str:
    path = tmp_path / "card.txt"
    path.write_text(CARD, encoding="utf-8")
    return str(path)


def test_compare_in_words(card: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert cli.main(["compare", card, "-e", "6500 ft"]) == 0
    out = capfdbinary.readouterr().out.decode()
    assert all(guide in out for guide in ("practice", "extension", "formula", "gas-law"))
    assert "Start from formula (shortened-cake)" in out
    assert "1 1/2 tsp (1.5)" in out


def test_compare_as_json(card: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert cli.main(["compare", card, "-e", "7500 ft", "--format", "json"]) == 0
    (made,) = json.loads(capfdbinary.readouterr().out)
    by = {row["what"]: row["by"] for row in made["rows"]}
    assert by["flour"]["practice"] is None
    assert by["flour"]["formula"]["exact"] == "109/40"
    assert by["eggs"]["formula"]["source"].startswith("Wayne Gisslen")


@pytest.mark.parametrize("suffix", [".svg", ".png"])
def test_compare_draws(card: str, suffix: str, tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    picture = tmp_path / f"guides{suffix}"
    assert cli.main(["compare", card, "-e", "8200 ft", "--plot", str(picture)]) == 0
    head = picture.read_bytes()[:400]
    assert head.startswith(b"\x89PNG") if suffix == ".png" else b"<svg" in head or b"<?xml" in head


def test_compare_draws_nothing_else(card: str, capfd: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["compare", card, "-e", "8200 ft", "--plot", "guides.gif"]) == 2
    caught = capfd.readouterr()
    assert caught.out == ""
    assert ".svg" in caught.err


def test_formula_before_and_after(card: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert cli.main(["formula", card, "-e", "6500 ft"]) == 0
    out = capfdbinary.readouterr().out.decode()
    assert "corrected" in out
    assert "128.0" in out  # 400 g of sugar to 312.5 g of flour


def test_formula_needs_no_elevation(card: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert cli.main(["formula", card]) == 0
    assert "corrected" not in capfdbinary.readouterr().out.decode()


def test_formula_as_json(card: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert cli.main(["formula", card, "-e", "6500 ft", "--format", "json"]) == 0
    (made,) = json.loads(capfdbinary.readouterr().out)
    assert made["written"][0]["lift"] == "6/5"
    assert made["corrected"][0]["lift"] == "3/5"


def test_next_is_an_annotated_recipe(card: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert cli.main(["next", card, "-e", "6500 ft", "--fault", "sank in the middle"]) == 0
    out = capfdbinary.readouterr().out.decode()
    assert strip(out) == CARD
    assert "2 1/2 cups [" in out
    assert "Step 1 of" in out


def test_next_as_json(card: str, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert cli.main(["next", card, "-e", "6500 ft", "--fault", "dry", "--format", "json"]) == 0
    made = json.loads(capfdbinary.readouterr().out)
    assert made["fault"] == "dry"
    assert len(made["steps"]) == 3


@pytest.mark.parametrize(
    "arguments",
    [
        ["next", "-e", "6500 ft", "--fault", "delicious"],
        ["next", "-e", "6500 ft"],
        ["next", "--fault", "dry"],
        ["compare"],
        ["compare", "-e", "6500 ft", "--strength", "bold"],
        ["formula", "--guide", "folklore"],
    ],
)
def test_unusable_arguments_say_so_in_one_line(
    arguments: list[str], card: str, capfd: pytest.CaptureFixture[str]
) -> None:
    assert cli.main([arguments[0], card, *arguments[1:]]) == 2
    caught = capfd.readouterr()
    assert caught.out == ""
    assert len(caught.err.strip().splitlines()) == 1


def test_formula_tells_what_soda_is_left(tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """1 cup of buttermilk takes about 1/2 tsp of soda ('2 cups soured milk to 1 tsp soda', old cookbooks)."""
    path = tmp_path / "soda.txt"
    text = "Sundquist Soda Cake\n\n2 cups flour\n1 cup buttermilk\n1 1/2 tsp baking soda\n1 cup sugar\n\n"
    text += "Mix and bake at 350 F.\n"
    path.write_text(text, encoding="utf-8")
    assert cli.main(["formula", str(path), "-e", "6500 ft"]) == 0
    out = capfdbinary.readouterr().out.decode()
    assert "soda 1.50 tsp, the acid takes 0.50 tsp: 1 tsp of soda left over (soapy)" in out
    assert "soda 0.75 tsp, the acid takes 0.50 tsp: 0.25 tsp of soda left over (balanced)" in out


def test_compare_leaves_a_canning_card_alone(tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    path = tmp_path / "jam.txt"
    text = "Pell Chokecherry Jam\n\n4 cups chokecherry juice\n6 cups sugar\n1 box pectin\n\n"
    text += "Boil to 220 F. Ladle into hot sterilized jars, leave 1/4 inch headspace, and process 10 minutes.\n"
    path.write_text(text, encoding="utf-8")
    assert cli.main(["compare", str(path), "-e", "8200 ft"]) == 0
    out = capfdbinary.readouterr().out.decode()
    assert "No guide changes an amount here." in out
    assert "extension service" in out
