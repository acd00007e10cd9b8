"""The whole handbook as one page to print, made of the finished pages by scripts/browser/whole.mjs."""

import bootstrap
import finish

NAME = "print.html"


def add(out, node):
    """Write the page.

    It comes after all others are finished, so that it stands neither in the search nor in the sitemap.
    """
    bootstrap.run([node, bootstrap.BROWSER / "whole.mjs", out, NAME, finish.policy(())])
