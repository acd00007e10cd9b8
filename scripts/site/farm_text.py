"""The text of a `farm.yml` as a small tree in which every part knows its line; whatever cannot be read is told by line.

Only what such a file needs is taken: texts, lists, groups. Anchors, aliases and tags are refused, so that no file can
grow beyond its own size or make anything but text.
"""

import unicodedata
from dataclasses import dataclass

import yaml

LONGEST, DEEPEST, MOST_PARTS = 60_000, 6, 6_000

UNSEEN = {"Cc", "Cs", "Co", "Cn", "Zl", "Zp"}
TURNS_TEXT = set(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0xFEFF)))

WORDS = (
    ("'\\t'", "a tab stands here. Indent with spaces, and put a text that holds a tab in quotes."),
    (
        "mapping values are not allowed",
        (
            "a colon stands where none is expected. Put the text in quotes, or look at the spaces at the start of the"
            " line."
        ),
    ),
    ("could not find expected ':'", "there is no colon after this key, or the line above is not finished."),
    ("unexpected end of stream", "a quote or a bracket is opened here and never closed."),
    ("expected <block end>", "this line begins further to the left or right than the lines it belongs to."),
    ("expected ',' or", "a list in brackets needs commas between its parts and a bracket at its end."),
    (
        "unknown escape character",
        "a backslash stands in a text in double quotes. Write it twice, or use single quotes.",
    ),
    ("cannot start any token", "this sign cannot begin a text here. Put the text in quotes."),
    (
        "unknown anchor",
        "signs such as * and & at the start of a text have a meaning of their own. Put the text in quotes.",
    ),
)
"""What the parser says, and what it means to whoever wrote the file."""


@dataclass
class Node:
    """A part of the file: kind is "text", "list", "group" or "blank". value: str, [Node], [(Node of the key, Node)] or
    None.
    """

    kind: str
    value: object
    line: int


class Fault(ValueError):
    """What keeps the file from being read at all, and its line."""

    def __init__(self, line, message):
        super().__init__(message)
        self.line, self.message = line, message


def tree(text):
    """The file as a Node. Raises Fault where it cannot be read."""
    if len(text) > LONGEST:
        raise Fault(1, f"the file has {len(text):,} characters; {LONGEST:,} are the most that can be read.")
    last = 1
    try:
        build = Tree()
        for event in yaml.parse(text, Loader=yaml.SafeLoader):
            last = event.start_mark.line + 1
            build.take(event, last)
    except yaml.MarkedYAMLError as error:
        raise Fault(_line(error, last), _words(error.problem or error.context or "")) from None
    except yaml.reader.ReaderError as error:
        raise Fault(
            text.count("\n", 0, error.position) + 1,
            "there is a sign here that no text holds. Save the file as UTF-8 text.",
        ) from None
    except (yaml.YAMLError, ValueError, OverflowError, RecursionError) as error:
        if isinstance(error, Fault):
            raise
        raise Fault(last, "this cannot be read as YAML.") from None
    if build.root is None or build.root.kind == "blank":
        raise Fault(1, "the file is empty. Begin with the farm's name: “name: …”.")
    return build.root


def _line(error, last):
    """Where the writer should look: where a quote was opened rather than the end of the file."""
    mark = error.problem_mark or error.context_mark
    if error.context_mark and "unexpected end of stream" in (error.problem or ""):
        mark = error.context_mark
    return mark.line + 1 if mark else last


def _words(problem):
    return next((words for part, words in WORDS if part in problem), f"this cannot be read as YAML: {problem}.")


class Tree:
    """Takes the events of the parser one by one; stops at whatever is too deep, too much, or more than text."""

    def __init__(self):
        self.root, self.open, self.parts, self.documents = None, [], 0, 0

    def take(self, event, line):
        if isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                raise Fault(line, "a second file begins here (---). One file describes one farm.")
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            raise Fault(
                line,
                "* and & at the start of a value refer to other parts of the file, which is not taken here. Put the"
                " text in quotes.",
            )
        if isinstance(event, yaml.NodeEvent) and getattr(event, "tag", None):
            raise Fault(line, "! at the start of a value is not taken here. Put the text in quotes.")
        if isinstance(event, yaml.ScalarEvent):
            blank = event.style is None and event.value in ("", "~", "null")
            self.add(Node("blank", None, line) if blank else Node("text", event.value, line))
        elif isinstance(event, (yaml.SequenceStartEvent, yaml.MappingStartEvent)):
            node = Node("list" if isinstance(event, yaml.SequenceStartEvent) else "group", [], line)
            self.add(node)
            self.open.append([node, None])
            if len(self.open) > DEEPEST:
                raise Fault(line, f"lists and groups stand inside one another more than {DEEPEST} deep.")
        elif isinstance(event, (yaml.SequenceEndEvent, yaml.MappingEndEvent)):
            self.open.pop()

    def add(self, node):
        self.parts += 1
        if self.parts > MOST_PARTS:
            raise Fault(node.line, f"the file has more than {MOST_PARTS:,} parts.")
        if not self.open:
            self.root = node
            return
        parent, key = self.open[-1]
        if parent.kind == "list":
            parent.value.append(node)
        elif key is None:
            self.open[-1][1] = node
        else:
            parent.value.append((key, node))
            self.open[-1][1] = None


def unprintable(text, lines=False):
    """The first sign of a text that is not seen or turns the reading about, or None."""
    return next(
        (
            sign
            for sign in text
            if (unicodedata.category(sign) in UNSEEN and not (lines and sign in "\n\t")) or sign in TURNS_TEXT
        ),
        None,
    )
