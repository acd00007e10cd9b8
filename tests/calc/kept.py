"""What is kept as text, a line for each place, and compared with what stands there now."""

import sys


def lines_of(path):
    """{place: what stood there when it was last looked through}."""
    return dict(line.split(": ", 1) for line in path.read_text(encoding="utf-8").splitlines() if line)


def changed(path, now):
    """{place: (then, now)} of places that are written down and differ; a new place is written down at the next turn."""
    known = lines_of(path)
    return {place: (known[place], words) for place, words in now.items() if known.get(place, words) != words}


def write(path, now):
    path.write_text("".join(f"{place}: {words}\n" for place, words in now.items()), encoding="utf-8")
    sys.stdout.write(f"{len(now)} places\n")


def value(part):
    """A value as it is written down: numbers to six digits, texts on one line, functions and works by their names."""
    if isinstance(part, float):
        return f"{part:.6g}"
    if isinstance(part, (tuple, list, dict)):
        return f"{len(part)} of them" if len(part) > 40 else "/".join(value(one) for one in part)
    return " ".join(str(getattr(part, "__name__", part)).split())
