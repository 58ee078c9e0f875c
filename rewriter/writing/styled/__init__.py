"""One module a style, each registering its writer."""
