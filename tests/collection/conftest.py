"""A box with a few invented cards of Cinder Pass in it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from rewriter.collection import Box

CAKE = """Teague Snow Day Cake

1/2 cup butter, softened
1 1/4 cups sugar
2 eggs
2 cups all-purpose flour
2 tsp baking powder
1/2 tsp salt
1 cup milk

Heat the oven to 350 F. Cream the butter and sugar, beat in the eggs, and add the flour, powder and salt in turns
with the milk. Bake in two greased 8-inch pans for 30 minutes. Makes 12 slices.
"""
AUNT = CAKE.replace("Teague Snow Day Cake", "Aunt Wilma's Plain Cake").replace("1 1/4 cups sugar", "1 cup sugar")
BREAD = """Sundquist Honey Loaf

3 cups bread flour
2 tsp instant yeast
1 1/2 tsp salt
1/4 cup honey
1 1/4 cups warm water

Mix and knead all the ingredients; let rise 1 hour. Shape, rise 40 minutes, and bake in a loaf pan at 375 F for
35 minutes. Makes 1 loaf.
"""
COOKIES = """Pell Oat Rounds

1 cup butter
1 cup brown sugar
1 egg
1 1/2 cups flour
1 tsp baking soda
2 cups rolled oats
1/2 cup walnuts

Cream the butter and sugar, beat in the egg. Stir in the flour, soda, oats and walnuts. Bake on a sheet at 375 F for
10 minutes. Makes 3 dozen.
"""
JARS = """Okafor-Lind Dill Beans

4 lb green beans
5 c. vinegar
1/2 c. canning salt

Pack the beans into hot pint jars, leaving 1/2-inch headspace. Pour the boiling brine over them. Process in a boiling
water bath for 10 minutes.
"""
CARDS = {"cake.txt": CAKE, "bread.txt": BREAD, "cookies.txt": COOKIES, "beans.txt": JARS}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of four cards."""
    found = tmp_path / "cards"
    found.mkdir()
    for name, text in CARDS.items():
        (found / name).write_text(text, encoding="utf-8")
    return found


@pytest.fixture
def box(tmp_path: Path, folder: Path) -> Iterator[Box]:
    """A box with the four cards in it: 1 beans, 2 bread, 3 cake, 4 cookies."""
    with Box(tmp_path / "box.sqlite") as opened:
        opened.add([folder])
        yield opened
