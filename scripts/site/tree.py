"""Finished pages as trees: each is read once, changed by every step, and written once.

They are read by the rules that browsers go by, so that a drawing keeps its names and nothing is closed that no browser
would close. A step that needs a place of the theme's or of our templates asks for it by `one`, which stops the build
when it is not there, or is there more often.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from exact import Unfound
from selectolax.lexbor import LexborHTMLParser
from selectolax.lexbor import LexborNode as Node


class Page:
    """A finished page; name: its path from the top of the site, `lane/starter.html`."""

    def __init__(self, name: str, text: str) -> None:
        self.name = name
        self.tree = LexborHTMLParser(text)

    @property
    def top(self) -> str:
        """The way from the page to the top of the site."""
        return "../" * self.name.count("/")

    @property
    def folder(self) -> str:
        """That of the page, nothing at the top of the site."""
        return self.name.rpartition("/")[0]

    @property
    def html(self) -> str:
        """The page as it is written."""
        return f"{self.tree.html}\n"

    def all(self, selector: str) -> list[Node]:
        """What the page has of this, in its order; perhaps nothing."""
        return self.tree.css(selector)

    def one(self, selector: str) -> Node:
        """What the page has once, and has to have."""
        nodes = self.all(selector)
        if len(nodes) != 1:
            raise Unfound(f"{self.name}: “{selector}” stands {len(nodes)} times, not once")
        return nodes[0]


def read(out: Path) -> list[Page]:
    """Every page of a site, by name."""
    paths = sorted(out.rglob("*.html"))
    return [Page(path.relative_to(out).as_posix(), path.read_text(encoding="utf-8")) for path in paths]


def write(out: Path, pages: list[Page]) -> None:
    """Put the pages back where they came from."""
    for page in pages:
        (out / page.name).write_text(page.html, encoding="utf-8")


def on_all(pages: list[Page], step: Callable[[Page], int]) -> None:
    """A step on every page; it says how many places it changed, and one that changes none anywhere stops the build."""
    if not sum(step(page) for page in pages):
        raise Unfound(f"no page has anything that “{step.__name__}” is for: has the theme other names for it?")


def words(node: Node) -> str:
    """What is read in a node, without the sign of a link to its heading."""
    return " ".join(node.text().replace("¶", "").split())


def _made(html: str, within: Node | None) -> list[Node]:
    """Markup as nodes, read as a browser reads it in that place."""
    tag = within.tag if within and within.tag else "div"
    root = LexborHTMLParser(html, is_fragment=True, fragment_tag=tag).root
    return list(root.iter(include_text=True)) if root else []


def before(node: Node, html: str) -> None:
    """Put markup before a node."""
    for new in _made(html, node.parent):
        node.insert_before(new)


def after(node: Node, html: str) -> None:
    """Put markup after a node."""
    for new in reversed(_made(html, node.parent)):
        node.insert_after(new)


def first_in(node: Node, html: str) -> None:
    """Put markup at the start of a node."""
    if start := next(node.iter(include_text=True), None):
        before(start, html)
    else:
        last_in(node, html)


def last_in(node: Node, html: str) -> None:
    """Put markup at the end of a node."""
    for new in _made(html, node):
        node.insert_child(new)


def instead_of(node: Node, html: str) -> None:
    """Put markup in the place of a node."""
    before(node, html)
    node.decompose()


def wrapped(nodes: list[Node], wrapper: str) -> Node:
    """Put neighbours into a new node, in the place of the first; wrapper: it, as empty markup. Returns it."""
    before(nodes[0], wrapper)
    new = nodes[0].prev
    assert new is not None
    for node in nodes:
        new.insert_child(node, move=True)
    return new


def contents(node: Node) -> list[Node]:
    """What lies in a node, but for white space."""
    return list(node.iter(include_text=True, skip_empty=True))


def following(node: Node) -> Node | None:
    """What comes after a node beside it, but for white space."""
    after = node.next
    while after is not None and after.is_empty_text_node:
        after = after.next
    return after


def classes(node: Node) -> list[str]:
    """The classes of a node."""
    return (node.attributes.get("class") or "").split()


def texts(root: Node, left_alone: frozenset[str], only_in: frozenset[str] = frozenset()) -> list[Node]:
    """Every text in a node that says something, in order, but for what lies in tags that are left alone.

    only_in: tags of which one has to be round it; none for wherever it stands.
    """
    listed: list[Node] = []
    for node in root.iter(include_text=True):
        if node.is_text_node:
            if not only_in and (node.text_content or "").strip():
                listed.append(node)
        elif node.tag not in left_alone:
            listed += texts(node, left_alone, frozenset() if node.tag in only_in else only_in)
    return listed
