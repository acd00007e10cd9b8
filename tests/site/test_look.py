"""Pages in a real browser: nothing too wide, room for a thumb, no complaint of the policy, the reader's colours, search
from disk.
"""

import json
import re

import fonts
import pytest
import tree
from engines import PAGES_KNOWN
from playwright.sync_api import Error

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1280, "height": 800}


def watched(page):
    """Everything that a page complains of or asks for."""
    said, asked = [], []
    page.on("console", lambda message: said.append(message.text) if message.type in {"error", "warning"} else None)
    page.on("pageerror", lambda error: said.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    return said, asked


def settled(page, measure):
    """A measure that should be 0; the theme takes a moment after a change of size."""
    for _ in range(400):
        if page.evaluate(measure) <= 0:
            break
        page.wait_for_timeout(50)
    return page.evaluate(measure)


TOO_WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
TOO_SMALL = """() => [...document.querySelectorAll(".calc :is(input, select, textarea, button, summary)")]
  .filter((e) => e.checkVisibility() && e.type !== "file")
  .map((e) => [e, (/^(radio|checkbox)$/.test(e.type) && e.closest("label")) || e])
  .filter(([, touched]) => touched.getBoundingClientRect().height < 43.5)
  .map(([e, touched]) => `${e.tagName} ${e.name || e.textContent.slice(0, 30)} ${Math.round(touched.getBoundingClientRect().height)} px`)"""
"""A choice is touched by its whole label."""


SQUEEZED = """() => [...document.querySelectorAll(".calc-field > label")].filter((label) => label.checkVisibility() && label.getBoundingClientRect().width < 72)
  .map((label) => `“${label.textContent}” has ${Math.round(label.getBoundingClientRect().width)} px`)"""
LABELS = """() => [...document.querySelectorAll("figure svg")].filter((svg) => svg.checkVisibility()).flatMap((svg) => {
  const said = [], frame = svg.getBoundingClientRect(), name = svg.closest("figure").getAttribute("aria-label"), scale = svg.getScreenCTM().a;
  const words = [...svg.querySelectorAll("text")].filter((text) => text.textContent.trim());
  for (const text of words) if (parseFloat(getComputedStyle(text).fontSize) * scale < 10.5) said.push(`${name}: “${text.textContent}” is too small`);
  const lines = words.flatMap((text) => text.querySelector("tspan") ? [...text.querySelectorAll("tspan")] : [text]).map((line) => [line.textContent, line.getBoundingClientRect()]);
  lines.forEach(([words, box], place) => {
    if (box.left < frame.left - 2 || box.right > frame.right + 2 || box.top < frame.top - 2 || box.bottom > frame.bottom + 2) said.push(`${name}: “${words}” is cut off`);
    for (const [others, other] of lines.slice(place + 1)) {
      const across = Math.min(box.right, other.right) - Math.max(box.left, other.left), down = Math.min(box.bottom, other.bottom) - Math.max(box.top, other.top);
      if (across > 1 && down > Math.min(box.height, other.height) / 4) said.push(`${name}: “${words}” lies on “${others}”`);
    }
  });
  return said;
})"""
"""What is wrong with the words of the figures. A quarter of a line may overlap: boxes are higher than letters."""

LARGER_TEXT = """(factor) => { const root = document.documentElement; root.style.fontSize = "";
  root.style.fontSize = factor === 1 ? "" : `${factor * parseFloat(getComputedStyle(root).fontSize)}px`; }"""
SIZES = [
    (DESK, 1),
    (PHONE, 1),
    ({"width": 320, "height": 640}, 1),
    ({"width": 640, "height": 400}, 1),
    (DESK, 2),
    (PHONE, 2),
]
"""Screens, the narrowest that has to do, a desk at double zoom, and double text on desk and phone."""


@pytest.mark.slow
def test_every_page_fits(browser, address, names, move_to):
    """At every size nothing is wider than the screen, everything to touch is 44 px high, and the words of a figure can
    be read.
    """
    page = browser.new_page(viewport=DESK)
    said, asked = watched(page)
    page.goto(address + "licences.html")
    faults = []
    for name in names:
        move_to(page, name)
        for size, text in SIZES:
            page.set_viewport_size(size)
            page.evaluate(LARGER_TEXT, text)
            wide = settled(page, TOO_WIDE)
            at = f"at {size['width']} px" + (f" and {text} times the text" if text > 1 else "")
            faults += [f"{name} is {wide} px too wide {at}"] if wide > 0 else []
            faults += [f"{name}: too small to touch {at}: {what}" for what in page.evaluate(TOO_SMALL)]
            faults += [f"{name} {at}: {what}" for what in page.evaluate(SQUEEZED)]
            labels = page.evaluate(LABELS) if (size, text) in ((PHONE, 1), (DESK, 1)) else ()
            faults += [f"{name} {at}: {what}" for what in labels]
    page.close()
    assert not faults, "\n".join(faults)
    assert not said, "\n".join(said)
    assert [url for url in asked if not url.startswith((address, "blob:", "data:"))] == []


def test_the_browser_of_the_tests_leaves_out_what_playwright_does(browser):
    page = browser.new_page()
    try:
        page.goto("chrome://version")
    except Error:
        pytest.skip("this Chromium does not tell how it was started")
    lists = re.findall(r"--disable-features=(\S+)", page.locator("#command_line").inner_text())
    page.close()
    assert len(lists) > 1 and {*",".join(lists).split(",")} == {*lists[-1].split(",")}


COVERED = """() => { const seen = document.activeElement, box = seen.getBoundingClientRect();
  const over = [...document.querySelectorAll(".calc-main")].filter((part) => !part.contains(seen)).map((part) => part.getBoundingClientRect());
  const hidden = over.some(({ left, right, top, bottom }) => left < box.right && right > box.left && Math.min(box.bottom, bottom) - Math.max(box.top, top) > 2) || box.bottom < 0 || box.top > innerHeight;
  return hidden && !seen.matches(".md-skip") && box.height < innerHeight / 2 ? `${seen.localName} ${seen.id || seen.textContent.trim().slice(0, 30)}` : null; }"""


def test_search_does_not_show_the_words_of_drawings_run_together(site, names):
    index = " ".join(
        entry["text"]
        for entry in json.loads((site / "search" / "search_index.json").read_text(encoding="utf-8"))["docs"]
    )
    drawn = [
        [words for words in re.findall(r"<(?:text|tspan)[^>]*>([^<]+)</", picture) if not words.isdigit()]
        for name in names
        for picture in re.findall(
            r'<div class="calc-picture".*?</svg>', (site / name).read_text(encoding="utf-8"), re.DOTALL
        )
    ]
    assert len(drawn) > 10 and [words for words in drawn if len(words) > 1 and "".join(words[:3]) in index] == []


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_what_the_keyboard_comes_to_is_in_sight(browser, address, size):
    """Neither the header nor, on a phone, the headline at the foot of the screen lies over what has the focus, forwards
    or back.
    """
    page = browser.new_page(viewport=size)
    page.goto(address + "lane/starter.html")
    page.wait_for_selector('section.calc[data-state="live"]', timeout=60000)
    page.locator("#lane-starter-lane_length").focus()
    covered = []
    for key in ["Tab"] * 30 + ["Shift+Tab"] * 35:
        page.keyboard.press(key)
        covered += [what] if (what := page.evaluate(COVERED)) else []
    page.close()
    assert not covered, "\n".join(covered)


REACHED = """() => {
  const { activeElement: at } = document;
  const name = (at.getAttribute("aria-label") ?? at.labels?.[0]?.textContent ?? at.textContent).trim();
  const { left, right } = at.getBoundingClientRect();
  const seen = at.checkVisibility({ visibilityProperty: true }) && right > 0 && left < innerWidth;
  return { at: `${at.localName} ${name.slice(0, 40)}`, seen, named: Boolean(name) };
}"""


def test_by_keyboard_alone_on_a_phone_the_contents_open_and_nothing_hidden_takes_the_focus(browser, address):
    """And a heading is read by itself, without the sign of its link."""
    page = browser.new_page(viewport=PHONE)
    page.goto(address + "lane/herd.html")
    reached = []
    while len(reached) < 12:
        page.keyboard.press("Tab")
        reached.append(page.evaluate(REACHED))
        if reached[-1]["at"] == "summary Contents":
            break
    assert reached[-1]["at"] == "summary Contents" and all(one["seen"] and one["named"] for one in reached), reached
    before = page.evaluate("() => document.querySelector('.contents').open")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert not before and page.evaluate("() => document.activeElement.matches('.book a')")
    headings = [line for line in page.locator("article").aria_snapshot().splitlines() if "heading" in line]
    assert len(headings) > 3 and not [line for line in headings if "¶" in line or "link" in line]
    page.close()


STANDS_IN = """Promise.all([...document.fonts].filter(({ family }) => family.includes("stand-in")).map((face) => face.load()))
  .then(() => true, () => false)"""
PAPER = "getComputedStyle(document.documentElement).backgroundColor"


def test_colours_follow_the_device_and_can_be_chosen(browser, address):
    """Without a reload while nobody chose; what was chosen holds over pages and reloads, and can be given back to
    the device.
    """
    page = browser.new_page(viewport=PHONE, color_scheme="light")
    page.goto(address + "start.html")
    light = page.evaluate(PAPER)
    page.emulate_media(color_scheme="dark")
    dark = page.evaluate(PAPER)
    assert light != dark
    choices = page.locator(".scheme label")
    choices.filter(has_text="light").click()
    assert page.evaluate(PAPER) == light
    page.reload()
    assert page.evaluate(PAPER) == light
    page.goto(address + "moisture/adjust.html")
    assert page.evaluate(PAPER) == light
    choices.filter(has_text="as the device").click()
    assert page.evaluate(PAPER) == dark
    page.emulate_media(color_scheme="light")
    assert page.evaluate(PAPER) == light
    page.close()


def test_colours_of_the_device_need_no_script(browser, address):
    context = browser.new_context(java_script_enabled=False, color_scheme="dark")
    page = context.new_page()
    page.goto(address + "moisture/adjust.html")
    assert page.evaluate(PAPER) == "rgb(19, 23, 17)"
    context.close()


def test_faces_weigh_little_and_their_terms_are_shipped(site):
    files = sorted((site / "assets" / "face").glob("*.woff2"))
    assert len(files) == 3 and sum(file.stat().st_size for file in files) <= 55_000
    for name in ("besley", "public-sans"):
        text = (site / "licences" / f"fontsource-variable-{name}.txt").read_text(encoding="utf-8")
        assert "SIL OPEN FONT LICENSE" in text.upper()


def test_stand_ins_are_as_wide_and_as_high(site):
    """A line of either face takes as much room as that of the system's face which stands there before it."""
    counts = fonts.letters_shown(tree.read(site))
    for face in fonts.FACES[:2]:
        known, (widths, _, _) = fonts.measures(face), fonts.STAND_INS[face.family]
        rule = fonts.stand_in(face.family, known, counts)
        stretch, ascent, descent, _ = (float(share) / 100 for share in re.findall(r"([\d.]+)%", rule))
        ours = sum(known[letter] * counts[letter] for letter in widths)
        theirs = sum(stretch * width / 1000 * counts[letter] for letter, width in widths.items())
        assert theirs == pytest.approx(ours, rel=0.001)
        assert stretch * (ascent + descent) == pytest.approx(known["ascent"] + known["descent"], rel=0.001)


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_nothing_jumps_when_the_faces_come(browser, address, size):
    """The stand-ins are as wide and as high: the layout with them is that with the faces, to a line or two of a
    whole page.
    """
    heights = []
    for late in (True, False):
        page = browser.new_page(viewport=size)
        if late:
            page.route("**/*.woff2", lambda route: route.abort())
        page.goto(address + "lane/index.html")
        if late and not page.evaluate(STANDS_IN):
            page.close()
            pytest.skip("no font of this machine can stand in (Debian has one in fonts-liberation)")
        page.evaluate("document.fonts.ready.then(() => true)")
        loaded = page.evaluate(
            "[...document.fonts].filter((face) => face.status === 'loaded' && !face.family.includes('stand-in')).length"
        )
        assert (loaded == 0) == late
        heights.append(page.evaluate("document.querySelector('h1').getBoundingClientRect().bottom"))
        heights.append(page.evaluate("document.querySelector('article').scrollHeight"))
        page.close()
    first, whole, first_now, whole_now = heights
    assert abs(first - first_now) <= 2 and abs(whole - whole_now) <= 0.03 * whole_now


def test_the_contents_open_without_a_script(browser, address, names):
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)
    page = context.new_page()
    page.goto(address + "lane/herd.html")
    page.locator(".contents > summary").click()
    assert page.locator(".book a[aria-current=page]").inner_text() == "Wait or buy"
    listed = page.locator(".book a").evaluate_all("links => links.map((link) => link.href)")
    assert {name for name in names if name not in {"404.html", "print.html", "missing.html"}} == {
        url.removeprefix(address) for url in listed
    }
    context.close()


def test_search_works_from_disk(browser, site):
    page = browser.new_page(viewport=DESK)
    said, asked = watched(page)
    page.goto((site / "start.html").as_uri())
    page.locator("input.md-search__input").click()
    page.keyboard.type("castings")
    page.wait_for_selector(".search-found li")
    page.close()
    assert not said, "\n".join(said)
    assert [url for url in asked if not url.startswith(("file:", "blob:", "data:"))] == []


def test_pages_change_without_loading_anew_over_http(browser, address):
    page = browser.new_page(viewport=DESK)
    for _ in range(5):  # a press before the list of pages was read loads the page anew
        page.goto(address + "index.html")
        page.wait_for_selector('section.calc[data-state="live"]', timeout=60000)
        page.mouse.move(300, 300)  # the theme's script waits for the reader
        page.wait_for_selector(".search-found ol[hidden]", state="attached")
        page.wait_for_function(PAGES_KNOWN)
        page.evaluate("window.still = true")
        page.get_by_role("link", name="The first year", exact=True).click()
        page.wait_for_url("**/start.html")
        if page.evaluate("window.still"):
            break
    assert page.evaluate("window.still")
    page.close()


def test_without_script_the_answer_is_there(browser, address):
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)
    page = context.new_page()
    page.goto(address + "moisture/adjust.html")
    assert page.locator(".calc-value").first.is_visible() and page.locator(".calc-plot svg").first.is_visible()
    assert not page.locator(".calc-actions").is_visible()
    context.close()


ON_PAPER = """() => [".calc-question", ".calc-main", ".calc-answer > .calc-figure", ".calc-reading", ".calc-ask", ".calc-working"]
  .map((part) => document.querySelector(part).getBoundingClientRect().top)"""
CUT_OFF = """() => [...document.querySelectorAll(".calc-picture > .plate, .calc-plot svg, .calc table, table.plain")]
  .filter((part) => part.checkVisibility() && part.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
  .map((part) => part.outerHTML.slice(0, 80))"""


@pytest.mark.parametrize("name", ["lane/feeding.html", "harvest/screen.html", "climate/temperature.html"])
def test_paper_has_the_answer_first_and_what_it_was_worked_out_with_after(browser, address, name):
    """Question, answer, figure, what it means, then the figures that were filled in, then the working; nothing is
    wider than a sheet.
    """
    page = browser.new_page(viewport={"width": 658, "height": 900})
    page.emulate_media(media="print")
    page.goto(address + name)
    tops, cut = page.evaluate(ON_PAPER), page.evaluate(CUT_OFF)
    page.close()
    assert tops == sorted(tops) and cut == []


LOST_ON_PAPER = """() => {
  const seen = (parts) => [...document.querySelectorAll(parts)].filter((part) => part.checkVisibility());
  const told = (part, why) => `${why}: ${part.outerHTML.slice(0, 80)}`;
  const lines = (part) => {
    const text = document.createRange();
    text.selectNodeContents(part);
    return text.getClientRects().length;
  };
  return [
    ...seen("pre").filter((part) => part.scrollWidth > part.clientWidth + 1).map((part) => told(part, "cut at the right")),
    ...seen(".page ol").filter((part) => part.children.length > 9 && parseFloat(getComputedStyle(part).paddingLeft)
      + parseFloat(getComputedStyle(part).marginLeft) < 18).map((part) => told(part, "numbers of two digits are cut")),
    ...seen("summary").filter((part) => getComputedStyle(part).display !== "block").map((part) => told(part, "may stay behind")),
    ...seen(".calc-facts td, .calc-checks td").filter((part) => /^[−\\d.]+$/.test(part.textContent)
      && lines(part) > 1).map((part) => told(part, "a number on several lines")),
  ];
}"""


def test_on_paper_nothing_is_cut_and_what_heads_a_fold_stays_with_it(browser, address):
    """Code and numbers of steps keep their ends, figures of the lists their line; what was folded has its heading
    in a line of its own, which the end of a sheet cannot part from it.
    """
    page = browser.new_page(viewport={"width": 658, "height": 900})
    page.emulate_media(media="print")
    lost = {}
    for name in ("method/python.html", "method/equations.html", "method/facts.html", "lane/output.html"):
        page.goto(address + name)
        lost[name] = page.evaluate(LOST_ON_PAPER)
    page.close()
    assert not any(lost.values()), lost


def test_print_shows_values_and_working_and_no_furniture(browser, address):
    page = browser.new_page(viewport=DESK)
    page.goto(address + "moisture/adjust.html")
    page.emulate_media(media="print")
    assert not page.locator(".head").is_visible() and not page.locator(".calc-actions").is_visible()
    assert page.locator("#moisture-adjust-moisture").is_visible() and page.locator(".calc-plot svg").first.is_visible()
    assert page.locator(".calc-working li").first.is_visible()
    shown = page.evaluate(
        """() => [...document.querySelectorAll(`article
          :is(button:not(.calc-unit), .calc-plotted, .calc-leads, .calc-hint, .calc-explorers)`)]
        .filter((part) => part.checkVisibility()).map((part) => part.outerHTML.slice(0, 80))"""
    )
    framed = page.evaluate(
        "[...document.querySelectorAll('.calc-value-of > input')].filter((field) => getComputedStyle(field).borderTopWidth"
        " !== '0px').length"
    )
    page.close()
    assert shown == [] and framed == 0, "a form is a list of labels and values on paper"
