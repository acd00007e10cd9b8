"""A place on the earth by its latitude, with longitude and altitude where they are known. Nothing is looked up."""

from __future__ import annotations

import re
from dataclasses import dataclass
from random import Random
from typing import Any

from calc.engine.kinds.base import Kind
from calc.engine.quantity import UnknownUnit, field_text, number_text, quantity_text, read_number, read_quantity
from calc.engine.told import Told, as_written

LOWEST, HIGHEST = -430.0, 9000.0
"""Altitudes of dry land [m], a little widened: the shore of the Dead Sea, the top of Everest (both recalled)."""
LONGEST_PLACE = 100
_ANGLE = re.compile(
    r"""\s*(?P<sign>[-−+])?\s*(?P<degrees>\d{1,3}(?:[.]\d+)?)\s*(?:°|º|deg(?:rees?)?\b)?\s*
        (?:(?P<minutes>\d{1,2}(?:[.]\d+)?)\s*(?:['′]|min\b)\s*)?
        (?:(?P<seconds>\d{1,2}(?:[.]\d+)?)\s*(?:["″]|''|sec\b)\s*)?
        (?P<side>north|south|east|west|[nsew])?\b\.?""",
    re.IGNORECASE | re.VERBOSE,
)


@dataclass(frozen=True)
class Site:
    """Latitude [deg, north above 0], longitude [deg, east above 0] and altitude [m] of a place; None where not
    given.
    """

    latitude: float
    longitude: float | None = None
    altitude: float | None = None

    def as_json(self) -> dict[str, float | None]:
        return {"latitude": self.latitude, "longitude": self.longitude, "altitude": self.altitude}


@dataclass(frozen=True)
class Place(Kind):
    """A place: `45 N`, `45.1, 7.2`, `45°30′ N, 7°12′ E, 300 m`, `45 N, 1000 ft`."""

    label: str
    help: str = ""
    group: str = ""
    optional: bool = False

    def read(self, written: Any, system: str | None, currency: str) -> Site:
        if isinstance(written, Site):
            return self._within(written)
        if isinstance(written, dict):
            return self._from_object(written)
        if isinstance(written, (list, tuple)):
            written = ", ".join(str(part) for part in written)
        text = str(written)
        if len(text) > LONGEST_PLACE:
            raise Told(self._like())
        text = re.sub(r"(?<=\d),(?=\d+\s*[;°NSEWnsew])", ".", text) if ";" in text or text.count(",") == 1 else text
        parts = [part for part in re.split(r"[;,]\s*|\n", text) if part.strip()]
        if len(parts) == 1:  # 45 N 7 E
            parts = [part for part in re.split(r"(?<=[NSEWnsew])\s+(?=\d)", text) if part.strip()]
        return self._from_parts(parts)

    def _like(self) -> str:
        return f"{self.label} must be a latitude, such as 45 N, or latitude and longitude, such as 45.1, 7.2."

    def _from_object(self, written: dict[Any, Any]) -> Site:
        try:
            known = {
                key: None if written.get(key) is None else float(written[key]) for key in Site.__dataclass_fields__
            }
        except (TypeError, ValueError, OverflowError):
            raise Told(self._like()) from None
        if known["latitude"] is None:
            raise Told(self._like())
        return self._within(Site(known["latitude"], known["longitude"], known["altitude"]))

    def _from_parts(self, parts: list[str]) -> Site:
        found: dict[str, float] = {}
        for part in parts:
            which, number = self._part(part.strip(), found)
            if which in found:
                raise Told(f"{self.label} has two figures for its {which}. Write one, such as 45 N, 7 E, 300 m.")
            found[which] = number
        if "latitude" not in found:
            raise Told(self._like())
        return self._within(Site(found["latitude"], found.get("longitude"), found.get("altitude")))

    def _part(self, part: str, found: dict[str, float]) -> tuple[str, float]:
        """(which, number) of one part: an angle with its side, a bare number in its place, or a height with its
        unit.
        """
        match = _ANGLE.fullmatch(part)
        if match:
            angle = float(match["degrees"]) + float(match["minutes"] or 0) / 60 + float(match["seconds"] or 0) / 3600
            side = (match["side"] or "")[:1].lower()
            if match["sign"] in ("-", "−"):
                if side:
                    raise Told(f"{self.label}: write {as_written(part)} with a sign or with its side, not with both.")
                angle = -angle
            if side:
                which = "latitude" if side in "ns" else "longitude"
                return which, -angle if side in "sw" else angle
            return "longitude" if "latitude" in found else "latitude", angle
        try:
            read_number(part)
            return "altitude", read_quantity(part, "m", "m")
        except (ValueError, UnknownUnit, OverflowError):
            raise Told(f"“{as_written(part)}” is neither an angle nor a height. {self._like()}") from None

    def _within(self, site: Site) -> Site:
        if not -90 <= site.latitude <= 90:
            raise Told(f"{self.label}: latitude must be between 90 S and 90 N.")
        if site.longitude is not None and not -180 <= site.longitude <= 180:
            raise Told(f"{self.label}: longitude must be between 180 W and 180 E.")
        if site.altitude is not None and not LOWEST <= site.altitude <= HIGHEST:
            raise Told(f"{self.label}: altitude must be between {LOWEST:,.0f} and {HIGHEST:,.0f} m.".replace("-", "−"))
        return site

    def text(self, value: Any, system: str | None, currency: str = "$") -> str:
        if value is None:
            return ""
        parts = [_side(value.latitude, "N", "S", field_text)]
        if value.longitude is not None:
            parts.append(_side(value.longitude, "E", "W", field_text))
        if value.altitude is not None:
            parts.append(f"{field_text(value.altitude)} m")
        return ", ".join(parts)

    def words(self, value: Any, system: str | None = None, currency: str = "$") -> str:
        if value is None:
            return "–"
        parts = [_side(value.latitude, "N", "S", lambda angle: number_text(angle, 4) + "°")]
        if value.longitude is not None:
            parts.append(_side(value.longitude, "E", "W", lambda angle: number_text(angle, 4) + "°"))
        if value.altitude is not None:
            parts.append(quantity_text(value.altitude, "m", "ft" if system == "us" else "m"))
        return ", ".join(parts)

    def random_value(self, chance: Random) -> Any:
        longitude = chance.choice([None, chance.uniform(-180, 180)])
        return Site(chance.uniform(-90, 90), longitude, chance.choice([None, chance.uniform(LOWEST, HIGHEST)]))


def _side(angle: float, above: str, below: str, text: Any) -> str:
    return f"{text(abs(angle))} {below if angle < 0 else above}"
