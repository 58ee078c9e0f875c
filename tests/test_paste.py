"""What a paste must be: text, of a size, in English."""

from __future__ import annotations

from pathlib import Path

import pytest

from rewriter import paste
from rewriter.errors import Unusable

EXAMPLES = sorted((Path(__file__).parent.parent / "corpus" / "examples").glob("*.*"))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "empty"),
        (" \r\n\t\ufeff", "empty"),
        ("\x00\x01\x02\x03 flour", "binary"),
        ("\ufffd" * 5 + "cups", "binary"),
        ("a" * 5_000_000, "5 MB"),
        ("é" * 2_500_000, "5 MB"),
        ("Die Eier mit dem Zucker schlagen, das Mehl mit Backpulver sieben und bei 180 Grad backen.", "German"),
        ("Mélanger la farine avec le sucre, puis ajouter les œufs et le lait; cuire au four 30 minutes.", "French"),
        ("Mezclar la harina con el azúcar y los huevos; añadir la leche y hornear por 30 minutos.", "Spanish"),
        ("Mescolare la farina con lo zucchero e le uova, aggiungere il latte e infornare a 180 gradi.", "Italian"),
        ("Смешайте муку с сахаром, добавьте яйца и выпекайте 30 минут.", "Cyrillic"),
    ],
)
def test_refused_in_one_line(text: str, says: str) -> None:
    with pytest.raises(Unusable, match=says) as refused:
        paste.usable(text)
    assert refused.value.mend
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    "text",
    [
        "2 cups flour",
        "FLOUR 2 C\nSUGAR 1 C\nBAKE 350",
        "Crème brûlée à la Marchetti-Ruiz: 2 cups cream, 5 yolks, ½ cup sugar",
        "2 cups flour\x0c\x1a and a stray \x07 bell in a long enough line of text",
        "🍰 2 cups flour 🍰",
        *(file.read_text(encoding="utf-8") for file in EXAMPLES),
    ],
)
def test_taken(text: str) -> None:
    assert paste.other_language(text) == ""
    paste.usable(text)
