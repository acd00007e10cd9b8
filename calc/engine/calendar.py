"""Dates as a calendar file, RFC 5545."""

import hashlib
from datetime import timedelta


def calendar_text(events, name):
    """iCalendar text of all-day events; the same events always give the same bytes (no clock is asked)."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//composting worms handbook//calc//EN", f"X-WR-CALNAME:{_escaped(name)}"]
    for event in sorted(events, key=lambda event: (event.day, event.summary)):
        key = hashlib.sha256(f"{name}|{event.day}|{event.summary}|{event.description}".encode()).hexdigest()[:24]
        lines += ["BEGIN:VEVENT", f"UID:{key}@handbook.invalid", f"DTSTAMP:{event.day:%Y%m%d}T000000Z",
                  f"DTSTART;VALUE=DATE:{event.day:%Y%m%d}", f"DTEND;VALUE=DATE:{event.day + timedelta(days=event.days):%Y%m%d}",
                  f"SUMMARY:{_escaped(event.summary)}"]  # fmt: skip
        if event.description:
            lines.append(f"DESCRIPTION:{_escaped(event.description)}")
        lines += ["TRANSP:TRANSPARENT", "END:VEVENT"]
    lines.append("END:VCALENDAR")
    return "\r\n".join(part for line in lines for part in _folded(line)) + "\r\n"


def _escaped(text):
    return text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def _folded(line):
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
