"""Two copies of one logbook, of the phone and of the office say, put together row by row."""

from collections import Counter
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any, NamedTuple

from calc.farm.tables import FARM_LOG, Row

ALIKE = 1e-6
"""Amounts that differ by less than this share are one: a file holds nine digits."""


class Merged(NamedTuple):
    """The rows of both in order of days, and a sentence for each pair that says two things of one act."""

    rows: list[Row]
    conflicts: list[str]


def _plain(value: Any) -> Any:
    if isinstance(value, (datetime, date)):
        return value.isoformat()[:16]
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(f"{value:.6g}")
    return " ".join(str(value or "").casefold().split())


def _day(value: Any) -> str:
    return value.isoformat()[:10] if isinstance(value, (datetime, date)) else str(value)[:10]


def _key(row: Row) -> tuple[Any, ...]:
    return tuple(_plain(row.get(name)) for name in FARM_LOG)


def lacking(first: Sequence[Row], second: Sequence[Row]) -> list[Row]:
    """The rows of the second copy that the first one lacks; a row that stands twice in one copy was done twice."""
    there = Counter(_key(row) for row in first)
    found = []
    for row in second:
        key = _key(row)
        if there[key] > 0:
            there[key] -= 1
        else:
            found.append(row)
    return found


def alike_acts(first: Sequence[Row], second: Sequence[Row]) -> list[str]:
    """A sentence for each pair of rows, one of each copy alone, that say two amounts of one act."""
    own = [{_act(row): row for row in lacking(other, copy)} for copy, other in ((first, second), (second, first))]
    return [
        f"{_day(row['date'])}, {row.get('place') or 'shed'}, {row.get('what')}: one copy says {_said(row)}, the other"
        f" {_said(own[1][act])}. Both are kept: take out the one that is wrong."
        for act, row in own[0].items()
        if act in own[1] and not _alike(row.get("amount"), own[1][act].get("amount"))
    ]


def merged(first: Sequence[Row], second: Sequence[Row]) -> Merged:
    """Both copies as one, in order of days.

    The same row in both is one row; a row that stands twice in one copy was done twice, and stays twice. Where each
    copy has a row of its own for the same day, place, word, unit and note, with another amount, both are kept and the
    pair is told.
    """
    rows = [*first, *lacking(first, second)]
    rows.sort(key=lambda row: _day(row["date"]))
    return Merged(rows, alike_acts(first, second))


def _act(row: Row) -> tuple[Any, ...]:
    """What makes two rows speak of one act: day, place, word, unit and note."""
    return (_day(row["date"]), *(_plain(row.get(name)) for name in ("place", "what", "unit", "note")))


def _alike(one: Any, other: Any) -> bool:
    if one is None or other is None:
        return one is other
    return bool(abs(one - other) <= ALIKE * max(abs(one), abs(other)))


def _said(row: Row) -> str:
    amount = row.get("amount")
    return f"{amount:.6g} {row.get('unit') or ''}".strip() if amount is not None else "no amount"
