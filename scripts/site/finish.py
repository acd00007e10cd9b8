"""The last steps on finished pages: script, description, accessible names, security policy, sitemap; and the checks."""

import base64
import hashlib
import html
import os
import re
from datetime import UTC, datetime
from html.parser import HTMLParser
from urllib.parse import urljoin, urlparse

import certainty
import exact

INLINE_SCRIPT = re.compile(r"<script(?![^>]*\bsrc=)([^>]*)>(.*?)</script>", re.DOTALL)
CHARSET = '<meta charset="utf-8">'
TOUCH_ICON = '<link rel="apple-touch-icon" href="{}assets/icon/touch.png">'
HAS_CALCULATOR = '<section class="calc"'
DESCRIPTION = re.compile(r'<meta name="description" content="[^"]*">')
FIRST_PARAGRAPH = re.compile(r"<article[^>]*>.*?<p(?![^>]*calc-)[^>]*>(.*?)</p>", re.DOTALL)
LONGEST_DESCRIPTION = 155

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


def without_tags(text):
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", "", text))).replace("¶", "").strip()


def shortened(text, longest=LONGEST_DESCRIPTION):
    """Whole sentences while they fit, else whole words."""
    if len(text) <= longest:
        return text
    sentences = text[: longest + 1].rsplit(". ", 1)[0]
    return f"{sentences}." if 50 < len(sentences) < longest else text[:longest].rsplit(" ", 1)[0].rstrip(",;:") + " …"


def described(text, general):
    """A page that says nothing of itself is described by its first paragraph."""
    present = DESCRIPTION.search(text)
    paragraph = FIRST_PARAGRAPH.search(text)
    if not present or not paragraph or html.escape(general) not in present[0]:
        return text
    words = html.escape(shortened(without_tags(paragraph[1])))
    return text.replace(present[0], f'<meta name="description" content="{words}">', 1) if words else text


STORAGE = (
    '<script>for(const name of["localStorage","sessionStorage"])try{window[name].length}catch{const'
    " kept={};Object.defineProperty(window,name,{value:{refused:true,getItem:key=>kept[key]??null,setItem(key,text){kept[key]=String(text)},removeItem(key){delete"
    " kept[key]}}})}</script>"
)
"""A browser may refuse to keep anything and say so by an error, at which the theme's scripts would stop: it gets a
store that lasts as long as the page. The plan then travels in the address (scripts/browser/page/address.js).
"""

THEME_SCRIPT = re.compile(r'<script src="([^"]*javascripts/bundle[^"]*)"></script>')


def theme_later(text, where):
    """On a page with calculators the page script calls the theme's script (header, search, moving between pages) when
    the first answer is out: both at once would compete for the processors. What the theme shows without it is shown as
    with it.
    """
    theme = THEME_SCRIPT.search(text)
    if not theme:
        raise exact.Unfound(f"{where}: no script of the theme to hold back; look at THEME_SCRIPT in finish.py")
    text = exact.replaced(text, theme[0], "", where)
    return exact.replaced(text, " data-runtime=", f' data-theme="{theme[1]}" data-runtime=', where)


EMPTY_HEAD = re.compile(r"<th[^>]*></th>")
HEAD_CELL = re.compile(r"<th(?=[\s>])")
TEXT_TABLE = re.compile(r"<table>(\s*<thead>\s*<tr>(.*?)</tr>.*?</table>)", re.DOTALL)


AHEAD = re.compile(r'\s*<link rel="next" href="[^"]*">')
"""Firefox takes this for a wish to fetch the next page ahead, which the policy refuses, with an error in the console.
"""


CODE = re.compile(r'<pre(?=[ >])(?![^>]*tabindex)')
"""Code that is wider than a phone scrolls: the keyboard has to reach it."""


def mended(text):
    # A heading is read by itself; its link is for the mouse.
    text = text.replace('<a class="headerlink"', '<a class="headerlink" aria-hidden="true" tabindex="-1"')
    text = CODE.sub('<pre tabindex="0"', text)
    return AHEAD.sub("", text, count=1)


HEADED = re.compile(r'(<h1\b(?:(?!<h[12]\b).)*?)\s*(<div class="admonition abstract">.*?</div>)', re.DOTALL)


ON_PAGE = re.compile(r'<nav class="margin on-page".*?</nav>\s*', re.DOTALL)


def headed(text):
    """What a page needs and gives stands beside its heading and its first words, and below it the list of its parts."""
    if not HEADED.search(text):
        return text
    listed = ON_PAGE.search(text)
    text = ON_PAGE.sub("", text, count=1)
    beside = listed[0].strip() if listed else ""
    return HEADED.sub(
        lambda head: f'<header class="page-head"><div>{head[1]}</div><div>{head[2]}{beside}</div></header>',
        text,
        count=1,
    )


def tables_that_scroll(text):
    """Tables of the text (a chapter's Markdown leaves a line end after the tag) scroll inside a frame that the keyboard
    reaches.
    """

    def framed(match):
        heads = ", ".join(filter(None, map(without_tags, re.findall(r"<th[^>]*>(.*?)</th>", match[2], re.DOTALL))))
        table = HEAD_CELL.sub('<th scope="col"', EMPTY_HEAD.sub("<td></td>", match[1]))
        return (
            f'<div class="calc-scroll" tabindex="0" role="group" aria-label="Table: {html.escape(heads)}"><table'
            f' class="plain">{table}</div>'
        )

    text = TEXT_TABLE.sub(lambda match: framed(match) if match[1].startswith("\n") else match[0], text)
    return text.replace(
        "<table>", '<table class="bare">'
    )  # a table without a class is framed by the theme, out of reach of the keyboard


def question_once(text):
    """A calculator that is the only one of its page, or under a heading that asks the same, does not show its
    question again.
    """
    heading = re.search(r"<h1[^>]*>(.*?)</h1>", text, re.DOTALL)
    asked = without_tags(heading[1]) if heading else ""
    alone = text.count('class="calc-question"') == 1
    return re.sub(
        r'class="calc-question"([^>]*)>([^<]*)<',
        lambda match: (
            f'class="calc-question calc-question-again"{match[1]}>{match[2]}<'
            if alone or html.unescape(match[2]).strip() == asked
            else match[0]
        ),
        text,
    )


def hash_of(script):
    return "'sha256-" + base64.b64encode(hashlib.sha256(script.encode()).digest()).decode() + "'"


def inline_scripts(text):
    """Scripts written into the page; blocks of data are no scripts."""
    return [match[2] for match in INLINE_SCRIPT.finditer(text) if "application/" not in match[1]]


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


def with_policy(text, hashes, where):
    tag = f'<meta http-equiv="Content-Security-Policy" content="{policy(hashes)}">'
    return exact.replaced(text, CHARSET, CHARSET + tag, where)


def base_of(path, out, address=""):
    """The way from a page to the top of the site.

    The page for what is not there is shown at any depth, so its way starts at the host.
    """
    if path.name == "404.html":
        return urlparse(address).path or "/"
    return "../" * (len(path.relative_to(out).parts) - 1)


def sitemap(out, address):
    """Pages of the site. Without an address the names are relative: the server of scripts/serve completes them."""
    day = datetime.fromtimestamp(int(os.environ["SOURCE_DATE_EPOCH"]), UTC).date()
    names = sorted(path.relative_to(out).as_posix() for path in out.rglob("*.html") if path.name != "404.html")
    urls = "".join(
        f"<url><loc>{html.escape(urljoin(address, name))}</loc><lastmod>{day}</lastmod></url>\n" for name in names
    )
    (out / "sitemap.xml").write_text(
        '<?xml version="1.0" encoding="UTF-8"?>\n<urlset'
        f' xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n{urls}</urlset>\n'
    )
    (out / "sitemap.xml.gz").unlink(missing_ok=True)


def pages(out, head, address, start=lambda top: ""):
    """All steps on all pages.

    `head` makes the tags of the page script from the way to the top of the site, `start` what begins a page with
    calculators.
    """
    texts = {path: path.read_text(encoding="utf-8") for path in sorted(out.rglob("*.html"))}
    general = re.search(r'name="description" content="([^"]*)"', texts[out / "index.html"])
    general = html.unescape(general[1]) if general else ""
    for path, text in texts.items():
        text = text.replace(
            'href="handbook:', f'href="{base_of(path, out, address)}'
        )  # calc/page names pages from the top of the handbook
        text = question_once(text if path == out / "index.html" else described(text, general))
        base, where = base_of(path, out, address), path.relative_to(out)
        text = tables_that_scroll(certainty.marked(headed(mended(text))))
        text = exact.replaced(text, "</head>", f"{TOUCH_ICON.format(base)}{head(base)}</head>", where)
        text = exact.replaced(text, CHARSET, CHARSET + STORAGE, where)
        if HAS_CALCULATOR in text:
            text = theme_later(exact.replaced(text, CHARSET, CHARSET + start(base), where), where)
        texts[path] = text
    hashes = {hash_of(script) for text in texts.values() for script in inline_scripts(text)}
    for path, text in texts.items():
        path.write_text(with_policy(text, hashes, path.relative_to(out)), encoding="utf-8")
    sitemap(out, address)


class Requests(HTMLParser):
    """Addresses that a browser asks for by itself when it shows a page."""

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

    def __init__(self, text):
        super().__init__()
        self.found = []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        values = dict(attributes)
        if tag == "link" and values.get("rel") not in {"canonical", "prev", "next", "alternate", "license"}:
            self.found.append(values.get("href"))
        elif tag in self.ASKED:
            self.found += [
                values.get(self.ASKED[tag]),
                *re.findall(r"(\S+)(?:\s+[\d.]+[wx])?(?:,|$)", values.get("srcset") or ""),
            ]
        if tag == "meta" and values.get("http-equiv", "").lower() == "refresh":
            self.found.append(values.get("content"))
        self.found += re.findall(r"url\(['\"]?([^'\")]+)", values.get("style") or "")


def outside_requests(out):
    """(file, address) of everything that would be asked of another origin."""
    for path in sorted(out.rglob("*")):
        if path.suffix == ".html":
            text = path.read_text(encoding="utf-8")
            asked = [
                *Requests(text).found,
                *(
                    url
                    for style in re.findall(r"<style[^>]*>(.*?)</style>", text, re.DOTALL)
                    for url in re.findall(r"url\(['\"]?([^'\")]+)", style)
                ),
            ]
        elif path.suffix == ".css":
            text = path.read_text(encoding="utf-8")
            asked = re.findall(r"""(?:url\(|@import\s+)['"]?([^'")\s]+)""", text)
        elif path.suffix in {".js", ".mjs"} and path.name != "search_index.js":  # which holds the words of the pages
            asked = [
                url
                for url in re.findall(r"https?://[^\s\"'`<>)\\]+", path.read_text(encoding="utf-8"))
                if urlparse(url).netloc not in NEVER_REQUESTED
            ]
        else:
            continue
        for address in asked:
            if address and (
                address.startswith("//") or urlparse(address).scheme in {"http", "https", "ftp", "ws", "wss"}
            ):
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
