"""Every page without findings of axe, in light and dark, on a phone and on a desk, with everything unfolded: all of
them
as they are built, without script, and one of each kind live.
"""

import axe
import pytest

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1280, "height": 800}
LOOKS = [("light", DESK), ("dark", PHONE)]
OF_EACH_KIND = [
    "index.html",
    "moisture/adjust.html",
    "feed/recipe.html",
    "records/chart.html",
    "lane/feeding.html",
    "plan.html",
    "troubles/index.html",
    "method/copy.html",
]
"""The front page; a calculator of plain fields, of a table, of a list, of dates and drawings; the plan; pages with
scripts
of their own.
"""

UNFOLD = "document.querySelectorAll('article details').forEach((fold) => { fold.open = true; })"
SECOND_LOOK = ["color-contrast", "link-in-text-block", "scrollable-region-focusable", "target-size"]
"""Rules on what can differ between two looks of one page."""
FINDINGS = """async (rules) =>
  (await axe.run(document, { resultTypes: ["violations"], ...(rules && { runOnly: rules }) })).violations
    .flatMap(({ id, nodes }) => nodes.map(({ html, failureSummary }) =>
      `${id}: ${html.slice(0, 160)} ${failureSummary.replace(/\\s+/g, " ").slice(0, 160)}`))"""


def looked_at(page, name, rules=None):
    if page.evaluate("typeof axe") == "undefined":
        page.evaluate(axe.AXE)
    page.evaluate(UNFOLD)
    return [f"{name}: {finding}" for finding in page.evaluate(FINDINGS, rules)]


def both_looks(page, name):
    """What axe finds on a page that stands, on a desk in light, then on a phone in dark."""
    faults = []
    for (scheme, size), rules in zip(LOOKS, (None, SECOND_LOOK), strict=True):
        page.emulate_media(color_scheme=scheme)
        page.set_viewport_size(size)
        faults += looked_at(page, f"{name}, {scheme}, {size['width']} px", rules)
    return faults


@pytest.mark.slow
def test_no_findings_on_any_page_as_it_is_built(browser, address, names):
    """No script of ours or the theme's arrives, as on a device that refuses them."""
    context = browser.new_context(reduced_motion="reduce")
    context.route("**/*.js", lambda route: route.abort())
    page, faults = context.new_page(), []
    for name in names:
        page.goto(address + name)
        faults += both_looks(page, name)
    context.close()
    assert not faults, "\n".join(faults)


@pytest.mark.slow
def test_no_findings_on_a_live_page_of_each_kind(browser, address, move_to):
    page, faults = browser.new_page(reduced_motion="reduce"), []
    page.goto(address + "licences.html")
    for name in OF_EACH_KIND:
        move_to(page, name)
        faults += both_looks(page, name)
    page.close()
    assert not faults, "\n".join(faults)


def test_the_kinds_are_there(names):
    assert set(OF_EACH_KIND) <= set(names)


SPOILT = """() => document.querySelector("article").insertAdjacentHTML("beforeend", `
  <input style="width: 9px; height: 9px">
  <input aria-label="A" type="checkbox" style="margin: 0; width: 9px; height: 9px">
  <div style="background: hsl(80 40% 60%)"><div style="background: rgba(255, 255, 255, 0.4); opacity: 0.9">
    <p style="color: color-mix(in srgb, #777, transparent 20%)">Hard to read <a href="#">a link</a></p></div></div>
  <p style="color: rgb(120 120 120 / 0.8); text-shadow: 0 0 2px #999">Hard to read as well</p>
  <p id="twice" aria-lable="x" role="no-role">A role that is none</p><img src="none.png">`)"""


def test_findings_are_noticed_and_are_those_of_axe_as_it_comes(browser, address):
    """Label, size, role, colours of every notation, mixed and seen through: word for word the same, in both looks."""
    found = []
    for script in (axe.AXE, axe.AS_IT_COMES):
        page = browser.new_page()
        page.goto(address + "licences.html")
        page.evaluate(script)
        page.evaluate(SPOILT)
        found.append(both_looks(page, "spoilt"))
        page.close()
    assert found[0] == found[1]
    rules = [finding.split(": ")[1] for finding in found[0]]
    assert {"label", "image-alt", "aria-roles", "target-size"} <= set(rules) and rules.count("color-contrast") >= 4
