"""Every page of the built site: links lead somewhere, markup is sound, nothing outside is asked for, scripts are under
the policy.
"""

import re
from collections import Counter
from html.parser import HTMLParser
from urllib.parse import parse_qsl, unquote, urlparse

import finish
import pytest
import tree

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
OPTIONAL_END = {"li", "p", "td", "th", "tr", "dt", "dd", "tbody", "thead", "option"}
SHAPES = {"path", "rect", "circle", "line", "polyline", "polygon", "ellipse", "use", "stop", "g", "animate"}


class Page(HTMLParser):
    """What the tests want to know of a page."""

    def __init__(self, text):
        super().__init__()
        self.ids, self.links, self.labels, self.controls, self.headings, self.referred, self.faults = (
            [],
            [],
            [],
            [],
            [],
            [],
            [],
        )
        self.names = set()
        self.open, self.described, self.title, self.images, self.inside_label = [], None, "", [], 0
        self.feed(text)
        self.faults += [f"<{tag}> is never closed" for tag in self.open if tag not in OPTIONAL_END]

    def handle_starttag(self, tag, attributes):
        values = dict(attributes)
        repeated = [name for name, times in Counter(name for name, _ in attributes).items() if times > 1]
        self.faults += [f"<{tag}> has {name} twice" for name in repeated]
        if tag not in VOID and not (tag in SHAPES and self.get_starttag_text().endswith("/>")):
            self.open.append(tag)
        if "id" in values:
            self.ids.append(values["id"])
        if tag == "a" and values.get("href"):
            self.links.append(values["href"])
        if tag == "label":
            self.inside_label += 1
            self.labels.append(values.get("for"))
        if tag in {"input", "select", "textarea"} and values.get("type") != "hidden":
            named = (
                self.inside_label
                or values.get("aria-label")
                or values.get("aria-labelledby")
                or values.get("aria-hidden") == "true"
            )
            self.controls.append((values.get("id"), bool(named)))
            self.names.add(values.get("name"))
        if re.fullmatch("h[1-6]", tag):
            self.headings.append(int(tag[1]))
        if tag == "img":
            self.images.append(values)
        for name in ("aria-describedby", "aria-labelledby", "aria-controls"):
            self.referred += (values.get(name) or "").split()
        if tag == "meta" and values.get("name") == "description":
            self.described = values.get("content")

    def handle_startendtag(self, tag, attributes):
        self.handle_starttag(tag, attributes)
        if self.open and self.open[-1] == tag and tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        if tag == "label":
            self.inside_label -= 1
        while self.open and self.open[-1] != tag and self.open[-1] in OPTIONAL_END:
            self.open.pop()
        if not self.open or self.open[-1] != tag:
            self.faults.append(f"</{tag}> closes {'nothing' if not self.open else '<' + self.open[-1] + '>'}")
        else:
            self.open.pop()


@pytest.fixture(scope="session")
def pages(site):
    return {
        path.relative_to(site).as_posix(): Page(path.read_text(encoding="utf-8"))
        for path in sorted(site.rglob("*.html"))
    }


def targets(name, link, base):
    """(file in the site, fragment) of a link, or None when it leads outside or does something else."""
    parts = urlparse(link)
    if parts.scheme or parts.netloc:
        return None
    path = unquote(parts.path)
    if not path:
        return name, parts.fragment
    joined = (base / name).parent.joinpath(path).resolve()
    return (
        joined.relative_to(base.resolve()).as_posix() if joined.is_relative_to(base.resolve()) else "outside the site"
    ), parts.fragment


def test_links_lead_somewhere(pages, site):
    broken = []
    for name, page in pages.items():
        for link in page.links:
            found = targets(name, link, site) if name != "404.html" else None
            if found is None:
                continue
            target, fragment = found
            target = "index.html" if target == "." else target
            if not (site / target).is_file():
                broken.append(f"{name}: {link} is not there")
            elif fragment.startswith("plan?"):  # a link that sets inputs: each has to be asked for over there
                unknown = (
                    {part[0] for part in parse_qsl(fragment[5:])} - {"units", "currency", "from"} - pages[target].names
                )
                broken += [f"{name}: {link} sets {one}, which {target} does not ask for" for one in sorted(unknown)]
            elif fragment and target in pages and fragment not in pages[target].ids and not fragment.startswith("__"):
                broken.append(f"{name}: {link} has no such place")
    assert not broken, "\n".join(sorted(set(broken)))


def test_markup_is_sound(pages):
    faults = []
    for name, page in pages.items():
        faults += [f"{name}: {fault}" for fault in page.faults]
        faults += [f"{name}: id {id} stands {times} times" for id, times in Counter(page.ids).items() if times > 1]
        faults += [f"{name}: {id} is referred to and not there" for id in page.referred if id not in page.ids]
        faults += [f"{name}: label for {id}, which is not there" for id in page.labels if id and id not in page.ids]
        faults += [
            f"{name}: field {id or '(no id)'} has no name"
            for id, named in page.controls
            if not named and id not in page.labels
        ]
        faults += [f"{name}: an image without alt" for image in page.images if "alt" not in image]
        if page.headings.count(1) != 1:
            faults.append(f"{name}: {page.headings.count(1)} first-level headings")
    assert not faults, "\n".join(faults)


def test_headings_do_not_skip_a_level(pages):
    skipped = [
        f"{name}: h{before} is followed by h{after}"
        for name, page in pages.items()
        for before, after in zip(page.headings, page.headings[1:])
        if after > before + 1
    ]
    assert not skipped, "\n".join(skipped)


def test_every_page_says_what_it_is(pages):
    descriptions = {name: page.described for name, page in pages.items() if name != "404.html"}
    assert all(text and 25 <= len(text) <= 200 for text in descriptions.values()), {
        n: t for n, t in descriptions.items() if not t or not 25 <= len(t) <= 200
    }
    assert [text for text, times in Counter(descriptions.values()).items() if times > 1] == []


def test_nothing_outside_is_asked_for(site):
    assert sorted(set(finish.outside_requests(site))) == []


def test_outside_requests_are_noticed(tmp_path):
    (tmp_path / "a.html").write_text(
        '<img src="https://b.example/c.png"><link rel="stylesheet" href="//b.example/d.css"><p'
        ' style="background:url(https://b.example/e)">'
    )
    (tmp_path / "f.css").write_text("@import 'https://b.example/g.css'; p { background: url(//b.example/h.png) }")
    (tmp_path / "i.js").write_text("fetch('https://b.example/j')")
    assert len(set(finish.outside_requests(tmp_path))) == 6


def test_policy_allows_our_scripts_and_no_others(site):
    for path in sorted(site.rglob("*.html")):
        text = path.read_text(encoding="utf-8")
        found = re.findall(r'<meta http-equiv="Content-Security-Policy" content="([^"]*)">', text)
        assert len(found) == 1, path
        rules = dict(rule.split(" ", 1) for rule in found[0].split("; "))
        assert (
            rules["default-src"] == "'none'"
            and rules["connect-src"].startswith("'self'")
            and "'unsafe-inline'" not in rules["script-src"]
        ), path
        assert "'unsafe-eval'" not in rules["script-src"] and "*" not in found[0].replace("'sha256-", "")[:40], path
        assert all(
            finish.hash_of(script) in rules["script-src"]
            for script in finish.inline_scripts(tree.Page(path.name, text))
        ), path
        assert text.index("Content-Security-Policy") < re.search("<script|<link", text).start(), (
            f"{path}: something loads before the policy"
        )
        assert not re.search(r"<[^>]+\son[a-z]+=", re.sub(r"<script.*?</script>", "", text, flags=re.DOTALL)), (
            f"{path}: an event handler in the markup"
        )


def test_licences_of_everything_shipped(site):
    import shipped

    for name, _, terms, _, _ in shipped.everything():
        text = (site / shipped.FOLDER / shipped.file_name(name)).read_text(encoding="utf-8")
        assert len(text) > 300 or name == "pyodide", f"{name}: no licence text ({terms})"
