"""Make the three specimen cards: one typed, one in two columns, one photographed askew in poor light.

Our own inventions throughout. The photograph is the third card, set, laid on a table and turned by arithmetic: skew, a
shadow across it, the grain of a sensor and the loss of a JPEG, all from one fixed seed.

    python -m corpus.specimens [FOLDER]
"""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import typst
from PIL import Image, ImageFilter

FOLDER = Path(__file__).parent / "specimens"
SKEW = 2.3  # degrees, counter-clockwise
SEED = 20

TYPED = """\
OKAFOR-LIND SUNDAY YELLOW CAKE

2 1/2 cups all-purpose flour
2 1/2 teaspoons baking powder
1/2 teaspoon salt
3/4 cup butter, softened
1 3/4 cups sugar
3 eggs
1 1/4 cups milk
2 teaspoons vanilla

Heat the oven to 350 F. Grease two 9-inch pans.

Cream the butter and sugar until light. Beat in the eggs one at a
time, then the vanilla. Sift the flour, baking powder and salt; add
to the bowl in turns with the milk.

Bake 30 to 35 minutes, until the middle springs back."""

COLUMNS: dict[str, Any] = {
    "title": "Teague Lunchbox Carrot Loaf",
    "note": "From the Cinder Pass school fair. Makes one loaf.",
    "left": [
        "Ingredients",
        "2 cups plain flour",
        "1 teaspoon baking soda",
        "½ teaspoon baking powder",
        "1 teaspoon cinnamon",
        "½ teaspoon salt",
        "1 cup brown sugar",
        "¾ cup vegetable oil",
        "3 large eggs",
        "½ cup buttermilk",
        "2 cups grated carrots",
        "½ cup chopped walnuts",
    ],
    "right": [
        "Method",
        "Heat the oven to 350°F (175°C) and line a 9 x 5 inch loaf pan.",
        "Whisk the flour, soda, baking powder, cinnamon and salt. In a second bowl beat the sugar, oil and eggs for "
        "two minutes, then stir in the buttermilk.",
        "Fold both together with the carrots and walnuts. Bake for 55 to 60 minutes. Cool in the pan for ten minutes.",
    ],
}

PHOTOGRAPHED = """\
Marchetti-Ruiz Cocoa Snack Cake

1 1/2 cups all-purpose flour
1 cup sugar
1/4 cup cocoa
1 teaspoon baking soda
1/2 teaspoon salt
1 cup water
1/3 cup oil
1 tablespoon vinegar
1 teaspoon vanilla

Heat oven to 350 F. Stir the dry things in an
8-inch square pan. Add the wet ones and stir
until smooth. Bake 30 minutes. Serve it from
the pan."""

TYPEWRITER = """
#set page(width: 8.5in, height: 11in, margin: (x: 1.1in, y: 1in))
#set text(font: "DejaVu Sans Mono", size: 11pt)
#set par(leading: 0.85em, spacing: 1.7em)
#for block in sys.inputs.text.split("\\n\\n") [#block.split("\\n").join(linebreak())#parbreak()]
"""

TWO_COLUMNS = """
#let card = json(bytes(sys.inputs.card))
#set page(width: 8.5in, height: 5.5in, margin: (x: 0.8in, y: 0.6in))
#set text(font: "Libertinus Serif", size: 11.5pt)
#align(center)[#text(size: 19pt, weight: "bold", card.title) \\ #emph(card.note)]
#v(6pt)
#grid(columns: (2.5in, 1fr), column-gutter: 0.45in,
  [#strong(card.left.at(0)) \\ #for line in card.left.slice(1) [#line \\ ]],
  [#strong(card.right.at(0)) #set par(leading: 0.75em); #for step in card.right.slice(1) [#parbreak()#step]])
"""

CARD = """
#set page(width: 6in, height: 4.6in, margin: (x: 0.45in, y: 0.35in), fill: rgb("f6efdc"))
#set text(font: "New Computer Modern", size: 11.5pt, fill: rgb("29241f"))
#set par(leading: 0.62em, spacing: 1.2em)
#let blocks = sys.inputs.text.split("\\n\\n")
#text(size: 15pt, weight: "bold", blocks.at(0))
#line(length: 100%, stroke: 0.6pt + rgb("b0413e"))
#for block in blocks.slice(1) [#block.split("\\n").join(linebreak())#parbreak()]
"""


def set_type(source: str, **inputs: str) -> bytes:
    """A PDF set by Typst, the same bytes each time."""
    pdf = typst.compile(source.encode(), format="pdf", sys_inputs=inputs, ignore_system_fonts=True, timestamp=0)
    assert isinstance(pdf, bytes)
    return pdf


def photograph(pdf: bytes, skew: float = SKEW, seed: int = SEED) -> bytes:
    """A JPEG of a card's first page, as a hand-held camera under a lamp would see it."""
    card = pypdfium2.PdfDocument(pdf)[0].render(scale=200 / 72).to_pil().convert("RGB")
    random = np.random.default_rng(seed)
    table = Image.new("RGB", (card.width + 220, card.height + 200), (96, 74, 58))
    table.paste(card, (110, 95))
    table = table.rotate(skew, resample=Image.Resampling.BICUBIC, fillcolor=(96, 74, 58))
    table = table.filter(ImageFilter.GaussianBlur(0.8))
    pixels = np.asarray(table, dtype=np.float64)
    rows, columns = np.mgrid[0 : table.height, 0 : table.width]
    lamp = 1.04 - 0.22 * (columns / table.width) - 0.12 * (rows / table.height)
    edge = (columns - 0.62 * table.width) + 0.5 * (rows - 0.5 * table.height)
    shadow = 1 - 0.3 / (1 + np.exp(-edge / 35))  # a soft shadow falls over the right-hand side
    pixels = pixels * (lamp * shadow)[..., None] + random.normal(0, 5.5, pixels.shape)
    out = io.BytesIO()
    Image.fromarray(pixels.clip(0, 255).astype(np.uint8)).save(out, "JPEG", quality=82)
    return out.getvalue()


def specimens() -> dict[str, bytes]:
    """Each specimen card by its file name."""
    return {
        "typed.pdf": set_type(TYPEWRITER, text=TYPED),
        "two-columns.pdf": set_type(TWO_COLUMNS, card=json.dumps(COLUMNS)),
        "photographed.jpg": photograph(set_type(CARD, text=PHOTOGRAPHED)),
    }


def main(folder: Path = FOLDER) -> None:
    """Write the cards."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in specimens().items():
        (folder / name).write_bytes(data)
        print(folder / name, len(data))


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:2]))
