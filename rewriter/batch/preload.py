"""Imported once by the process that others are forked from: the pipeline, shared by all of them in memory."""

from __future__ import annotations

import gc

from rewriter.batch.job import Settings
from rewriter.batch.work import Annotate

Annotate(Settings("6500 ft")).warm()
gc.collect()
gc.freeze()  # what is shared stays shared: the collector does not touch it
