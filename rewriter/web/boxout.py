"""Taking out of the recipe box: the whole of it or one thing, written to a folder of the server and sent as a file."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from rewriter.collection import Box
from rewriter.collection.takeout import slug
from rewriter.errors import Unusable

Told = dict[str, Any]
Out = tuple[Path, str]  # the file, and its media type
PLAIN = "text/plain; charset=utf-8"
BYTES = "application/octet-stream"


def dump(box: Box, _: Told, room: Path) -> Out:
    """The whole box as JSON Lines, which another box reads back whole."""
    box.dump(room / "box.jsonl")
    return room / "box.jsonl", "application/jsonl"


def backup(box: Box, _: Told, room: Path) -> Out:
    """A copy of the box itself."""
    return box.backup(room / "box-backup.sqlite"), "application/vnd.sqlite3"


def folder(box: Box, told: Told, room: Path) -> Out:
    """Cards, originals and, for a kitchen, every style, as a zip archive."""
    box.take_out(room / "box", _where(told))
    made = room / "box.zip"
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as packed:
        for path in sorted(path for path in (room / "box").rglob("*") if path.is_file()):
            packed.write(path, path.relative_to(room))
    return made, "application/zip"


def booklet(box: Box, told: Told, room: Path) -> Out:
    """Every card for a kitchen as one PDF."""
    where = _where(told)
    if where is None:
        raise Unusable("a booklet is for one kitchen", "say where it stands")
    box.booklet(room / "booklet.pdf", where)
    return room / "booklet.pdf", "application/pdf"


def text(box: Box, told: Told, room: Path) -> Out:
    """One card as text: its present words, or a revision of it."""
    card = box.card(_card(told))
    words, path = card.text, room / f"{slug(card)}.txt"
    if "revision" in told:
        found = [one for one in box.revisions(card.number) if one.number == told["revision"]]
        if not found:
            raise Unusable(f"card {card.number} has no revision {told['revision']}", "see its list")
        words, path = found[0].text, room / f"{slug(card)}-revision-{told['revision']}.txt"
    path.write_bytes(words.encode("utf-8", "surrogatepass"))
    return path, PLAIN


def original(box: Box, told: Told, room: Path) -> Out:
    """The file one card came in, byte for byte; its name says whose it is, its bytes what it is."""
    card = box.card(_card(told))
    last = card.origins[0].replace("\\", "/").rsplit("/", 1)[-1] if card.origins else ""
    suffix = Path(last).suffix.lower()
    plain = suffix if suffix[1:].isascii() and suffix[1:].isalnum() and len(suffix) < 8 else ".bin"
    path = room / f"{slug(card)}-original{plain}"
    path.write_bytes(box.original(card.number))
    return path, BYTES


def photo(box: Box, told: Told, room: Path) -> Out:
    """The photo of one bake, counted from 0 as the card lists them."""
    bakes = box.bakes(_card(told))
    number = told.get("bake", 0)
    picture = bakes[number].photo if number < len(bakes) else None
    if picture is None:
        raise Unusable("that bake has no photo", "see the card's bakes")
    kind = "png" if picture.startswith(b"\x89PNG") else "jpg" if picture.startswith(b"\xff\xd8") else "bin"
    path = room / f"{slug(box.card(told['card']))}-{bakes[number].day}.{kind}"
    path.write_bytes(picture)
    return path, BYTES


FORMS: dict[str, Callable[[Box, Told, Path], Out]] = {
    "folder": folder,
    "booklet": booklet,
    "dump": dump,
    "backup": backup,
    "text": text,
    "original": original,
    "photo": photo,
}


def taken(path: str, told: Told, room: str) -> Out:
    """What is asked for, as a file in a room. Raises Unusable, ModuleNotFoundError where an extra is missing."""
    form = FORMS.get(told["form"])
    if form is None:
        raise Unusable(f'nothing is taken out as "{told["form"]}"', f"choose of {', '.join(FORMS)}")
    with Box(path, create=False) as box:
        made, kind = form(box, told, Path(room))
    return made, kind


def _card(told: Told) -> int:
    if "card" not in told:
        raise Unusable("card is lacking", "send the number of the card")
    return int(told["card"])


def _where(told: Told) -> Any:
    """The kitchen's air, where one is told."""
    from rewriter.collection.fitting import place_of

    given = [told.get(name) or None for name in ("elevation", "barometer", "boils_at")]
    return place_of(*given) if any(given) else None
