"""Measures in prose: written in both systems, `4 ft (1.2 m)`; with the script the reader's own stands alone.

Each pair is marked in the finished page. The style sheet hides the half that is not the reader's; a press on a measure
shows both, and so does paper. Without a script, and in the page that is read aloud by search engines, both stand.
"""

import re
from html import escape

import tree

from calc.page.sure import unbroken

_FRACTION = "½¼¾⅛⅜⅝⅞⅓⅔"
_NUMBER = rf"[−-]?(?:\d[\d,]*(?:\.\d+)?[ \u00a0]?[{_FRACTION}]?|[{_FRACTION}])"
_RANGE = rf"{_NUMBER}(?:(?: to | and | or | by | × |–|-){_NUMBER})?"
_WORDS = "an?|half an?|a quarter|half|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty"
_US = (
    r"(?:(?:cubic |square )?(?:feet|foot|inch(?:es)?|pounds?|ounces?|gallons?|yards?)|(?:ft|in|lb|oz|gal|yd)[²³]?|°F"
    r"|mph|-gallon(?: bucket)?)"
    r"(?:/(?:ft|yd|lb|day|week|gal)[²³]?|(?: a| per) (?:day|week|cubic yard|cubic foot|gallon))*"
)
_METRIC = (
    r"(?:(?:cubic |square )?(?:centimetres?|millimetres?|metres?|kilograms?|grams?|litres?)"
    r"|(?:km|cm|mm|m|kg|g|mL|L)[²³]?|°C|m/s)(?:/(?:m|kg|day|week|L)[²³]?|(?: a| per) (?:day|week|cubic metre|litre))*"
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
LEFT_ALONE = frozenset(
    {
        "section",
        "svg",
        "pre",
        "code",
        "script",
        "style",
        "textarea",
        "select",
        "option",
        "button",
        "form",
        "output",
        "title",
    }
)


def pair(system: str, first: str, second: str, comma: str = "", opens: str = " (", closes: str = ")") -> str:
    """One measure in two systems, marked; `system` is that of the first half."""
    other = "metric" if system == "us" else "us"
    return (
        f'<span class="measure"><span class="in-{system}">{first}</span>{comma}<span class="in-both">{opens}</span>'
        f'<span class="in-{other}">{second}</span><span class="in-both">{closes}</span></span>'
    )


def marked(text: str) -> str:
    """A text without tags, with its pairs of measures marked."""
    for first, pattern in PAIRS:
        text = pattern.sub(
            lambda found, one=first: pair(one, found[1], found[4], found[2], found[3], found[5]),
            text,
        )
    return text


def prose(page: tree.Page) -> list[tree.Node]:
    """The texts of a page's article that are prose."""
    return [text for article in page.all("article") for text in tree.texts(article, LEFT_ALONE)]


def folded(text: tree.Node) -> str:
    """What a text says, on one line, as markup has it."""
    return escape(re.sub("[ \n\t]+", " ", text.text_content or ""), quote=False)


def mark(page: tree.Page) -> None:
    """Mark the measures of a page."""
    for text in prose(page):
        said = folded(text)
        if (made := unbroken(marked(said))) != said:
            tree.instead_of(text, made)
