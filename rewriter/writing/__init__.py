"""Writing: measured changes, annotated text in a style, and the pasted text back again.

``measure`` turns exact corrections into what a spoon, a cup, a scale or an oven dial can do; ``write`` puts
them into the text in one of ``styles()``; ``strip`` takes them out again; ``save`` writes any style to a file.
"""

from __future__ import annotations

from rewriter.writing.measure import measure
from rewriter.writing.registry import styles
from rewriter.writing.seal import StripReport, strip, strip_report
from rewriter.writing.write import pasted, save, write

__all__ = ["StripReport", "measure", "pasted", "save", "strip", "strip_report", "styles", "write"]
