"""``python -m rewriter`` does what ``rewriter`` does."""

from __future__ import annotations

import sys

from rewriter.cli import main

if __name__ == "__main__":
    sys.exit(main())
