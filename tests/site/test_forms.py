"""Forms as published practice has them: what is wrong is told beside its field, in a summary and aloud; the keyboard
reaches everything.
"""

import pytest
import tree

DESK = {"width": 1280, "height": 900}
SPOKEN = ".calc-unseen[role=status]"


@pytest.fixture
def live(browser, address):
    """A function that opens a page with a calculator and returns (page, its first calculator)."""
    page = browser.new_page(viewport=DESK)

    def go(name):
        page.goto(address + name)
        page.wait_for_selector('section.calc[data-state="live"]', timeout=30000)
        return page, page.locator("section.calc").first

    yield go
    page.close()


def says(section, selector, words):
    section.locator(selector, has_text=words).first.wait_for(state="attached", timeout=30000)


def focused(page, what="id"):
    return page.evaluate(f"document.activeElement.{what}")


def faults_of_fields(page):
    """What is wrong with the fields of a page: each has one label, and is joined to its error and to its hint."""
    for field in page.all(".calc-field :is(input, select, textarea)"):
        described, key = (field.attributes.get("aria-describedby") or "").split(), field.id
        if len(page.all(f'label[for="{key}"]')) != 1:
            yield f"{page.name}: {key} has no label"
        if f"{key}-error" not in described or not page.all(f'[id="{key}-error"]'):
            yield f"{page.name}: {key} is not joined to its error"
        if page.all(f'[id="{key}-hint"]') and f"{key}-hint" not in described:
            yield f"{page.name}: {key} is not joined to its hint"


def test_every_field_has_a_label_and_its_hint_and_error(site, names):
    """A name from a label, a description from hint and error, on every page, scripts or not."""
    pages = [tree.Page(name, (site / name).read_text(encoding="utf-8")) for name in names]
    assert sum(len(page.all(".calc-field")) for page in pages) > 500
    assert not (faults := [fault for page in pages for fault in faults_of_fields(page)]), "\n".join(faults)


@pytest.mark.parametrize("gone", ['<label for="a">A</label>', ' id="a-error"', "a-hint "])
def test_a_field_that_lacks_one_of_them_is_told(gone):
    whole = (
        '<div class="calc-field"><label for="a">A</label><input id="a" aria-describedby="a-hint a-error">'
        '<p id="a-hint"></p><p id="a-error"></p></div>'
    )
    assert not list(faults_of_fields(tree.Page("a.html", whole)))
    assert len(list(faults_of_fields(tree.Page("a.html", whole.replace(gone, "", 1))))) == 1


def test_what_is_wrong_is_told_in_three_places(live):
    page, section = live("moisture/adjust.html")
    wrong = section.locator("#moisture-adjust-target")
    wrong.fill("200")
    section.locator("#moisture-adjust-moisture").focus()  # leaves the field
    says(section, "#moisture-adjust-target-error", "must be")
    told = section.locator("#moisture-adjust-target-error").inner_text()
    assert wrong.get_attribute("aria-invalid") == "true"
    assert focused(page) == "moisture-adjust-moisture", "an error takes nobody away from what they type"
    says(section, SPOKEN, told)
    summary = section.locator(".calc-summary")
    assert summary.get_by_role("link", name=told).is_visible()

    section.get_by_role("button", name="Show the answer").click()
    says(section, ".calc-summary:focus", told)
    summary.get_by_role("link", name=told).press("Enter")
    assert focused(page) == "moisture-adjust-target"

    wrong.fill("80")
    wrong.press("Enter")
    section.locator("#moisture-adjust-target-error").wait_for(state="hidden")
    assert wrong.get_attribute("aria-invalid") is None and summary.is_hidden()


def test_on_a_phone_the_headline_says_that_it_is_the_earlier_one(live):
    page, section = live("moisture/adjust.html")
    page.set_viewport_size({"width": 390, "height": 844})
    told = "getComputedStyle(document.querySelector('.calc-main'), '::before').content"
    assert page.evaluate(told) == "none"
    section.locator("#moisture-adjust-target").fill("200")
    section.locator("#moisture-adjust-moisture").focus()
    says(section, "#moisture-adjust-target-error", "must be")
    assert "earlier" in page.evaluate(told)


def test_an_answer_is_spoken_and_the_button_brings_to_it(live):
    page, section = live("moisture/adjust.html")
    assert section.locator(SPOKEN).inner_text() == "", "nothing is said before the reader changes something"
    section.locator("#moisture-adjust-mass").fill("80")
    section.locator("#moisture-adjust-mass").press("Enter")
    says(section, SPOKEN, "Water to add: 64 lb.")
    assert focused(page) == "moisture-adjust-mass"
    section.get_by_role("button", name="Show the answer").click()
    says(section, ".calc-main:focus", "64 lb")


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("name", ["lane/feeding.html", "economics/cash.html"])
def test_the_button_brings_the_answer_onto_the_screen(live, name, width):
    """Its headline, its first words below it, and the form's end no longer between."""
    page, section = live(name)
    page.set_viewport_size({"width": width, "height": 844})
    section.get_by_role("button", name="Show the answer").click()
    section.locator(".calc-main:focus").wait_for()
    page.wait_for_timeout(100)
    header, main, reading = (
        page.locator(one).first.bounding_box() for one in (".head", ".calc-main", ".calc-figure-title, .calc-reading")
    )
    assert header["y"] + header["height"] <= main["y"] and main["y"] + main["height"] <= reading["y"] + 1
    assert reading["y"] < 844 - 60


def test_an_aim_that_cannot_be_read_is_told_at_its_field(live):
    _, section = live("moisture/adjust.html")
    section.get_by_text("Aim: what would it take?").click()
    wanted = section.locator("#moisture-adjust-aim-wanted")
    wanted.fill("much")
    wanted.press("Enter")
    says(section, "#moisture-adjust-aim-wanted[aria-invalid=true]", "")
    assert section.locator(f"[id='{wanted.get_attribute('aria-describedby')}']").inner_text()


def test_a_table_names_its_rows_and_marks_the_wrong_cell(live):
    page, section = live("feed/recipe.html")
    table = section.get_by_role("table", name="Materials", exact=True)
    assert table.get_by_role("rowheader").all_inner_texts() == ["1", "2", "3"]
    wrong = table.get_by_role("textbox", name="Mass (lb), row 2")
    wrong.fill("abc")
    wrong.press("Tab")
    says(section, "#feed-recipe-materials-error", "Row 2")
    assert (
        wrong.get_attribute("aria-invalid") == "true"
        and section.locator('.calc-rows [aria-invalid="true"]').count() == 1
    )
    section.locator(".calc-summary").get_by_role("link", name="Row 2").click()
    assert focused(page, "getAttribute('aria-label')") == "Mass (lb), row 2"
    wrong.fill("130")
    wrong.press("Enter")
    section.locator("#feed-recipe-materials-error").wait_for(state="hidden")
    assert section.locator('.calc-rows [aria-invalid="true"]').count() == 0


def test_rows_are_added_and_removed_without_losing_the_place(live):
    page, section = live("feed/recipe.html")
    section.get_by_role("button", name="Add a row").press("Enter")
    assert focused(page, "getAttribute('aria-label')") == "Material, row 4"
    page.keyboard.type("straw")
    section.get_by_role("button", name="Remove row 2").press("Enter")
    assert focused(page, "getAttribute('aria-label')") == "Remove row 2"
    assert [row.input_value() for row in section.get_by_role("combobox", name="Material, row").all()] == [
        "dairy manure",
        "café grounds",
        "straw",
    ]
    for _ in range(3):
        section.get_by_role("button", name="Remove row 1").press("Enter")
    assert focused(page, "textContent") == "Add a row"


REACHED = """() => { const seen = document.activeElement; const style = getComputedStyle(seen);
  return [seen.dataset.reach ?? null, style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 0]; }"""
TO_REACH = """(section) =>
  [...section.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")]
  .filter((part) => part.checkVisibility({ contentVisibilityAuto: true }) && !part.disabled)
  .map((part, place) => (part.dataset.reach = place))"""


@pytest.mark.parametrize("name", ["moisture/adjust.html", "feed/recipe.html"])
def test_the_keyboard_reaches_everything_in_order_and_leaves_again(live, name):
    page, section = live(name)
    page.evaluate("document.querySelectorAll('.calc details').forEach((fold) => { fold.open = true; })")
    wanted = section.evaluate(TO_REACH)
    section.locator("[data-reach='0']").focus()
    reached, unseen = [], []
    for _ in range(len(wanted) + 5):
        place, outlined = page.evaluate(REACHED)
        if place is None:
            break
        reached.append(int(place))
        unseen += (
            []
            if outlined
            else [section.locator(f"[data-reach='{place}']").evaluate("(part) => part.outerHTML.slice(0, 120)")]
        )
        page.keyboard.press("Tab")
    assert reached == wanted, "the order of the page is the order of the keyboard, and it ends"
    assert not unseen, "\n".join(unseen)


def test_folds_open_by_keyboard(live):
    page, section = live("moisture/adjust.html")
    fold = section.locator("summary", has_text="Working and sources")
    fold.focus()
    page.keyboard.press("Enter")
    assert fold.evaluate("(summary) => summary.parentElement.open")
    page.keyboard.press("Space")
    assert not fold.evaluate("(summary) => summary.parentElement.open")


def test_search_opens_and_closes_by_keyboard(live):
    page, _ = live("moisture/adjust.html")
    for _ in range(60):  # the theme's script comes after the first answer
        page.keyboard.press("/")
        page.wait_for_timeout(250)
        if page.locator(".md-search__input:focus").count():
            break
    assert page.locator(".md-search__input:focus").count() == 1
    page.keyboard.press("Escape")
    page.wait_for_selector(".md-search__input:not(:focus)", state="attached")


def test_figures_and_tables_have_names(live):
    page, section = live("moisture/adjust.html")
    assert section.get_by_role("figure", name="Dry matter and water, before and after").count() == 1
    plot = section.locator("[data-figure] svg:visible").first  # it holds a handle, so it is a group and no picture
    assert plot.get_attribute("role") == "group" and plot.get_attribute("aria-label")
    page.evaluate("document.querySelectorAll('.calc details').forEach((fold) => { fold.open = true; })")
    assert section.get_by_role("group", name="All results").count() == 1


def test_nothing_moves_for_who_asked_for_stillness(browser, address):
    page = browser.new_page(viewport=DESK, reduced_motion="reduce")
    page.goto(address + "moisture/adjust.html")
    moving = page.evaluate(
        """() => [...document.querySelectorAll("*")].flatMap((part) => [null, "::before", "::after"].map((pseudo) =>
        getComputedStyle(part, pseudo)))
        .filter((style) => style.transitionDuration.split(", ").some((time) => time !== "0s") || style.animationName !==
        "none" || style.scrollBehavior === "smooth").length
        """
    )
    page.close()
    assert moving == 0


def test_a_palette_of_the_device_keeps_buttons_and_figures_in_sight(browser, address):
    page = browser.new_page(viewport=DESK, forced_colors="active", color_scheme="dark")
    page.goto(address + "moisture/adjust.html")
    page.wait_for_selector('section.calc[data-state="live"]', timeout=30000)
    bare = page.evaluate(
        """() => [...document.querySelectorAll(".calc button, .calc :is(input, select, textarea)")]
        .filter((part) => part.checkVisibility() && parseFloat(getComputedStyle(part).borderTopWidth) < 1).map((part) =>
        part.outerHTML.slice(0, 100))
        """
    )
    plot = page.locator(".calc-plot").first.evaluate(
        "(plot) => { const { backgroundColor, color } = getComputedStyle(plot); return [backgroundColor, color]; }"
    )
    page.close()
    assert bare == []
    assert plot == ["rgb(19, 23, 17)", "rgb(233, 238, 223)"], "the drawing keeps the colours that it was tested with"


def test_two_emptied_masses_are_each_marked_in_their_own_row(live):
    _, section = live("feed/recipe.html")
    section.locator("#feed-recipe-mode").select_option("check")
    table = section.get_by_role("table", name="Materials", exact=True)
    for row in (1, 2):
        cell = table.get_by_role("textbox", name=f"Mass (lb), row {row}")
        cell.fill("")
        cell.press("Tab")
    says(section, "#feed-recipe-materials-error", "Row 1, 2: say how much there is")
    marked = section.locator('.calc-rows [aria-invalid="true"]')
    named = [marked.nth(place).get_attribute("aria-label") for place in range(marked.count())]
    assert named == [f"{what}, row {row}" for row in (1, 2) for what in ("Mass (lb)", "Volume (ft³)")]


def test_a_file_is_shown_as_understood_and_a_block_goes_into_the_cells(live, tmp_path):
    page, section = live("feed/recipe.html")
    file = tmp_path / "mix.csv"
    lines = ["Unser Mist", "Material\tMass (kg)\tFarbe", "café grounds\t1.250\tbraun", "leaves\t3\tgelb", ""]
    file.write_bytes("\n".join(lines).encode("cp1252"))
    field = section.locator('.calc-field[data-input="materials"]')
    field.locator('input[type="file"]').set_input_files(file)
    look = field.locator(".calc-rows-look")
    look.get_by_text("How much is 1.250?").wait_for()
    look.get_by_role("button", name="1250 (the comma is the decimal mark)").click()
    look.get_by_text("Not asked for, left out: the column “Farbe”.").wait_for()
    assert "café grounds" in look.inner_text() and "2,756 lb" in look.inner_text()
    look.get_by_role("button", name="Use these 2 rows").click()
    first = field.locator(".calc-rows tbody tr").first.locator("input").first
    assert field.locator(".calc-rows tbody tr").count() == 2 and first.input_value() == "café grounds"
    page.evaluate(
        """(cell) => { const data = new DataTransfer();
        data.setData("text/plain", "straw\\t7\\r\\nhay\\t8\\r\\nleaves\\t9");
        cell.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true })); }""",
        first.element_handle(),
    )
    field.locator(".calc-rows tbody tr").nth(2).wait_for()
    rows = field.locator(".calc-rows tbody tr")
    assert [rows.nth(row).locator("input").first.input_value() for row in range(3)] == ["straw", "hay", "leaves"]
    field.get_by_role("button", name="Edit as text").click()
    area = field.locator("textarea")
    area.wait_for(state="visible")
    assert area.input_value().split("\n")[1:] == ["straw,7", "hay,8", "leaves,9"]
