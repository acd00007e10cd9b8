"""How a farm of full size answers, against the demo farm, in one process: forty lanes, thirty products, four rooms with
five hundred batches of trays, and two years of a logbook with twenty thousand rows. Processor time of CPython.
"""

import json
import random
import time
from datetime import date, timedelta

LANES, PRODUCTS, ROOMS, ROWS, DAYS = 40, 30, 4, 20_000, 730
TODAY = date(2027, 5, 31)
PAGES = ("farm.week", "farm.stock", "farm.money", "records.learn")
REPEATS = 5


def tables():
    """{input: text} of such a farm, seeded."""
    import calc
    from calc.farm import tables as demo

    chance, inputs = random.Random(20270531), calc.find("farm.week").inputs
    lanes = [
        demo.LANES[at % 2] | {"name": f"Lane {at + 1}", "started": date(2023, 1, 1) + timedelta(days=30 * at)}
        for at in range(LANES)
    ]
    rooms = [demo.ROOMS[0] | {"name": f"Room {at + 1}"} for at in range(ROOMS)]
    products = [
        demo.PRODUCTS[at % 4] | {"name": f"Product {at + 1}", "unit": f"sort{at + 1}"} for at in range(PRODUCTS)
    ]
    lines = ["date,place,what,amount,unit"]
    for at in range(ROWS):
        day = TODAY - timedelta(days=DAYS - at * DAYS // ROWS)
        lane, room, sort = (chance.randint(1, most) for most in (LANES, ROOMS, PRODUCTS))
        weeks, row = (at * DAYS // ROWS) // 7, at % 10
        if at // 40 != (at - 1) // 40 and weeks:  # about five hundred batches
            lines.append(f"{day},Room {room},trays,3,trays")
        elif row < 4:
            lines.append(f"{day},Lane {lane},feed,{chance.randint(20, 90)},lb")
        elif row < 6:
            lines.append(f"{day},Lane {lane},temperature,{chance.randint(50, 75)},F")
        elif row < 7:
            lines.append(f"{day},Lane {lane},water,{chance.randint(2, 9)},gal")
        elif row < 8:
            lines.append(f"{day},shed,sold,{chance.randint(1, 5)},sort{sort}")
        else:
            lines.append(f"{day},shed,screened,{chance.randint(100, 400)},lb")
    found = {
        name: inputs[name].text(rows, "us")
        for name, rows in (("lanes", lanes), ("rooms", rooms), ("products", products))
    }
    return found | {"log": "\n".join(lines)}


def seconds(id, values):
    """Processor time of one answer as the page asks for it [s]."""
    from calc.page import respond

    asked = json.dumps({"calculator": id, "values": values, "set": list(values), "units": "us", "currency": "$"})
    start = time.process_time()
    answer = json.loads(respond("answer", asked))
    took = time.process_time() - start
    if not answer["ok"]:
        raise SystemExit(f"{id}: {answer['errors']}")
    return took


def edited(inputs, values, text):
    """The same values with one number or day changed."""
    name = "opening_cash" if "opening_cash" in inputs else "today" if "today" in inputs else "monthly_temperature"
    value = (TODAY - timedelta(days=int(text))).isoformat() if name == "today" else text
    return values | {name: ", ".join([f"{text} C"] * 12) if name == "monthly_temperature" else value}


def table():
    """Markdown: the first answer, an edit, and one row more in the logbook of each page, the edit also against the demo
    farm's.
    """
    import calc

    full = tables()
    lines = [
        "| Page | first answer | an edit | against the demo farm's edit | a row more |",
        "| --- | --- | --- | --- | --- |",
    ]
    for id in PAGES:
        inputs = calc.find(id).inputs
        given = {name: text for name, text in full.items() if name in inputs}
        first = seconds(id, given)
        edits = [f"{price}" for price in range(20, 20 + REPEATS)]
        ours = sorted(seconds(id, edited(inputs, given, text)) for text in edits)[REPEATS // 2]
        demo = sorted(seconds(id, edited(inputs, {}, text)) for text in edits)[REPEATS // 2]
        log, rows = given["log"], []
        for text in edits:
            log += f"\n{TODAY},Lane 3,feed,{text},lb"
            rows.append(seconds(id, given | {"log": log}))
        lines.append(
            f"| {id} | {1000 * first:.0f} ms | {1000 * ours:.0f} ms | {ours / demo:.1f} |"
            f" {1000 * sorted(rows)[REPEATS // 2]:.0f} ms |"
        )
    return "\n".join(lines)
