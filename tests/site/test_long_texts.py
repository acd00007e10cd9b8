"""Long texts travel once between page and Python, then by their numbers and their changes: both ends, in Node and here.

Whatever was asked and changed before, and whether Python was ended meanwhile, the answer is that of the whole.
"""

import json
import random
import subprocess
from importlib import import_module
from pathlib import Path

import pytest

import calc
from calc.engine.kinds import table
from calc.farm import log
from calc.page import long, respond

block = import_module("calc.page.block")  # the name also means the function
PAGE = Path(__file__).with_name("long.mjs")
LINES = 700
SIGNS = ["a", "b", "\n", "é", "🪱", "\ud83e", "\udeb1", "🪲"]
"""Letters that are one to Python and two to a script among them, and halves of such."""


class Page:
    """The page's end, which runs in Node."""

    def __init__(self, node):
        self.process = subprocess.Popen([node, PAGE], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        self.asked = 0

    def tell(self, **said):
        self.process.stdin.write(json.dumps(said) + "\n")
        self.process.stdin.flush()

    def heard(self):
        return json.loads(self.process.stdout.readline())

    def pack(self, **args):
        """(number of what is asked, how it is told to Python)."""
        self.tell(ask=args)
        self.asked += 1
        return self.asked - 1, self.heard()

    def unpacked(self, number, answer):
        """As the worker hands an answer over: half a letter as JSON writes it."""
        self.tell(answer=answer.encode(errors="backslashreplace").decode(), to=number)
        return self.heard()

    def ask(self, call, **args):
        """As python.js asks, with the whole where Python lacks a text."""
        number, told = self.pack(**args)
        answer = self.unpacked(number, respond(call, told))
        if answer.get("lacking"):
            self.tell(anew=True)
            number, told = self.pack(**args)
            answer = self.unpacked(number, respond(call, told))
        return answer


@pytest.fixture
def page(node):
    long._held.clear()
    page = Page(node)
    yield page
    page.process.stdin.close()
    assert page.process.wait(30) == 0
    page.process.stdout.close()
    long._held.clear()


def forget():
    """As in a page that has just been opened."""
    for kept in (table._LAST, table._GRIDS, table._SHORT, log._READ_LAST, log._UP_TO_LAST, block._last):
        kept.clear()


def whole(call, **args):
    """What is answered to one who tells all of it, and asks for the first time."""
    forget()
    return json.loads(respond(call, json.dumps(args)).encode(errors="backslashreplace"))


def as_page(text):
    """A text as a page has it: two halves that meet are one letter."""
    return json.loads(json.dumps(text))


def edited(chance, text):
    """Something put in the place of a part, mostly of a small one, anywhere."""
    at = chance.choice([0, len(text), chance.randrange(len(text) + 1)])
    gone = chance.choice([0, 0, 1, 2, chance.randrange(40), chance.randrange(len(text))])
    return as_page(text[:at] + "".join(chance.choices(SIGNS, k=chance.randrange(6))) + text[at + gone :])


def test_any_texts_come_over_whole_and_back(page, monkeypatch):
    """Of edits of all kinds, several texts at once, questions asked before an answer is there, and a Python ended."""
    chance = random.Random(2027)
    base = "".join(chance.choices([*"abcdefgh", "\n", "é"], k=40_000))
    texts = [base, as_page(base + "🪱" * 3), as_page("".join(chance.choices(SIGNS, k=30_000)))]
    back = []
    monkeypatch.setitem(block._CALLS, "echo", lambda asked: {"given": asked, "put": back[0]})
    sizes, lacked, ended = [], 0, False
    for _ in range(150):
        if chance.random() < 0.05:
            ended = True  # another Python, of which the page does not know yet
            long._held.clear()
        asked, answers = [], []
        for _ in range(chance.choice([1, 1, 2])):
            found = chance.choices(texts[-9:], k=chance.choice([1, 1, 2, 3, 7]))
            text = edited(chance, found[0])
            texts.append(text if len(text) > 25_000 else base)
            args = {
                "text": text,
                "values": {f"v{at}": one for at, one in enumerate(found)},
                "more": [text, 1, None, "é"],
            }
            asked.append((args, chance.randrange(10**9), *page.pack(**args)))
        for args, seed, _, told in asked:
            sizes.append(len(told))
            back[:] = [edited(random.Random(seed), args["text"])]
            answers.append((args, back[0], respond("echo", told)))
        missed = 0
        for (_, _, number, _), (args, put, told) in zip(asked, answers):
            answer = page.unpacked(number, told)
            if answer.get("lacking"):
                assert ended
                missed, back[:] = missed + 1, [put]
                answer = page.ask("echo", **args)
            assert answer == {"given": args, "put": put}
        lacked, ended = lacked + missed, ended and not missed
    told_by_change = [size for size in sizes if size < 5_000]
    assert lacked and len(told_by_change) > 20, (lacked, len(told_by_change))


def test_what_is_asked_of_a_long_logbook_is_answered_as_of_the_whole(page):
    """Rows written, edited and taken out, another field, two copies compared, a table looked at, Python ended."""
    chance, asked = random.Random(18), {"calculator": "records.learn", "units": "us", "currency": "$"}
    rows = [
        f"2026-{at % 12 + 1:02}-{at % 28 + 1:02},North lane,{chance.choice(['feed', 'water'])},{at % 50 + 1},lb"
        for at in range(LINES)
    ]
    text, kept = "\n".join(["date,place,what,amount,unit", *rows]), None
    assert len(text) > long.LONG
    entry = {"date": "2026-12-30", "place": "Barn lane", "what": "feed", "amount": "44", "unit": "lb"}
    answers = []
    for step in range(24):
        lines = text.split("\n")
        at = chance.randrange(1, len(lines))
        if step % 6 == 1:
            lines[at] = "2026-05-01,North lane,feed,33,lb"
        elif step % 6 == 3:
            del lines[at : at + 3]
        elif step % 6 == 4:
            lines.insert(at, "2026-06-01,Attic 🪱,dance,1,lb")
        text = "\n".join(lines)
        if step % 9 == 5:
            long._held.clear()
            forget()
        if step % 7 == 6:
            page.tell(anew=True)
        values = {"log": text, **({"ration": "0.6"} if step > 12 else {})}
        values = {name: value for name, value in values.items() if name in calc.find("records.learn").inputs}
        more = {"values": values, "set": list(values), **({"kept": kept} if kept else {})}
        one = {
            0: ("write", {"entry": entry}),
            2: ("table", {"input": "log", "text": text, "read": True}),
            5: ("form", {"units_of": {}, "plan_currency": None}),
        }.get(step % 6, ("answer", {"raw": True}))
        call, args = one[0], asked | more | one[1]
        answer = page.ask(call, **args)
        answers.append((call, args, answer))
        if call == "write":
            text = answer["text"]
            kept = {"values": values, "units": "us"}
    for call, args, answer in answers:
        assert answer == whole(call, **args), call
    _, told = page.pack(**asked, values={"log": f"{text}\n2026-12-31,Barn lane,feed,45,lb"})
    assert len(told) < 500, "one row more is told by itself"


def test_a_number_that_means_nothing_is_asked_for_and_never_guessed():
    long._held.clear()
    by_number = {"calculator": "records.learn", "units": "us", "values": {"log": {long.NAME: 7}}}
    lacking = {"lacking": True}
    assert json.loads(respond("answer", json.dumps(by_number | {long.NAMES: {"fresh": [], "held": [7]}}))) == lacking
    fresh = [[7, "a" * 30_000], [8, {"of": 7, "start": 1, "end": 1, "put": "b", "length": 30_000}]]
    assert json.loads(respond("answer", json.dumps(by_number | {long.NAMES: {"fresh": fresh, "held": [7]}}))) == lacking
