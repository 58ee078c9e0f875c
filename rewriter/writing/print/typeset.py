"""Typst, kept at a distance: a template of ours, and data that it only ever reads as text."""

from __future__ import annotations

import json
import re
from functools import cache
from importlib.resources import files
from typing import Any

# What no page can show: controls, halves of surrogate pairs, signs that are none.
_UNSHOWN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_ENDLESS = re.compile(r"\S{24}(?=\S)")
# Beyond the scripts the typesetter's own fonts hold, the fonts of the machine are asked for as well.
_FOREIGN = re.compile("[\u0590-\u1dff\u2e80-\ud7ff\uf900-\ufaff\ufe30-\ufffd\U00010000-\U0010ffff]")


def typeset(template: str, data: object) -> bytes:
    """A PDF of a template of ours with its data, which the template reads from ``sys.inputs.data``.

    The same data give the same bytes.

    Needs nothing but the wheel of ``typst``: its compiler and its fonts. Raises RuntimeError where setting fails.
    """
    import typst

    held = json.dumps(_shown(data), ensure_ascii=False)
    pdf = typst.compile(
        template.encode(),
        format="pdf",
        sys_inputs={"data": held},
        ignore_system_fonts=not _FOREIGN.search(held),
        timestamp=0,
    )
    if not isinstance(pdf, bytes):
        raise RuntimeError("the typesetter gave no PDF")
    return pdf


def measured(template: str, data: object) -> Any:
    """What a template tells under the label ``<told>`` (sizes of words, heights of blocks), as plain values."""
    import typst

    held = json.dumps(_shown(data), ensure_ascii=False)
    said = typst.query(
        template.encode(),
        "<told>",
        field="value",
        one=True,
        sys_inputs={"data": held},
        ignore_system_fonts=not _FOREIGN.search(held),
    )
    return json.loads(said)


@cache
def template(*names: str, package: str = "rewriter.writing.print") -> str:
    """Templates that lie in a package, one after the other."""
    return "\n".join((files(package) / name).read_text("utf-8") for name in names)


def _shown(value: Any) -> Any:
    """Data with every sign that no page can show replaced, and places to break in words longer than a line."""
    if isinstance(value, str):
        return _ENDLESS.sub("\\g<0>\u200b", _UNSHOWN.sub("\ufffd", value))
    if isinstance(value, dict):
        return {key: _shown(inner) for key, inner in value.items()}
    return [_shown(inner) for inner in value] if isinstance(value, (list, tuple)) else value
