"""One file a correction; each registers its function when :func:`rewriter.correcting.registry.corrections` loads it."""
