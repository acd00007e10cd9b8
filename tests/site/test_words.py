"""Spelling and style of every sentence a reader can meet: the built pages, the sentences in the code, and README.md and
DEVELOPERS.md without their tables of names.

scripts/browser/prose/check.mjs reads; known.txt beside it holds the words of the trade, avoided.txt the words not used
here, plain.txt the words that a list of plainer ones would object to without need.
"""

import ast
import html
import json
import re
import subprocess
from collections import defaultdict

import bootstrap
import markdown
import pytest

from calc.facts import sources
from calc.facts.base import Source

PROSE = bootstrap.BROWSER / "prose"
RULES = {
    "spell": "a word that neither the British dictionary nor known.txt has",
    "repeated-words": "the same word twice",
    "indefinite-article": "a for an, or an for a",
    "redundant-acronyms": "a word said again after its abbreviation",
    "simplify": "a plainer word would do",
    "avoided": "a word of avoided.txt",
    "length": "a sentence too long to hold in mind",
}


def listed(name):
    """The words of one list, without its comments."""
    return [
        line for line in (PROSE / name).read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")
    ]


def docstrings(tree):
    """The constants of a module that are docstrings."""
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
            and node.body
            and isinstance(node.body[0], ast.Expr)
        ):
            yield node.body[0].value


def sentences(path):
    """Texts of a module that a reader may see: strings of several words, a figure in the place of each value."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    skipped = set(docstrings(tree)) | {
        node.value for node in ast.walk(tree) if isinstance(node, ast.Attribute) and node.attr == "split"
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            skipped.update(node.values)
            text = "".join(part.value if isinstance(part, ast.Constant) else "7" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in skipped:
            text = node.value
        else:
            continue
        equation = re.search(r"\{\w+\} ?[=×÷]|[=×÷] ?\{\w+\}", text)
        pattern = "\\" in text or ("|" in text and " " not in text.split("|")[0])
        if len(re.findall(r"[A-Za-z]{2,}", text)) > 2 and "<" not in text and not equation and not pattern:
            yield re.sub(r"\{[^}]*\}", "7", text)


def surnames():
    """Words of the bibliography: they are spelled as their authors spell them."""
    works = " ".join(f"{work.name} {work.work}" for work in vars(sources).values() if isinstance(work, Source))
    return sorted(set(re.findall(r"[^\W\d_]{2,}", works)))


def as_page(texts):
    return "".join(f"<p>{html.escape(text)}</p>" for text in texts)


def check(node, pages):
    """What the checker finds, by rule."""
    asked = json.dumps({"pages": pages, "names": surnames()})
    done = subprocess.run(
        [node, PROSE / "check.mjs"], input=asked, capture_output=True, text=True, encoding="utf-8", check=True
    )
    found = defaultdict(list)
    for fault in json.loads(done.stdout):
        if fault["where"] == "DEVELOPERS.md" and fault["rule"] == "length":
            continue  # lists of files and fences are long
        found[fault["rule"]].append(f"{fault['where']}: {fault['says']}\n    {fault['sentence'][:300]}")
    return found


@pytest.fixture(scope="module")
def prose(site, names):
    """Everything to read, by name."""
    root = bootstrap.ROOT
    pages = {
        name: (site / name).read_text(encoding="utf-8")
        for name in names
        if name not in {"licences.html", "method/reference.html"}  # names of others; docstrings, for who writes code
    }
    modules = (
        path
        for path in sorted((root / "calc").rglob("*.py"))
        if path.parent.name != "page" and path.name != "sources.py"
    )
    code = {str(path.relative_to(root)): as_page(sentences(path)) for path in modules}
    read_me = {}
    for name in ("README.md", "DEVELOPERS.md"):
        text = markdown.markdown(re.sub(r"(?m)^\|.*", "", (root / name).read_text(encoding="utf-8")))
        read_me[name] = re.sub(r"<code>[^<]*</code>", "Code", text)  # a sentence may begin with it
    return {name: text for name, text in (pages | code | read_me).items() if text}


@pytest.fixture(scope="module")
def found(node, prose):
    return check(node, prose)


@pytest.mark.parametrize("rule", RULES)
def test_no_sentence_has(found, rule):
    assert not found[rule], f"{RULES[rule]}:\n" + "\n".join(sorted(set(found[rule])))


def test_no_other_rule_is_at_work(found):
    assert set(found) <= set(RULES)


@pytest.mark.parametrize(
    ("rule", "sentence"),
    [
        ("spell", "The lane has a good colour and too much mosture."),
        ("spell", "The color of castings is brown."),
        ("repeated-words", "Lift the the boards."),
        ("indefinite-article", "You need a inch of feed."),
        ("redundant-acronyms", "Read it on the LCD display."),
        ("simplify", "Water the bed in order to cool it."),
        ("avoided", "Simply add water."),
        ("length", "Water the bed " + "and then feed it again " * 7 + "."),
    ],
)
def test_a_planted_fault_is_found(node, rule, sentence):
    assert check(node, {"planted": f"<article><p>{sentence}</p></article>"})[rule]


@pytest.mark.parametrize(
    "sentence",
    [
        "The moulds on 40 lb (18 kg) of feed, at 2 °C, harm nobody.",
        "See <code>mosture</code>.",
        "Kaplan et al. 1980 fed manure.",
    ],
)
def test_a_good_sentence_passes(node, sentence):
    assert not check(node, {"planted": f"<article><p>{sentence}</p></article>"})


@pytest.mark.parametrize("name", ["known.txt", "avoided.txt", "plain.txt"])
def test_lists_are_in_order(name):
    assert listed(name) == sorted(set(listed(name)), key=lambda word: (word.casefold(), word))
