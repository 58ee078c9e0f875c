"""Which extra brings a library that is missing.

>>> missing(ModuleNotFoundError("No module named 'typst'", name="typst"))
"this needs typst, which is not installed; pip install 'rewriter[print]'"
"""

from __future__ import annotations

# Modules that come with an extra: where one lacks, the complaint names the extra.
EXTRAS = {
    "web": ("starlette", "uvicorn", "jinja2"),
    "print": ("typst", "pypdf"),
    "photo": ("rapidocr", "onnxruntime", "PIL"),
    "plot": ("matplotlib",),
    "box": ("datasketch", "rapidfuzz"),
    "docs": ("docx", "lxml", "pypdfium2", "extruct", "inscriptis", "w3lib", "defusedxml"),
    "batch": ("pyarrow",),
    "cluster": ("ray",),
}


def missing(error: ModuleNotFoundError) -> str | None:
    """One line that says what is missing and how to install it; None where no extra brings it."""
    module = (error.name or "").split(".")[0]
    extra = next((extra for extra, modules in EXTRAS.items() if module in modules), None)
    if extra is None:
        return None
    return f"this needs {error.name}, which is not installed; pip install 'rewriter[{extra}]'"
