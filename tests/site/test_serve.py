"""The server of scripts/serve and small steps of the build."""

import contextlib
import gzip
import threading
import urllib.request

import bootstrap
import finish
import make
import pytest
import serve_site
import tree


def get(address):
    with urllib.request.urlopen(address) as answer:
        return answer.headers, answer.read()


def test_serves_on_this_machine_only(address):
    assert address.startswith("http://127.0.0.1:")
    headers, body = get(address)
    assert headers["Content-Type"].startswith("text/html") and b"Lane" in body


def test_sitemap_knows_where_it_is_served(address):
    _, body = get(address + "sitemap.xml")
    assert f"<loc>{address}start.html</loc>".encode() in body


def test_hashed_files_may_be_kept_and_others_not(address, site):
    wasm = next((site / "assets" / "runtime").glob("*.wasm")).name
    headers, _ = get(address + "assets/runtime/" + wasm)
    assert headers["Content-Type"] == "application/wasm" and "immutable" in headers["Cache-Control"]
    assert get(address + "start.html")[0]["Cache-Control"] == "no-cache"


def test_text_travels_packed_to_whoever_can_unpack_it(address, site):
    request = urllib.request.Request(address + "start.html", headers={"Accept-Encoding": "gzip, deflate"})
    headers, body = get(request)
    plain = (site / "start.html").read_bytes()
    assert headers["Content-Encoding"] == "gzip" and gzip.decompress(body) == plain and len(body) < len(plain) / 3
    headers, body = get(address + "start.html")
    assert headers["Content-Encoding"] is None and body == plain


@pytest.fixture
def watched(site):
    """Address of the handbook as `scripts/serve --watch` serves it."""
    server = serve_site.server(site, handler=serve_site.Watched)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}"
    server.shutdown()


def test_a_watched_page_loads_anew_after_a_build(browser, watched):
    page = browser.new_page()
    page.goto(watched + "/licences.html")
    page.evaluate("globalThis.before = true")
    seen = threading.Event()

    def built():
        while not seen.wait(0.1):  # again and again: the page may not listen yet
            with serve_site.Watched.built:
                serve_site.Watched.built.notify_all()

    threading.Thread(target=built, daemon=True).start()
    try:
        anew = False
        for _ in range(600):  # the page's policy forbids to wait by a text of script
            with contextlib.suppress(Exception):  # it is on its way to the new page
                anew = anew or page.evaluate("() => globalThis.before === undefined")
            if anew:
                break
            page.wait_for_timeout(100)
        assert anew
    finally:
        seen.set()
    page.close()


def test_only_a_watched_page_asks_for_that(address, watched):
    assert serve_site.RELOAD.encode() not in get(address + "licences.html")[1]
    assert serve_site.RELOAD.encode() in get(watched + "/licences.html")[1]


def test_what_the_site_is_made_of_is_noticed_and_what_a_build_writes_is_not(tmp_path, monkeypatch):
    monkeypatch.setattr(make, "ROOT", tmp_path)
    for name in (*make.INPUTS, "site", ".cache"):
        if (bootstrap.ROOT / name).is_file():
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).touch()
        else:
            (tmp_path / name).mkdir(parents=True, exist_ok=True)
    changed = threading.Event()
    observer = serve_site.noticing(changed)
    observer.start()
    try:
        for quiet in ("site/index.html", ".cache/x.stamp", "calc/m.pyc", "README.md"):
            (tmp_path / quiet).write_text("x")
        (tmp_path / "docs" / "start.md").write_text("# Start")
        assert changed.wait(20)
        assert not any(
            map(serve_site.of_the_site, map(str, (tmp_path / "site" / "index.html", tmp_path / "README.md")))
        )
        changed.clear()
        (tmp_path / "mkdocs.yml").write_text("nav: []")
        assert changed.wait(20)
    finally:
        observer.stop()
        observer.join()


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Short.", "Short."),
        (
            "One sentence that is long enough to stand on its own here. " + "word " * 40,
            "One sentence that is long enough to stand on its own here.",
        ),
        ("word " * 50, "word " * 30 + "word …"),
    ],
)
def test_descriptions_end_at_a_sentence_or_a_word(text, expected):
    assert finish.shortened(text.strip()) == expected


def test_the_question_is_shown_once():
    text = (
        '<h1 id="a">How much?<a class="headerlink">¶</a></h1><h2 class="calc-question" id="b">How much?</h2><h2'
        ' class="calc-question">How many?</h2>'
    )
    page = tree.Page("index.html", text)
    finish.question_once(page)
    assert [question.id for question in page.all(".calc-question-again")] == ["b"]
