"""The server of scripts/serve and small steps of the build."""

import gzip
import urllib.request

import finish
import pytest


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
    assert finish.question_once(text).count("calc-question-again") == 1
