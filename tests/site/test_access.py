"""Every page without findings of axe, in light and dark, on a phone and on a desk, with everything unfolded."""

import importlib.resources

import pytest

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1280, "height": 800}

AXE = (importlib.resources.files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")
UNFOLD = "document.querySelectorAll('article details').forEach((fold) => { fold.open = true; })"
LOOKS = [
    "color-contrast",
    "link-in-text-block",
    "scrollable-region-focusable",
    "target-size",
]  # what can differ between two looks of one page
FINDINGS = """async (rules) => (await axe.run(document, { resultTypes: ["violations"], ...(rules && { runOnly: rules }) })).violations
  .flatMap(({ id, nodes }) => nodes.map(({ html, failureSummary }) => `${id}: ${html.slice(0, 160)} ${failureSummary.replace(/\\s+/g, " ").slice(0, 160)}`))"""


@pytest.mark.slow
@pytest.mark.parametrize(
    ("scheme", "size", "rules"), [("light", DESK, None), ("dark", PHONE, LOOKS)], ids=["light-1280", "dark-390"]
)
def test_no_findings(browser, address, names, move_to, scheme, size, rules):
    page = browser.new_page(color_scheme=scheme, viewport=size, reduced_motion="reduce")
    page.goto(address + "licences.html")
    found = []
    for name in names:
        move_to(page, name)
        if page.evaluate("typeof axe") == "undefined":
            page.evaluate(AXE)
        page.evaluate(UNFOLD)
        found += [f"{name}: {finding}" for finding in page.evaluate(FINDINGS, rules)]
    page.close()
    assert not found, "\n".join(found)


def test_findings_are_noticed(browser, address):
    page = browser.new_page()
    page.goto(address + "licences.html")
    page.evaluate(AXE)
    page.evaluate("document.querySelector('article').append(document.createElement('input'))")
    assert any(finding.startswith("label:") for finding in page.evaluate(FINDINGS))
    page.close()
