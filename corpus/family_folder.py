"""Make a family's folder of 200 files: every kind, with duplicates, near-duplicates, damage and junk among them.

The recipes are those of ``corpus/labelled/train``, our own inventions. The folder is the same for the same seed.

    python -m corpus.family_folder FOLDER
"""

from __future__ import annotations

import io
import json
import random
import re
import sys
import tarfile
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from corpus.compile import LABELLED, load

COUNT = 200
SEED = 8200
PHOTO = """Pell Oat Rounds

1 cup flour
1 cup rolled oats
1/2 cup sugar
1 tsp baking soda
1/2 cup butter
1 egg

Bake at 350 F for 12 minutes."""


@dataclass(frozen=True, slots=True)
class Made:
    """One file of the folder. what: recipe, several, copy, near, damaged, junk, harmful. of: its source."""

    name: str
    data: bytes
    what: str
    of: str = ""
    recipes: int = 1


def texts() -> list[tuple[str, str]]:
    """Name and text of every training recipe."""
    return [(path.stem, load(path).text) for path in sorted((LABELLED / "train").glob("*.rec"))]


def files(seed: int = SEED) -> list[Made]:
    """The 200 files."""
    chance = random.Random(seed)
    source = [one for one in texts() if len(one[1]) < 2600]
    chance.shuffle(source)
    made: list[Made] = []
    for count, make in PLAN:
        made += [make(*source.pop(), chance) for _ in range(count)]
    made += several(source)
    made += archives(source)
    made += copies(made, chance)
    made += near(made, chance)
    made += damaged(made)
    made += junk()
    made = [Made(f"{_place(index)}/{one.name}", *_rest(one)) for index, one in enumerate(made)]
    assert len(made) == COUNT, len(made)
    return made


def _rest(one: Made) -> tuple[bytes, str, str, int]:
    return one.data, one.what, one.of, one.recipes


def _place(index: int) -> str:
    return ("kitchen drawer", "Odalys/binder", "from aunt Wilma", "scans/2019")[index % 4]


def plain(name: str, text: str, chance: random.Random) -> Made:
    """A text file, in one of the encodings and line ends that people's machines have."""
    encoding = chance.choice(["utf-8", "utf-8", "utf-8-sig", "utf-16", "cp1252"])
    text = text.replace("\n", chance.choice(["\n", "\n", "\r\n"]))
    try:
        data = text.encode(encoding)
    except UnicodeEncodeError:
        data = text.encode("utf-8")
    return Made(f"{name}.txt", data, "recipe")


def markdown(name: str, text: str, _: random.Random) -> Made:
    """A Markdown file."""
    first, rest = text.split("\n", 1)
    return Made(f"{name}.md", f"# {first}\n{rest}".encode(), "recipe")


def page_with_data(name: str, text: str, chance: random.Random) -> Made:
    """A web page with a schema.org Recipe as JSON-LD (https://schema.org/Recipe)."""
    title, lines, steps = _parts(text)
    if len(lines) < 3:
        return page_of_words(name, text, chance)
    data = {
        "@context": "https://schema.org",
        "@graph": [
            {"@type": "WebSite", "name": "Cinder Pass Larder"},
            {"@type": "Recipe", "name": title, "recipeIngredient": lines, "recipeInstructions": steps},
        ],
    }
    script = f'<script type="application/ld+json">{json.dumps(data)}</script>'
    return Made(f"{name}.html", _page(title, script, "<p>It was snowing again.</p>"), "recipe")


def page_with_microdata(name: str, text: str, chance: random.Random) -> Made:
    """A web page with the same in microdata."""
    title, lines, steps = _parts(text)
    if len(lines) < 3:
        return page_of_words(name, text, chance)
    items = "".join(f'<li itemprop="recipeIngredient">{_safe(line)}</li>' for line in lines)
    method = "".join(f'<p itemprop="recipeInstructions">{_safe(step)}</p>' for step in steps)
    body = f'<div itemscope itemtype="https://schema.org/Recipe"><h1 itemprop="name">{_safe(title)}</h1>'
    return Made(f"{name}.htm", _page(title, "", f"{body}<ul>{items}</ul>{method}</div>"), "recipe")


def page_of_words(name: str, text: str, _: random.Random) -> Made:
    """A web page that is only its words."""
    body = "".join(f"<p>{'<br>'.join(map(_safe, block.splitlines()))}</p>" for block in text.split("\n\n"))
    return Made(f"{name}.html", _page(name, "", f"<nav>Home</nav><main>{body}</main>"), "recipe")


def document(name: str, text: str, _: random.Random) -> Made:
    """A word-processor document."""
    import docx

    written = docx.Document()
    for line in text.split("\n"):
        written.add_paragraph(line)
    into = io.BytesIO()
    written.save(into)
    return Made(f"{name}.docx", into.getvalue(), "recipe")


def open_document(name: str, text: str, _: random.Random) -> Made:
    """An open document."""
    spaces = "urn:oasis:names:tc:opendocument:xmlns:"
    lines = "".join(f"<text:p>{_safe(line)}</text:p>" for line in text.split("\n"))
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="{spaces}office:1.0" '
        f'xmlns:text="{spaces}text:1.0" office:version="1.3"><office:body><office:text>{lines}</office:text>'
        "</office:body></office:document-content>"
    )
    kind = b"application/vnd.oasis.opendocument.text"
    return Made(f"{name}.odt", zip_of([("mimetype", kind), ("content.xml", content.encode())]), "recipe")


def rich_text(name: str, text: str, _: random.Random) -> Made:
    """Rich text, as a plain word processor saves it."""
    marked = text.replace("\\", r"\\").replace("{", r"\{").replace("}", r"\}")
    units = marked.encode("utf-16-le")
    codes = [int.from_bytes(units[at : at + 2], "little") for at in range(0, len(units), 2)]
    words = "".join(chr(code) if code < 128 else f"\\u{code - 65536 if code > 32767 else code}?" for code in codes)
    lines = words.replace("\n", "\\par\n")
    return Made(f"{name}.rtf", rf"{{\rtf1\ansi\deff0{{\fonttbl{{\f0 Serif;}}}}\f0 {lines}}}".encode("ascii"), "recipe")


def pdf(name: str, text: str, _: random.Random) -> Made:
    """A PDF with a text layer in one of the standard fonts."""
    return Made(f"{name}.pdf", pdf_of(text), "recipe")


def pdf_of(text: str) -> bytes:
    """A page of text as a PDF, by the objects of ISO 32000-1, 7.5."""
    lines = [re.sub(r"([\\()])", r"\\\1", line) for line in _wrapped(text)]
    shown = "".join(f"({line}) Tj T*\n" for line in lines)
    stream = f"BT /F1 9 Tf 40 770 Td 11 TL\n{shown}ET".encode("cp1252", "replace")
    parts = [
        b"<</Type/Catalog/Pages 2 0 R>>",
        b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R/Resources<</Font<</F1 5 0 R>>>>>>",
        b"<</Length %d>>\nstream\n%b\nendstream" % (len(stream), stream),
        b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica/Encoding/WinAnsiEncoding>>",
    ]
    out, places = b"%PDF-1.4\n", []
    for number, part in enumerate(parts, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%b\nendobj\n" % (number, part)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    head = b"xref\n0 %d\n0000000000 65535 f \n" % (len(parts) + 1)
    tail = b"trailer<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n" % (len(parts) + 1, len(out))
    return out + head + table + tail


def photo(text: str = PHOTO) -> bytes:
    """A small photo of a typed card."""
    from PIL import Image, ImageDraw, ImageFont

    lines = text.split("\n")
    picture = Image.new("RGB", (620, 44 * len(lines) + 60) if text else (48, 64), (250, 246, 234))
    pen = ImageDraw.Draw(picture)
    for number, line in enumerate(lines):
        pen.text((40, 30 + 44 * number), line, fill=(30, 30, 40), font=ImageFont.load_default(30))
    into = io.BytesIO()
    picture.save(into, "PNG")
    return into.getvalue()


PLAN: tuple[tuple[int, Callable[[str, str, random.Random], Made]], ...] = (
    (68, plain),
    (18, markdown),
    (16, page_with_data),
    (5, page_with_microdata),
    (5, page_of_words),
    (10, document),
    (3, open_document),
    (3, rich_text),
    (15, pdf),
)


def several(source: list[tuple[str, str]]) -> list[Made]:
    """Files of many recipes, as JSON, as JSON Lines, and as a page with two; and a photo."""
    takes = [source.pop() for _ in range(8)]
    lines = "".join(json.dumps({"title": name, "text": text}) + "\n" for name, text in takes[:3])
    whole = json.dumps([_recipe(text) for _, text in takes[3:6]])
    pair = "".join(f'<script type="application/ld+json">{json.dumps(_recipe(text))}</script>' for _, text in takes[6:])
    return [
        Made("winter supper.jsonl", lines.encode(), "several", recipes=3),
        Made("exported.json", whole.encode(), "several", recipes=3),
        Made("two at once.html", _page("Two", pair, ""), "several", recipes=2),
        Made("IMG_0042.PNG", photo(), "recipe"),
    ]


def archives(source: list[tuple[str, str]]) -> list[Made]:
    """A zip, a zip with a zip in it, a packed tar: files in files."""
    cards = [(f"{name}.txt", text.encode()) for name, text in (source.pop() for _ in range(9))]
    inner = zip_of(cards[3:5])
    into = io.BytesIO()
    with tarfile.open(fileobj=into, mode="w:gz") as packed:
        for name, data in cards[6:]:
            info = tarfile.TarInfo(f"old disk/{name}")
            info.size = len(data)
            packed.addfile(info, io.BytesIO(data))
    return [
        Made("cards.zip", zip_of([*cards[:3], ("__MACOSX/._x.txt", b"\0\5\x16")]), "several", recipes=3),
        Made("attic.zip", zip_of([("box one.zip", inner), cards[5]]), "several", recipes=3),
        Made("backup.tar.gz", into.getvalue(), "several", recipes=3),
    ]


def copies(made: list[Made], chance: random.Random) -> list[Made]:
    """The same bytes under other names."""
    some = chance.sample([one for one in made if one.what == "recipe"], 20)
    return [Made(f"Copy of {one.name}", one.data, "copy", one.name, 0) for one in some]


def near(made: list[Made], chance: random.Random) -> list[Made]:
    """The same recipe in another hand: another title, another amount of sugar, other words around."""
    found: list[Made] = []
    for one in made:
        text = one.data.decode("utf-8", "replace")
        if not one.name.endswith(".txt") or "�" in text or "\0" in text or len(found) >= 12:
            continue
        changed = re.sub(r"(?m)^[12] cups?(?= .*(?:sugar|flour|milk|butter))", "3/4 cup", text, count=1)
        changed = re.sub(r"(?m)^(\S.*)$", r"Aunt's \1", changed.lstrip("\ufeff"), count=1)
        words = chance.choice(["From her blue notebook.", "She wrote it down for the fair.", "Copied at the table."])
        found.append(Made(f"aunt {one.name}", f"{changed.rstrip()}\n\n{words}\n".encode(), "near", one.name))
    return found


def damaged(made: list[Made]) -> list[Made]:
    """Files cut short or overwritten in the middle."""
    kinds = {kind: next(one for one in made if one.name.endswith(kind)) for kind in (".docx", ".pdf", ".zip", ".json")}
    whole = photo()
    return [
        Made("cut short.docx", kinds[".docx"].data[:2000], "damaged", recipes=0),
        Made("cut short.pdf", b"%PDF-1.4\n" + bytes(300), "damaged", recipes=0),
        Made("cut short.zip", kinds[".zip"].data[: len(kinds[".zip"].data) // 2], "damaged", recipes=0),
        Made("cut short.png", whole[:400], "damaged", recipes=0),
        Made("cut short.json", kinds[".json"].data[:300], "damaged", recipes=0),
        Made("overwritten.docx", b"PK\x03\x04" + bytes(4000), "damaged", recipes=0),
    ]


def junk() -> list[Made]:
    """What lies about in folders, and what is made to harm."""
    bomb = zip_of([("zeros.txt", bytes(30_000_000))])
    escape = zip_of([("../../escaped.txt", b"Bomb Cake\n\n2 cups flour\n1 cup sugar\n")])
    shopping = b"Thursday: call the vet.\nPick up the parcel and two light bulbs, post the letters.\n"
    return [
        Made("empty.txt", b"", "junk", recipes=0),
        Made("to do.txt", shopping, "junk", recipes=0),
        Made("tune.mp3", b"ID3\x04" + bytes(range(256)) * 40, "junk", recipes=0),
        Made("setup.exe", b"MZ\x90\0" + bytes(2000), "junk", recipes=0),
        Made("library.db", b"SQLite format 3\0" + bytes(2000), "junk", recipes=0),
        Made("letter.rtf", b"{\\rtf1 Dear Wilma}", "junk", recipes=0),
        Made("old.doc", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(2000), "junk", recipes=0),
        Made("page.html", b"<html><body><script>track()</script></body></html>", "junk", recipes=0),
        Made("numbers.csv", b"month,snow\n1,90\n2,84\n", "junk", recipes=0),
        Made("zeros.zip", bomb, "harmful", recipes=0),
        Made("escape.zip", escape, "harmful", recipes=0),
        Made("portrait.png", photo(""), "junk", recipes=0),
    ]


def zip_of(members: list[tuple[str, bytes]]) -> bytes:
    """A zip of files, the same bytes each time."""
    into = io.BytesIO()
    with zipfile.ZipFile(into, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in members:
            packed.writestr(zipfile.ZipInfo(name), data, zipfile.ZIP_DEFLATED)
    return into.getvalue()


def write(folder: Path, seed: int = SEED) -> list[Made]:
    """Write the files to a folder."""
    made = files(seed)
    for one in made:
        path = folder / one.name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(one.data)
    return made


def _parts(text: str) -> tuple[str, list[str], list[str]]:
    """A text as title, ingredient lines (they begin with a figure) and the other lines."""
    lines = [line.strip() for line in text.split("\n") if line.strip()]
    figures = [line for line in lines[1:] if re.match(r"[\d½¼¾⅓⅔•*-]", line) and not re.match(r"\d+[.)]\s", line)]
    return lines[0], figures, [line for line in lines[1:] if line not in figures]


def _recipe(text: str) -> dict[str, Any]:
    title, lines, steps = _parts(text)
    steps = steps or ["Mix and bake."]
    return {"@type": "Recipe", "name": title, "recipeIngredient": lines, "recipeInstructions": "\n".join(steps)}


def _page(title: str, head: str, body: str) -> bytes:
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{_safe(title)}</title>{head}</head>'
        f"<body>{body}</body></html>"
    ).encode()


def _safe(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;")


def _wrapped(text: str) -> list[str]:
    import textwrap

    return [part for line in text.split("\n") for part in (textwrap.wrap(line, 105) or [""])][:66]


def main(arguments: list[str]) -> int:
    """Write the folder named, and say what is in it."""
    if len(arguments) != 1:
        print(__doc__)
        return 2
    made = write(Path(arguments[0]))
    print(f"{len(made)} files, {sum(one.recipes for one in made)} recipes at least")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
