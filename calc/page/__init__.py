"""Form and answer as HTML text: the one renderer, used by the build and by the page."""

from calc.page.block import block, respond

__all__ = ["block", "respond"]
