"""Dates as a calendar file, RFC 5545."""

import hashlib
import re
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from calc.engine.describe import Event


def identities(events: Sequence[Event], name: str, called: str = "") -> list[str]:
    """What a calendar knows each event by: read in again, it is moved and not doubled (RFC 5545, 3.8.4.7).

    An event's own key, else its number among those of its kind: the third feeding stays the third when its day or
    weight changes.
    called: the lane's or room's own name, so that two of them stay apart.
    """
    seen: dict[str, int] = {}
    found = []
    for event in events:
        kind = event.key or re.sub(r"[\d.,]+", "#", event.summary)
        seen[kind] = seen.get(kind, 0) + 1
        digest = hashlib.sha256(f"{name}|{called}|{kind}|{seen[kind]}".encode(errors="replace"))
        found.append(digest.hexdigest()[:24])
    return found


def calendar_text(events: Sequence[Event], name: str, called: str = "") -> str:
    """iCalendar text of all-day events; the same events always give the same bytes (no clock is asked).

    called: the name of the lane or room, before every summary.
    """
    events = sorted(events, key=lambda event: (event.day, event.summary))
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//composting worms handbook//calc//EN",
        f"X-WR-CALNAME:{_escaped(f'{called}: {name}' if called else name)}",
    ]
    for event, key in zip(events, identities(events, name, called)):
        lines += [
            "BEGIN:VEVENT",
            f"UID:{key}@handbook.invalid",
            f"DTSTAMP:{_date(event.day)}T000000Z",
            f"DTSTART;VALUE=DATE:{_date(event.day)}",
            f"DTEND;VALUE=DATE:{_date(_day_after(event))}",
            f"SUMMARY:{_escaped(f'{called}: {event.summary}' if called else event.summary)}",
        ]
        if event.description:
            lines.append(f"DESCRIPTION:{_escaped(event.description)}")
        lines += ["TRANSP:TRANSPARENT", "END:VEVENT"]
    lines.append("END:VCALENDAR")
    return "\r\n".join(part for line in lines for part in _folded(line)) + "\r\n"


def _date(day: date) -> str:
    return f"{day.year:04}{day:%m%d}"  # %Y alone leaves out leading zeros on some systems


def _day_after(event: Event) -> date:
    """The first day that the event no longer covers; the calendar itself ends with the year 9999."""
    return event.day + min(timedelta(days=event.days), date.max - event.day)


def _escaped(text: str) -> str:
    """A TEXT value (RFC 5545, 3.3.11): line ends written out, no other control characters, and nothing that is no
    character.
    """
    text = (
        re.sub(r"[\x00-\x08\x0b-\x1f\x7f]", "", text.replace("\r\n", "\n").replace("\r", "\n"))
        .encode(errors="replace")
        .decode()
    )
    return text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def _folded(line: str) -> Iterator[str]:
    """Content lines of at most 75 octets (RFC 5545, 3.1), never split inside a character."""
    part, size, limit = "", 0, 75
    for character in line:
        width = len(character.encode())
        if size + width > limit:
            yield part
            part, size = " ", 1
        part += character
        size += width
    yield part
