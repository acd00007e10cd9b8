"""Form and answer as HTML text: the one renderer, used by the build and by the page."""

from calc.page.block import block, respond
from calc.page.lists import facts_table, sources_list

__all__ = ["block", "facts_table", "respond", "sources_list"]
