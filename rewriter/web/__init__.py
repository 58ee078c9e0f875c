"""The page: paste on the left, your recipe for your kitchen on the right, and the JSON API behind it.

``create_app`` gives an ASGI application; ``rewriter serve`` runs it. Needs the extra ``web``.
"""

from __future__ import annotations

from rewriter.web.app import create_app
from rewriter.web.guard import Door

__all__ = ["Door", "create_app"]
