"""The last steps on finished pages: script, description, accessible names, security policy, sitemap; and the checks."""

import base64
import hashlib
import html
import os
import re
from datetime import UTC, datetime
from urllib.parse import urljoin, urlparse

import certainty
import tree

CHARSET = "meta[charset]"
TOUCH_ICON = '<link rel="apple-touch-icon" href="{}assets/icon/touch.png">'
CALCULATOR = "section.calc"
DESCRIPTION, LONGEST_DESCRIPTION = "meta[name=description]", 155

FETCHED_BY_THE_THEME = re.compile(r"https://[a-z.]+/(?:resize-observer-polyfill|mermaid@[\w./-]+)")
"""What the theme's script would load from another origin: a stand-in for old browsers, and diagrams, which no page has.
"""

NEVER_REQUESTED = {
    "www.w3.org": "names of XML vocabularies",
    "api.github.com": "the theme's star counter, which no page has",
    "${e}": "the theme's star counter for another host, which no page has",
    "github.com": "addresses inside comments and messages",
    "lunrjs.com": "an address in a licence comment",
    "tartarus.org": "an address in a licence comment",
    "bit.ly": "an address in a licence comment",
    "clipboardjs.com": "an address in a licence comment",
    "fontawesome.com": "an address in a licence comment",
}
"""Outside addresses that may stand in scripts and styles because nothing there asks for them."""


def shortened(text, longest=LONGEST_DESCRIPTION):
    """Whole sentences while they fit, else whole words."""
    if len(text) <= longest:
        return text
    sentences = text[: longest + 1].rsplit(". ", 1)[0]
    return f"{sentences}." if 50 < len(sentences) < longest else text[:longest].rsplit(" ", 1)[0].rstrip(",;:") + " …"


def general_description(pages):
    """What the handbook says of itself, on its first page."""
    return next(page for page in pages if page.name == "index.html").one(DESCRIPTION).attributes["content"]


def describe(page, general):
    """A page that says nothing of itself is described by its first paragraph."""
    told = page.one(DESCRIPTION)
    if told.attributes["content"] != general:
        return
    paragraphs = page.all("article p:not([class*='calc-'])")
    if said := next(map(tree.words, paragraphs), ""):
        told.attrs["content"] = shortened(said)


STORAGE = (
    '<script>for(const name of["localStorage","sessionStorage"])try{window[name].length}catch{const'
    " kept={};Object.defineProperty(window,name,{value:{refused:true,getItem:key=>kept[key]??null,"
    "setItem(key,text){kept[key]=String(text)},removeItem(key){delete kept[key]}}})}</script>"
)
"""A browser may refuse to keep anything and say so by an error, at which the theme's scripts would stop: it gets a
store that lasts as long as the page. The plan then travels in the address (scripts/browser/page/address.js).
"""

THEME_SCRIPT = "script[src*='javascripts/bundle']"


def theme_later(page):
    """On a page with calculators the page script calls the theme's script (header, search, moving between pages) when
    the first answer is out: both at once would compete for the processors. What the theme shows without it is shown as
    with it.
    """
    theme, ours = page.one(THEME_SCRIPT), page.one("script[data-runtime]")
    ours.attrs["data-theme"] = theme.attributes["src"]
    theme.decompose()


def by_keyboard_and_voice(page):
    """What the theme leaves out for whoever does not see the page or has no mouse."""
    links = page.all("a.headerlink")
    for link in links:  # a heading is read by itself; its link is for the mouse
        link.attrs["aria-hidden"], link.attrs["tabindex"] = "true", "-1"
    for code in page.all("pre:not([tabindex])"):  # what is wider than a phone scrolls: the keyboard has to reach it
        code.attrs["tabindex"] = "0"
    return len(links)


def not_ahead(page):
    """Firefox takes a `next` for a wish to fetch that page ahead, which the policy refuses, with an error in the
    console.
    """
    links = page.all("link[rel=next]")
    for link in links:
        link.decompose()
    return len(links)


def headed(page):
    """What a page needs and gives stands beside its heading and its first words; the list of its parts in the margin
    below. A page that begins with its calculator has the width for that.
    """
    heading = page.tree.css_first("article h1")
    beside, first = heading, []
    while beside is not None and beside.tag != "h2":
        if {"admonition", "abstract"} <= set(tree.classes(beside)):
            head = tree.wrapped([*first, beside], '<header class="page-head"></header>')
            tree.wrapped(list(head.iter(include_text=True))[:-1], "<div></div>")
            for parts in page.all("nav.on-page"):
                tree.after(head, parts.html)
                parts.decompose()
            return 1
        if not beside.tag.startswith("-") and ("calc" in tree.classes(beside) or beside.css_first("section.calc")):
            return 0
        first.append(beside)
        beside = beside.next
    return 0


def tables_that_scroll(page):
    """Tables of the text (a chapter's Markdown leaves a line end after the tag) scroll inside a frame that the keyboard
    reaches. The others have a frame of their own.
    """
    framed = 0
    for table in page.all("table:not([class])"):
        if not (table.first_child and table.first_child.is_text_node and table.css_first("thead")):
            table.attrs["class"] = "bare"  # the theme frames a table without a class, out of reach of the keyboard
            continue
        heads = ", ".join(filter(None, map(tree.words, table.css("thead th"))))
        table.attrs["class"] = "plain"
        for head in table.css("th"):
            head.attrs["scope"] = "col"
            if not tree.contents(head):
                tree.instead_of(head, "<td></td>")
        frame = f'<div class="calc-scroll" tabindex="0" role="group" aria-label="Table: {html.escape(heads)}"></div>'
        tree.wrapped([table], frame)
        framed += 1
    return framed


def question_once(page):
    """A calculator that is the only one of its page, or under a heading that asks the same, does not show its
    question again.
    """
    heading = page.tree.css_first("h1")
    asked = tree.words(heading) if heading else ""
    questions = page.all(".calc-question")
    for question in questions:
        if len(questions) == 1 or tree.words(question) == asked:
            question.attrs["class"] += " calc-question-again"


def hash_of(script):
    return "'sha256-" + base64.b64encode(hashlib.sha256(script.encode()).digest()).decode() + "'"


def inline_scripts(page):
    """Scripts written into the page; blocks of data are no scripts."""
    return [script.inner_html for script in page.all("script:not([src], [type^='application/'])")]


def policy(hashes):
    """What a page may do.

    The hashes of all pages stand on each, since moving between pages keeps the first one's policy.
    """
    rules = {
        "default-src": "'none'",
        "script-src": " ".join(["'self'", "'wasm-unsafe-eval'", "blob:", *sorted(hashes)]),
        "style-src": "'self' 'unsafe-inline'",
        "img-src": "'self' data: blob:",
        "font-src": "'self'",
        "connect-src": "'self' data: blob:",
        "worker-src": "'self' blob:",
        "frame-src": "'self'",
        "manifest-src": "'self'",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    return "; ".join(f"{name} {value}" for name, value in rules.items())


def add_policy(page, hashes):
    """It comes before all else that a browser could act upon."""
    tree.after(page.one(CHARSET), f'<meta http-equiv="Content-Security-Policy" content="{policy(hashes)}">')


def base_of(page, address=""):
    """The way from a page to the top of the site.

    The page for what is not there is shown at any depth, so its way starts at the host.
    """
    return urlparse(address).path or "/" if page.name == "404.html" else page.top


def sitemap(out, pages, address):
    """Pages of the site. Without an address the names are relative: the server of scripts/serve completes them."""
    day = datetime.fromtimestamp(int(os.environ["SOURCE_DATE_EPOCH"]), UTC).date()
    names = [page.name for page in pages if page.name != "404.html"]
    urls = "".join(
        f"<url><loc>{html.escape(urljoin(address, name))}</loc><lastmod>{day}</lastmod></url>\n" for name in names
    )
    (out / "sitemap.xml").write_text(
        '<?xml version="1.0" encoding="UTF-8"?>\n<urlset'
        f' xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n{urls}</urlset>\n'
    )
    (out / "sitemap.xml.gz").unlink(missing_ok=True)


def from_the_top(page, base):
    """Pages that calc/page names from the top of the handbook, by the way from this page."""
    for link in page.all("[href^='handbook:']"):
        link.attrs["href"] = base + link.attrs["href"].removeprefix("handbook:")


def pages(all_pages, head, address, start):
    """All steps on all pages.

    `head` makes the tags of the page script from the way to the top of the site, `start` what begins a page with
    calculators.
    """
    for step in (by_keyboard_and_voice, not_ahead, headed, tables_that_scroll):
        tree.on_all(all_pages, step)
    general = general_description(all_pages)
    for page in all_pages:
        base = base_of(page, address)
        from_the_top(page, base)
        question_once(page)
        if page.name != "index.html":
            describe(page, general)
        certainty.marked(page)
        tree.last_in(page.one("head"), TOUCH_ICON.format(base) + head(base))
        tree.after(page.one(CHARSET), STORAGE)
        if page.all(CALCULATOR):
            tree.after(page.one(CHARSET), start(base))
            theme_later(page)
    hashes = {hash_of(script) for page in all_pages for script in inline_scripts(page)}
    for page in all_pages:
        add_policy(page, hashes)


ASKED = {
    "script": "src",
    "img": "src",
    "iframe": "src",
    "source": "src",
    "video": "src",
    "audio": "src",
    "use": "href",
    "image": "href",
}
NOT_ASKED = {"canonical", "prev", "next", "alternate", "license"}
IN_STYLE = re.compile(r"""(?:url\(|@import\s+)['"]?([^'")\s]+)""")


def requests(page):
    """Addresses that a browser asks for by itself when it shows a page."""
    asked = [link.attributes.get("href") for link in page.all("link") if link.attributes.get("rel") not in NOT_ASKED]
    for tag, name in ASKED.items():
        asked += [node.attributes.get(name) or node.attributes.get(f"xlink:{name}") for node in page.all(tag)]
    asked += [node.attributes["content"] for node in page.all("meta[http-equiv=refresh i][content]")]
    for node in page.all("[srcset]"):
        asked += re.findall(r"(\S+)(?:\s+[\d.]+[wx])?(?:,|$)", node.attributes["srcset"] or "")
    styles = [node.attributes["style"] or "" for node in page.all("[style]")]
    styles += [node.text() for node in page.all("style")]
    asked += IN_STYLE.findall("\n".join(styles))
    return [address for address in asked if address and not address.startswith("#")]


def outside_requests(out):
    """(file, address) of everything that would be asked of another origin."""
    for path in sorted(out.rglob("*")):
        if path.suffix == ".html":
            asked = requests(tree.Page(path.name, path.read_text(encoding="utf-8")))
        elif path.suffix == ".css":
            asked = IN_STYLE.findall(path.read_text(encoding="utf-8"))
        elif path.suffix in {".js", ".mjs"} and path.name != "search_index.js":  # which holds the words of the pages
            asked = [
                url
                for url in re.findall(r"https?://[^\s\"'`<>)\\]+", path.read_text(encoding="utf-8"))
                if urlparse(url).netloc not in NEVER_REQUESTED
            ]
        else:
            continue
        for address in asked:
            if address.startswith("//") or urlparse(address).scheme in {"http", "https", "ftp", "ws", "wss"}:
                yield path.relative_to(out).as_posix(), address


def close_theme(out):
    """Take the outside addresses that the theme could load out of its scripts."""
    for path in sorted((out / "assets" / "javascripts").glob("*.js")):
        text = path.read_text(encoding="utf-8")
        closed = FETCHED_BY_THE_THEME.sub("", text)
        if closed != text:
            path.write_text(closed, encoding="utf-8")


def check(out):
    """Stop the build on a page that would speak to anybody else."""
    found = sorted(set(outside_requests(out)))
    if found:
        raise RuntimeError(
            "Outside addresses in the site:\n" + "\n".join(f"  {name}: {address}" for name, address in found[:40])
        )
