"""Numbers that are kept as text, a line for each place, and compared with what stands there now.

A correction moves a number a little, and passes; a slip of the pen moves it tenfold, or turns its sign, and is told.
"""

import sys

APART = 8.0
"""Two numbers are one and the same, corrected, when neither is so many times the other."""
OFFSET = ("degC", "degF")
FAR = 8.0
"""The same for temperatures, which have no zero of their own [K]."""


def lines_of(path):
    """{place: (unit, numbers)} as they were when they were last looked through."""
    rows = (line.split(": ", 1) for line in path.read_text(encoding="utf-8").splitlines() if line)
    return {place: (words.split()[0], [float(word) for word in words.split()[1:]]) for place, words in rows}


def changed(path, now):
    """{place: (then, now)} of what is written down and is another thing now; a new place is let be."""
    known = lines_of(path)
    return {
        place: (known[place], there)
        for place, there in now.items()
        if place in known and not alike(known[place], there)
    }


def alike(then, now):
    """Whether a unit is the same and each number near what it was; more or fewer numbers are let be."""
    (unit, before), (same, after) = then, now
    return unit == same and (
        len(before) != len(after) or all(near(one, other, unit) for one, other in zip(before, after, strict=True))
    )


def near(then, now, unit):
    if unit in OFFSET:
        return abs(then - now) < FAR
    if not then or not now:
        return abs(then - now) < 1e-6 + 0.25 * max(abs(then), abs(now), 1.0)
    return 1 / APART < then / now < APART


def write(path, now):
    lines = (
        f"{place}: {' '.join([unit, *(f'{number:.6g}' for number in numbers)])}\n"
        for place, (unit, numbers) in now.items()
    )
    path.write_text("".join(lines), encoding="utf-8")
    sys.stdout.write(f"{len(now)} places\n")
