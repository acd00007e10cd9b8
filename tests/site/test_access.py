"""Every page without findings of axe, in light and dark, on a phone and on a desk, with everything unfolded."""

import importlib.resources

import pytest

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1280, "height": 800}

AXE = (importlib.resources.files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")
UNFOLD = "document.querySelectorAll('article details').forEach((fold) => { fold.open = true; })"
FINDINGS = """async () => (await axe.run(document, { resultTypes: ["violations"] })).violations
  .flatMap(({ id, nodes }) => nodes.map(({ html, failureSummary }) => `${id}: ${html.slice(0, 160)} ${failureSummary.replace(/\\s+/g, " ").slice(0, 160)}`))"""


@pytest.mark.slow
@pytest.mark.parametrize(("scheme", "size"), [("light", DESK), ("dark", PHONE)], ids=["light-1280", "dark-390"])
def test_no_findings(browser, address, names, move_to, scheme, size):
    page = browser.new_page(color_scheme=scheme, viewport=size, reduced_motion="reduce")
    page.goto(address + "licences.html")
    page.evaluate(AXE)
    found = []
    for name in names:
        move_to(page, name)
        page.evaluate(UNFOLD)
        found += [f"{name}: {finding}" for finding in page.evaluate(FINDINGS)]
    page.close()
    assert not found, "\n".join(found)


def test_findings_are_noticed(browser, address):
    page = browser.new_page()
    page.goto(address + "licences.html")
    page.evaluate(AXE)
    page.evaluate("document.querySelector('article').append(document.createElement('input'))")
    assert any(finding.startswith("label:") for finding in page.evaluate(FINDINGS))
    page.close()
