"""Each act that can hurt carries its caution on the page of the act: in a warning box, or under the calculator."""

import re
from html.parser import HTMLParser

import pytest

TOPICS = {
    "lifting": r"\blift|half loads|small forkfuls|half, twice|straight back|carry (two )?half|full tray weighs",
    "hot heaps and hot feed": r"\bhot\b|heats?\b|burn|scald",
    "fire": r"\bfire|alight|smoke",
    "ammonia and closed rooms": r"ammonia|closed (shed|room|tunnel|place)|air a",
    "dust and moulds": r"(dust|mould|spores).*(wet|mask)|(wet|mask).*(dust|mould|spores)",
    "washed hands": r"wash (your )?hands|gloves",
    "wounds": r"cover cuts|cuts covered|have a cut",
    "electrics near water": r"residual-current|licensed electrician|protected outlet|ground-fault",
    "machines": r"machine|shredder|loader|\bsaw\b|before (you|anyone|your hand) (reach|clear|touch)|guards? on",
    "ladders and shade frames in wind": r"(ladder|shade|frame|cloth).*(wind|storm|breeze)",
    "taking in waste": r"permit|licen[cs]",
    "selling soil products": r"(label|registered|soil product|licen[cs]e|tested)",
    "live animals across borders": r"border|release|woods",
    "heat and your own body": r"drink before|work early|shade, cool",
    "warm standing water": r"Legionella",
}

ACTS = {
    "start.html": list(TOPICS)[:10],
    "lane/index.html": [
        "taking in waste",
        "ladders and shade frames in wind",
        "electrics near water",
        "ammonia and closed rooms",
    ],
    "lane/starter.html": [
        "lifting",
        "dust and moulds",
        "washed hands",
        "wounds",
        "machines",
        "ladders and shade frames in wind",
        "live animals across borders",
    ],
    "lane/feeding.html": [
        "hot heaps and hot feed",
        "ammonia and closed rooms",
        "lifting",
        "washed hands",
        "wounds",
        "dust and moulds",
    ],
    "lane/herd.html": ["live animals across borders", "washed hands"],
    "lane/output.html": ["taking in waste", "selling soil products", "machines"],
    "feed/index.html": ["dust and moulds", "washed hands", "wounds", "lifting", "machines", "taking in waste"],
    "feed/recipe.html": ["dust and moulds", "washed hands", "wounds", "lifting", "machines"],
    "feed/hot-phase.html": [
        "hot heaps and hot feed",
        "fire",
        "ammonia and closed rooms",
        "dust and moulds",
        "washed hands",
        "machines",
        "taking in waste",
    ],
    "moisture/index.html": ["washed hands", "wounds"],
    "moisture/test.html": ["fire", "ammonia and closed rooms", "dust and moulds", "washed hands"],
    "moisture/adjust.html": ["lifting", "electrics near water"],
    "climate/index.html": ["heat and your own body", "electrics near water", "ladders and shade frames in wind"],
    "climate/water.html": ["ladders and shade frames in wind", "electrics near water", "lifting"],
    "climate/mist.html": ["electrics near water", "warm standing water"],
    "climate/temperature.html": ["heat and your own body"],
    "climate/frost.html": ["hot heaps and hot feed", "fire", "electrics near water", "lifting"],
    "harvest/index.html": ["lifting", "dust and moulds", "washed hands"],
    "harvest/dry-down.html": ["dust and moulds"],
    "harvest/screen.html": ["machines", "dust and moulds"],
    "breeding/index.html": ["electrics near water"],
    "breeding/trays.html": ["live animals across borders", "washed hands"],
    "breeding/room.html": ["electrics near water", "ammonia and closed rooms"],
    "economics/mix.html": ["selling soil products"],
    "garden/index.html": ["washed hands", "dust and moulds"],
    "garden/worms.html": ["live animals across borders"],
    "troubles/index.html": ["ammonia and closed rooms", "dust and moulds", "washed hands", "wounds"],
}


ONCE = {
    "washed hands": r"wash (your |their )?hands|hands washed",
    "a mask": r"\bmask\b",
    "cuts covered": r"cover cuts|cuts covered|have a cut",
    "half loads": r"half loads|half shovels|half, twice|fill it half|load half|small forkfuls|two half ones",
    "the residual-current device": r"residual-current|GFCI",
    "ammonia": r"ammonia",
    "a heap on fire": r"set themselves alight|catch fire|smoking heap",
    "unplugged machines": r"unplug|pull its plug|key out|stop (a|it|the) [^.]*before",
    "a storm": r"\bstorm",
    "a permit for waste": r"(scraps|manure|feed|waste)[^.]*permit|permit[^.]*(scraps|manure|waste)",
    "animals across a border": r"border",
    "the woods": r"\bwoods\b",
    "a soil product": r"soil product|registered",
}
"""What nobody reads twice: a page says it in one place."""


class Cautions(HTMLParser):
    """The warning boxes and the cautions of calculators: all text, and the items, a list entry or a paragraph each."""

    def __init__(self):
        super().__init__()
        self.depth, self.text, self.items, self.title = 0, [], [], False

    def handle_starttag(self, tag, attributes):
        kinds = (dict(attributes).get("class") or "").split()
        if self.depth or "calc-cautions" in kinds or {"warning", "danger"} & set(kinds):
            self.depth += tag not in ("br", "img", "input")
            if tag in ("li", "p"):
                self.title = "admonition-title" in kinds
                self.items += [] if self.title else [""]

    def handle_endtag(self, tag):
        self.depth -= self.depth > 0

    def handle_data(self, data):
        if self.depth:
            self.text.append(data)
            if self.items and not self.title:
                self.items[-1] += data


def cautions(html):
    parser = Cautions()
    parser.feed(html)
    return " ".join(" ".join(parser.text).split())


def twice(html):
    """{what is said: the items that say it} for everything that a page says in more than one place."""
    parser = Cautions()
    parser.feed(html)
    items = [" ".join(item.split()) for item in parser.items]
    found = {what: [item for item in items if re.search(said, item, re.IGNORECASE)] for what, said in ONCE.items()}
    return {what: places for what, places in found.items() if len(places) > 1}


def test_no_caution_stands_twice_on_a_page(site, names):
    assert {name: found for name in names if (found := twice((site / name).read_text(encoding="utf-8")))} == {}


def test_a_caution_that_stands_twice_is_told():
    box = '<div class="admonition warning"><p class="admonition-title">Wash your hands</p><p>Wash your hands.</p></div>'
    assert twice(box) == {}
    assert list(twice(box + '<ul class="calc-cautions"><li>Then wash your hands.</li></ul>')) == ["washed hands"]


@pytest.mark.parametrize("page", ACTS)
def test_the_caution_stands_where_the_act_is(site, page):
    said = cautions((site / page).read_text(encoding="utf-8"))
    assert not [topic for topic in ACTS[page] if not re.search(TOPICS[topic], said, re.IGNORECASE)], (
        f"{page} says: {said}"
    )


def test_every_topic_has_an_act():
    assert set(TOPICS) == {topic for topics in ACTS.values() for topic in topics}


def test_only_warnings_count():
    assert (
        cautions(
            '<p>Lift.</p><div class="admonition warning"><p class="t">Dust</p><p>Wet it.</p></div><p>mask</p><ul'
            ' class="calc-cautions"><li>Fire.</li></ul>'
        )
        == "Dust Wet it. Fire."
    )


def test_no_caution_is_printed_as_code(site, names):
    """Four blanks too many in a chapter make a block of code of it, of which a phone shows the first words."""
    found = [
        name
        for name in names
        if re.search(
            r'class="admonition (?:warning|danger|caution)">(?:(?!</div>).)*<pre',
            (site / name).read_text(encoding="utf-8"),
            re.DOTALL,
        )
    ]
    assert found == []
