"""A farm on the pages: its name and logo, what it sells, how to reach it, and only the chapters it keeps.

All that comes from a farm.yml is escaped here. The plain handbook has no farm; its customers' page shows the demo farm.
"""

import functools
import hashlib
import html
import posixpath
import re
import shutil
from pathlib import Path
from urllib.parse import unquote, urlparse

import bootstrap
import farm as farms
import reading
import tree

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


def price_text(price, farm):
    """A price as customers are asked for it: to the cent, in all lines alike, where any line has cents."""
    cents = any(round(one.price, 2) % 1 for one in farm.prices)
    return f"{farm.currency}{' ' * (len(farm.currency) > 1)}{price:,.{2 if cents else 0}f}"


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
        f"<tr><td>{esc(price.product)}</td><td>{esc(price.amount)}</td>"
        f'<td class="num">{esc(price_text(price.price, farm))}</td>'
        f"{f'<td>{esc(price.about)}</td>' if about else ''}</tr>"
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
        f"<tr><td><code>{esc(key.name)}</code></td><td>{esc(key.takes)}</td><td>{esc(key.does)}</td>"
        f"<td>{f'<code>{esc(key.example)}</code>' if key.example else ''}</td></tr>"
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
        meanings = {}
        for place in places:
            meanings.setdefault(place[3], []).append(place)
        for asked in meanings.values():
            label, calculators = asked[0][2], list(dict.fromkeys(calculator for calculator, *_ in asked))
            written = (
                ", ".join(f"<code>{calculator}.{one}</code>" for calculator, one, *_ in asked)
                if len(meanings) > 1
                else " or ".join(
                    f"<code>{one}</code>"
                    for one in sorted(
                        {one for _, one, *_ in asked}, key=lambda one: not asked[0][3].startswith(f"{one}:")
                    )
                )
            )
            rows.append(f"<tr><td>{esc(label)}</td><td>{written}</td><td>{', '.join(calculators)}</td></tr>")
    return (
        "<table>\n<thead>\n<tr><th>What is asked</th><th>Name under <code>inputs</code></th><th>Asked"
        f" by</th></tr>\n</thead>\n<tbody>\n{''.join(sorted(set(rows)))}\n</tbody>\n</table>"
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


DEMO_PARTS = "demo"
"""Marks parts of a page that speak of the demo farm as if it were a chapter: `<span data-chapter="demo">`."""
FOR_BUILDERS = "method/edition"
"""The page about making an edition: for whoever builds one, not for the readers of it."""


def taken_out(farm):
    """Chapters, pages and marked parts that are taken out of the finished pages of an edition."""
    gone = left_out(farm)
    return gone | {DEMO_PARTS, FOR_BUILDERS} if farm and not farm.invented else gone


def kept(nav, farm):
    """The nav without the chapters that the farm leaves out."""
    gone = left_out(farm)
    nav = [entry for entry in nav if not any(name.split("/")[0] in gone for name in reading.named([entry]))]
    return without_page(nav, f"{FOR_BUILDERS}.md") if FOR_BUILDERS in taken_out(farm) else nav


def without_page(nav, page):
    """The nav without one page, wherever it stands in it."""
    found = []
    for entry in nav:
        title, target = next(iter(entry.items())) if isinstance(entry, dict) else (None, entry)
        if isinstance(target, list):
            found.append({title: without_page(target, page)})
        elif target != page:
            found.append(entry)
    return found


def settings(farm):
    """What mkdocs is told otherwise for a farm: {name of the setting: value}."""
    if not farm:
        return {}
    pages = [f"/{FOR_BUILDERS}.md\n"] if FOR_BUILDERS in taken_out(farm) else []
    return {"exclude_docs": "".join([*(f"/{chapter}/\n" for chapter in sorted(left_out(farm))), *pages])}


def furnish(config, farm):
    """The farm's name and logo for the templates, which do not escape by themselves."""
    if not farm:
        return
    from markupsafe import Markup

    name = Markup(esc(farm.name))  # noqa: S704 (it is escaped)
    config["site_name"] = config["site_author"] = config["extra"]["edition"] = name
    if farm.logo:
        config["theme"]["logo"] = config["theme"]["favicon"] = logo_name(farm)


def logo_name(farm):
    return f"{FOLDER}/logo.{hashlib.sha256(farm.logo.read_bytes()).hexdigest()[:12]}{farm.logo.suffix.lower()}"


def place(out, pages, farm):
    """The last of the farm on finished pages: its logo as a file, and nothing that leads to a chapter it has not."""
    if farm and farm.logo:
        target = out / logo_name(farm)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(farm.logo, target)
    if gone := taken_out(farm):
        for page in pages:
            without_chapters(page, gone)


def leads_to(page, link, absent):
    """Whether a link of a page leads to one of these chapters."""
    parts = urlparse(link.attributes.get("href") or "")
    if parts.scheme or parts.netloc or not parts.path:
        return False
    way = posixpath.normpath(posixpath.join("/", page.folder, unquote(parts.path))).lstrip("/")
    return way.split("/")[0] in absent or way.removesuffix(".html") in absent


def without_chapters(page, absent):
    """A page without what leads only to absent chapters: list items, rows and "Next" that begin with such a link go;
    within a sentence its words stay.
    """

    def gone(link):
        return leads_to(page, link, absent)

    for article in page.all("article"):
        for chapter in absent:
            decompose_all(article.css(f'div[data-chapter="{chapter}"], span[data-chapter="{chapter}"]'))
        decompose_all(entry for entry in article.css("li, tr") if (link := first_link(entry)) and gone(link))
        decompose_all(line for line in article.css("p") if is_next(line) and all(map(gone, line.css("a[href]"))))
        for heading in article.css("h2, h3, h4"):
            if (below := tree.following(heading)) and is_empty_list(below):
                decompose_all(article.css(f'li:has(> a[href="#{heading.id}"])'))  # its line among those of the page
                decompose_all([below, heading])
        decompose_all(filter(is_empty_list, article.css("ul, ol")))
        decompose_all(door for door in article.css("div") if is_empty_door(door))
    for link in page.all("a[href]"):
        if gone(link):
            link.unwrap()


def decompose_all(nodes):
    for node in reversed(list(nodes)):  # what lies inside goes before what it lies in
        node.decompose()


def is_empty_list(node):
    return node.tag in ("ul", "ol") and not tree.contents(node)


def first_link(entry):
    """The link that a list item begins with, or that is all of a row's first cell; else None."""
    if any(part.tag in ("li", "ul") for part in entry.css("li, ul") if part != entry):
        return None
    start = tree.contents(entry)
    if start and (entry.tag == "tr" or start[0].tag == "p"):
        start = tree.contents(start[0])
    alone = entry.tag == "li" or len(start) == 1
    return start[0] if start and alone and start[0].tag == "a" and "href" in start[0].attributes else None


def is_next(line):
    """Whether a line names what to read next, by links."""
    start = tree.contents(line)
    return bool(start) and start[0].tag == "strong" and start[0].text() == "Next:" and bool(line.css("a[href]"))


def is_empty_door(door):
    """Whether a part of the front page has only its title left."""
    start = tree.contents(door)
    title = tree.contents(start[0]) if start and start[0].tag == "p" else []
    return bool(title) and title[0].tag == "strong" and not door.attributes and door.css("div, ul, ol, a") == [door]
