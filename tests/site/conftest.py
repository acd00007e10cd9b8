"""What the tests of the pages share."""

import pytest


@pytest.fixture(scope="session")
def names(site):
    """Every page but the one for what is not there, and the one that holds all others for paper."""
    return sorted(
        path.relative_to(site).as_posix()
        for path in site.rglob("*.html")
        if path.name not in {"404.html", "print.html"}
    )


@pytest.fixture(scope="session")
def move_to(address):
    """A function (page, name) that goes from page to page the way a reader does over http."""

    def move(page, name):
        """Another page without loading everything anew; done when the new content stands."""
        page.evaluate(
            """(url) => {
                 document.querySelector("[data-md-component=container]").dataset.before = "yes";
                 const link = Object.assign(document.createElement("a"), { href: url });
                 document.body.append(link); link.click(); link.remove();
               }""",
            address + name,
        )
        page.wait_for_selector("[data-md-component=container]:not([data-before])")
        if page.locator("section.calc").count():
            page.wait_for_selector('section.calc[data-state="live"]', timeout=60000)

    return move
