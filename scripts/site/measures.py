"""Measures in prose: written in both systems, `4 ft (1.2 m)`; with the script the reader's own stands alone.

Each pair is marked in the finished page. The style sheet hides the half that is not the reader's; a press on a measure
shows both, and so does paper. Without a script, and in the page that is read aloud by search engines, both stand.
"""

import re
from collections.abc import Callable
from pathlib import Path

_FRACTION = "½¼¾⅛⅜⅝⅞⅓⅔"
_NUMBER = rf"[−-]?(?:\d[\d,]*(?:\.\d+)?[ \u00a0]?[{_FRACTION}]?|[{_FRACTION}])"
_RANGE = rf"{_NUMBER}(?:(?: to | and | or | by | × |–|-){_NUMBER})?"
_WORDS = "an?|half an?|a quarter|half|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty"
_US = (
    r"(?:(?:cubic |square )?(?:feet|foot|inch(?:es)?|pounds?|ounces?|gallons?|yards?)|(?:ft|in|lb|oz|gal|yd)[²³]?|°F|mph"
    r"|-gallon(?: bucket)?)(?:/(?:ft|yd|lb|day|week|gal)[²³]?|(?: a| per) (?:day|week|cubic yard|cubic foot|gallon))*"
)
_METRIC = (
    r"(?:(?:cubic |square )?(?:centimetres?|millimetres?|metres?|kilograms?|grams?|litres?)|(?:km|cm|mm|m|kg|g|mL|L)[²³]?|°C"
    r"|m/s)(?:/(?:m|kg|day|week|L)[²³]?|(?: a| per) (?:day|week|cubic metre|litre))*"
)
_ABOUT = r"(?:about |over |under |some |up to |at least )?"


def _measure(unit: str) -> str:
    """A number or a number word with a unit, or several of them: `4 ft by 18 in`."""
    one = rf"(?:{_RANGE}[ \u00a0]?{unit}|(?:{_WORDS}) {unit})"
    return rf"{_ABOUT}{one}(?:(?: by | to | and | × |–|, )(?:{_RANGE}[ \u00a0]?{unit}))*"


PAIRS = tuple(
    (first, re.compile(rf"(?<![\w/.])({_measure(one)})(,?)( ?\()({_measure(other)})(\))(?![\w/²³])"))
    for first, one, other in (("us", _US, _METRIC), ("metric", _METRIC, _US))
)
LONE = re.compile(rf"(?<![\w/.(])(?:{_RANGE}[ \u00a0]?(?:(?:ft|lb|oz|gal|yd)[²³]?|°F)(?![\w]))")
"""A measure in US units alone, once the pairs are taken out."""
ARTICLE = re.compile(r"(<article[^>]*>)(.*)(</article>)", re.DOTALL)
TAG = re.compile(r"(<[^>]+>)")
LEFT_ALONE = {"section", "svg", "pre", "code", "script", "style", "textarea", "select", "option", "button", "form", "output", "title"}


def marked(text: str) -> str:
    """A text without tags, with its pairs of measures marked."""
    for first, pattern in PAIRS:
        second = "metric" if first == "us" else "us"
        text = pattern.sub(
            lambda pair, one=first, two=second: (
                f'<span class="measure"><span class="in-{one}">{pair[1]}</span>{pair[2]}<span class="in-both">{pair[3]}'
                f'</span><span class="in-{two}">{pair[4]}</span><span class="in-both">{pair[5]}</span></span>'
            ),
            text,
        )
    return text


def prose(html: str, change: Callable[[str], str] = marked) -> str:
    """The article of a page with `change` done to each text in it that is prose."""

    def inside(article: re.Match[str]) -> str:
        depth, parts = 0, []
        for part in TAG.split(article[2]):
            name = re.match(r"</?([a-z][a-z0-9]*)", part)
            if name and name[1] in LEFT_ALONE:
                depth += -1 if part.startswith("</") else 0 if part.endswith("/>") else 1
            elif not name and not depth and part.strip():
                part = change(re.sub("[ \n\t]+", " ", part))
            parts.append(part)
        return article[1] + "".join(parts) + article[3]

    return ARTICLE.sub(inside, html)


def mark_all(out: Path) -> None:
    """Mark every page of the site."""
    for path in sorted(out.rglob("*.html")):
        text = path.read_text(encoding="utf-8")
        changed = prose(text)
        if changed != text:
            path.write_text(changed, encoding="utf-8")
