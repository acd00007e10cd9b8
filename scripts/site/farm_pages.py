"""A farm on the pages: its name and logo, what it sells, how to reach it, and only the chapters it keeps.

All that comes from a farm.yml is escaped here. The plain handbook has no farm; its customers' page shows the demo farm.
"""

import functools
import hashlib
import html
import os
import re
import shutil
from pathlib import Path
from urllib.parse import unquote, urlparse

import bootstrap
import farm as farms
import reading

from calc.engine.quantity import money_text

DEMO = bootstrap.ROOT / "docs" / "assets" / "farm" / "quillfen.yml"
FOLDER = "assets/farm"


@functools.lru_cache(maxsize=1)
def demo():
    return farms.load(DEMO)


def load(path):
    """The farm of a file, tried out with every page; ends the command with what is wrong."""
    found = farms.load(path, reading.presets(bootstrap.ROOT / "docs"))
    for sentence in farms.oddities(found):
        print(f"{path}: worth a second look: {sentence}")
    return found


# ---- words for the pages


def esc(text):
    return html.escape(str(text))


def prices_table(farm, *, plain=False):
    """What the farm sells. plain: this is the handbook itself, so the demo farm stands in, and is said to."""
    if plain:
        note = (
            '<p class="farm-note">A farm that builds <a href="method/edition.html">its own copy</a> has its prices'
            f" here. These are of the demo farm, {esc(farm.name)}, and <em>invented</em>.</p>"
        )
    else:
        note = (
            '<p class="farm-note">These prices are <em>invented</em>: this is an example of a farm’s own copy.</p>'
            if farm.invented
            else ""
        )
    if not farm.prices:
        return f"{note}<p>Ask {esc(farm.name)} for prices.</p>"
    about = any(price.about for price in farm.prices)
    head = f'<th>Product</th><th>Amount</th><th class="num">Price</th>{"<th>Good to know</th>" if about else ""}'
    rows = "\n".join(
        f"<tr><td>{esc(price.product)}</td><td>{esc(price.amount)}</td><td"
        f' class="num">{esc(money_text(price.price, farm.currency))}</td>{f"<td>{esc(price.about)}</td>" if about else ""}</tr>'
        for price in farm.prices
    )
    return f"{note}<table>\n<thead>\n<tr>{head}</tr>\n</thead>\n<tbody>\n{rows}\n</tbody>\n</table>"


def contact_list(farm, *, plain=False):
    """How to reach the farm; where the handbook stands for itself, whom to ask."""
    if plain:
        return (
            "<p>A farm that builds its own copy says here how to reach it. Whoever gave you the castings or the worms"
            " knows best how they were kept: ask there first.</p>"
        )
    if not farm.contact:
        return f"<p>Ask where you bought them: {esc(farm.name)}.</p>"
    address = farm.contact
    lines = [("Farm", esc(farm.name))]
    lines += [
        (label, esc(address[key]))
        for key, label in (("person", "Ask for"), ("address", "Where"), ("hours", "When"))
        if key in address
    ]
    if "phone" in address:
        lines.append(
            ("Telephone", f'<a href="tel:{re.sub(r"[^+0-9]", "", address["phone"])}">{esc(address["phone"])}</a>')
        )
    if "email" in address:
        lines.append(("Mail", f'<a href="mailto:{esc(address["email"])}">{esc(address["email"])}</a>'))
    if "website" in address:
        lines.append(
            (
                "Site",
                f'<a href="{esc(address["website"])}" rel="noopener">{esc(urlparse(address["website"]).netloc)}</a>',
            )
        )
    return f'<dl class="farm-contact">{"".join(f"<dt>{label}</dt><dd>{value}</dd>" for label, value in lines)}</dl>'


def keys_table():
    """Every key of the file, as the reader of the file knows them."""
    rows = "\n".join(
        f"<tr><td><code>{esc(key.name)}</code></td><td>{esc(key.takes)}</td><td>{esc(key.does)}</td><td>{f'<code>{esc(key.example)}</code>' if key.example else ''}</td></tr>"
        for key in farms.KEYS
    )
    return (
        '<div class="farm-keys"><table>\n<thead>\n<tr><th>Key</th><th>Takes</th><th>What it'
        f" does</th><th>Example</th></tr>\n</thead>\n<tbody>\n{rows}\n</tbody>\n</table></div>"
    )


def names_table():
    """Every input that a farm may set, by its name."""
    rows = []
    for name, places in sorted(farms.known_inputs().items()):
        if "." in name:
            continue
        several = len({label for _, _, label in places}) > 1
        for label in dict.fromkeys(label for _, _, label in places):
            calculators = [calculator for calculator, _, one in places if one == label]
            written = (
                ", ".join(f"<code>{calculator}.{name}</code>" for calculator in calculators)
                if several
                else f"<code>{name}</code>"
            )
            rows.append(f"<tr><td>{esc(label)}</td><td>{written}</td><td>{', '.join(calculators)}</td></tr>")
    return (
        "<table>\n<thead>\n<tr><th>What is asked</th><th>Name under <code>inputs</code></th><th>Asked"
        f" by</th></tr>\n</thead>\n<tbody>\n{''.join(sorted(rows))}\n</tbody>\n</table>"
    )


def example():
    """The demo farm's file as it is."""
    return (
        '<pre class="farm-file" tabindex="0" role="group" aria-label="The file of the demo'
        f' farm"><code>{esc(DEMO.read_text(encoding="utf-8"))}</code></pre>'
    )


def welcome(farm, *, plain=False):
    return "" if plain or not farm.welcome else f'<p class="farm-welcome">{esc(farm.welcome)}</p>'


def own(farm, *, plain=False):
    """On the page of method: which figures of a farm's copy are the farm's."""
    if plain:
        return ""
    whose = "invented, as an example" if farm.invented else f"those of {esc(farm.name)}"
    return (
        "<p>In this copy the prices of what is for sale, the bands on the sheets and some of the values that forms"
        f" open with are {whose}.</p>"
    )


def words(what, farm):
    """The HTML of a `farm` fence; farm is None in the plain handbook."""
    plain = farm is None
    made = {"prices": prices_table, "contact": contact_list, "welcome": welcome, "own": own}
    if what in made:
        return made[what](demo() if plain else farm, plain=plain)
    return {"keys": keys_table, "names": names_table, "example": example}[what]()


# ---- the site around the words


def fingerprint(path):
    """Changes when the file or its logo does; "" when there is no such file."""
    path = Path(path)
    if not path.is_file():
        return ""
    digest = hashlib.sha256(path.read_bytes())
    for picture in sorted(file for ending in ("*.svg", "*.png") for file in path.parent.glob(ending)):
        digest.update(picture.name.encode() + b"\0" + picture.read_bytes())
    return digest.hexdigest()


def left_out(farm):
    """Chapters that the farm's edition has not."""
    return {chapter for chapter in farms.CHAPTERS if farm and chapter not in farm.chapters}


def kept(nav, farm):
    """The nav without the chapters that the farm leaves out."""
    gone = left_out(farm)
    return [entry for entry in nav if not any(name.split("/")[0] in gone for name in reading.named([entry]))]


def settings(farm):
    """What mkdocs is told otherwise for a farm: {name of the setting: value}."""
    return {"exclude_docs": "".join(f"/{chapter}/\n" for chapter in sorted(left_out(farm)))} if farm else {}


def furnish(config, farm):
    """The farm's name and logo for the templates, which do not escape by themselves."""
    if not farm:
        return
    from markupsafe import Markup

    config["site_name"] = Markup(esc(farm.name))
    config["site_author"] = Markup(esc(farm.name))
    if farm.logo:
        config["theme"]["logo"] = config["theme"]["favicon"] = logo_name(farm)
    config["extra"]["edition"] = Markup(esc(farm.name))


def logo_name(farm):
    return f"{FOLDER}/logo.{hashlib.sha256(farm.logo.read_bytes()).hexdigest()[:12]}{farm.logo.suffix.lower()}"


def place(out, farm):
    """The last of the farm on finished pages: its logo as a file, and nothing that leads to a chapter it has not."""
    if farm and farm.logo:
        target = out / logo_name(farm)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(farm.logo, target)
    if gone := left_out(farm):
        for path in sorted(out.rglob("*.html")):
            text = path.read_text(encoding="utf-8")
            path.write_text(without_chapters(text, path.parent.relative_to(out).as_posix(), gone), encoding="utf-8")


LINK = re.compile(r'<a\b[^>]*?\bhref="([^"]*)"[^>]*>(.*?)</a>', re.DOTALL)
ITEM = re.compile(
    r"<li>\s*(?:<p>\s*)?(<a\b[^>]*?\bhref=\"[^\"]*\"[^>]*>.*?</a>)((?:(?!</?li\b|</?ul\b).)*)</li>\s*", re.DOTALL
)
ROW = re.compile(
    r"<tr>\s*<td[^>]*>\s*(<a\b[^>]*?\bhref=\"[^\"]*\"[^>]*>(?:(?!</a>).)*</a>)\s*</td>(?:(?!</tr>).)*</tr>\s*",
    re.DOTALL,
)
NEXT = re.compile(r"<p>\s*<strong>Next:</strong>(?:(?!</?p>).)*</p>\s*", re.DOTALL)
EMPTY_LIST = re.compile(r"<[uo]l[^>]*>\s*</[uo]l>\s*")
EMPTY_PART = re.compile(
    r'<h([2-4])\b[^>]*\bid="([^"]*)"[^>]*>(?:(?!</h\1>).)*</h\1>\s*<[uo]l[^>]*>\s*</[uo]l>\s*', re.DOTALL
)
EMPTY_DOOR = re.compile(r"<div>\s*<p><strong>(?:(?!</?div\b|<[uo]l\b|<a\b).)*</div>\s*", re.DOTALL)


def without_chapters(text, folder, absent):
    """A page without what leads only to absent chapters: list items, rows and "Next" that begin with such a link go;
    within a sentence its words stay. folder: that of the page.
    """

    def gone(tag_or_link):
        href = re.search(r'\bhref="([^"]*)"', tag_or_link)[1]
        parts = urlparse(html.unescape(href))
        if parts.scheme or parts.netloc or not parts.path:
            return False
        way = os.path.normpath(os.path.join("/", "" if folder == "." else folder, unquote(parts.path))).lstrip("/")
        return way.split("/")[0] in absent

    def drop(match):
        return "" if gone(match[1]) else match[0]

    head, article, rest = split_article(text)
    article = without_divisions(article, absent)
    for pattern in (ITEM, ROW):
        article = pattern.sub(drop, article)
    article = NEXT.sub(
        lambda match: "" if all(gone(link[0]) for link in LINK.finditer(match[0])) else match[0], article
    )
    article = LINK.sub(lambda link: link[2] if gone(link[0]) else link[0], article)
    for part in EMPTY_PART.findall(article):  # a heading over nothing, and its line among those of the page
        article = re.sub(rf'<li>\s*<a href="#{re.escape(part[1])}">(?:(?!</li>).)*</li>\s*', "", article, flags=re.DOTALL)
    article = EMPTY_DOOR.sub("", EMPTY_LIST.sub("", EMPTY_PART.sub("", article)))
    return head + article + LINK.sub(lambda link: link[2] if gone(link[0]) else link[0], rest)


def split_article(text):
    start, end = text.find("<article"), text.rfind("</article>")
    return (text[:start], text[start:end], text[end:]) if start >= 0 else (text, "", "")


def without_divisions(article, absent):
    """Without every <div data-chapter="…"> and <span data-chapter="…"> of an absent chapter, with all that is in it."""
    for chapter in absent:
        article = re.sub(rf'<span data-chapter="{chapter}">(?:(?!</?span\b).)*</span>\s*', "", article, flags=re.DOTALL)
        mark = f'<div data-chapter="{chapter}">'
        while (start := article.find(mark)) >= 0:
            depth, place = 0, start
            for tag in re.finditer(r"<(/?)div\b[^>]*>", article[start:]):
                depth += -1 if tag[1] else 1
                place = start + tag.end()
                if not depth:
                    break
            article = article[:start] + article[place:]
    return article
