"""Many recipes at once: a folder, JSON Lines, CSV or Parquet in, the same rows annotated out.

One function (:class:`rewriter.batch.work.Annotate`) turns a row into one line of JSON, whatever runs it: a pool of
processes here, or actors of Ray Data on a cluster. Rows are streamed through a bounded window, the outcome of each
is kept in a journal in the order of the input, and what cannot be done is set aside with its error; so a run that is
interrupted goes on where it was.

>>> from rewriter.batch import Settings
>>> Settings(elevation="8,200 ft").air().elevation_ft
Fraction(8200, 1)
"""

from rewriter.batch.job import Row, Settings
from rewriter.batch.runs import Tally, run

__all__ = ["Row", "Settings", "Tally", "run"]
