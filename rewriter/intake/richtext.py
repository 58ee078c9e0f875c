r"""Rich text (.rtf): its words, without what only shapes them, by striprtf.

>>> read(rb"{\rtf1\ansi Rusks\par 2 cups flour\par}").text
'Rusks\n2 cups flour\n'
"""

from __future__ import annotations

import re

from rewriter.errors import Unusable
from rewriter.intake import guards
from rewriter.intake.limits import LIMITS, Limits, check
from rewriter.intake.taken import Taken

_MOST_FONTS = 2_000
_PICTURE = re.compile(rb"\{\\(?:\*\\shppict\b|pict\b)")


def read(data: bytes, limits: Limits = LIMITS) -> Taken:
    """The words of a document, a line a paragraph, table cells apart by tabs.

    Raises Unusable where it is damaged or without words.
    """
    from striprtf.striprtf import rtf_to_text

    check("this document", len(data), limits.file)
    if data.count(b"\\fcharset") > _MOST_FONTS:
        raise guards.bomb("it names more fonts than any document has")
    pictures = len(_PICTURE.findall(data))
    try:
        # a raw line break says nothing in rich text; before each field it keeps a link's search within its field
        marked = data.decode("latin-1").replace("{\\field", "\n{\\field")
        words = str(rtf_to_text(marked, errors="replace"))  # type: ignore[no-untyped-call]
    except (LookupError, ValueError, TypeError, OverflowError) as error:
        raise Unusable(f"this document is damaged ({error})", "open it where it was made, and save it again") from None
    text = "\n".join(line.replace("|", "\t").rstrip() if line.endswith("|") else line for line in words.split("\n"))
    text = text.strip("\n") + "\n"
    if not text.strip():
        raise Unusable("there are no words in this document", "if it holds pictures of recipes, give the pictures")
    return Taken(text, kind="document", warnings=(f"{pictures} pictures in it are not read",) if pictures else ())
