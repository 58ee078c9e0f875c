"""The commands, one file each; :mod:`rewriter.cli` holds their table."""
