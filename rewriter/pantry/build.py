"""Gather the tables into shelf.json: ``python -m rewriter.pantry.build`` after mending one."""

from __future__ import annotations

import json
import sys

from rewriter.pantry import shelf


def main() -> None:
    """Write shelf.json from the tables as they stand, and say what it holds."""
    made = shelf.gather()
    text = json.dumps(made, ensure_ascii=False, separators=(",", ":")).replace('},"', '},\n"')
    shelf.SHELF.write_text(text + "\n", encoding="utf-8", newline="\n")
    sys.stdout.write(f"{shelf.SHELF.name}: {len(made['tables']['entries'])} entries, {len(made['units'])} units\n")


if __name__ == "__main__":
    main()
