"""The books of a lane: what came in, went out, was lost on the way and lies in the bed, of dry matter, water, ash and
volume.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from calc.facts import climate
from calc.lane.model import Day, LanePlan, base_parcel, castings_parcel, parcels


@dataclass(frozen=True)
class Flow:
    """One column of the books: in = out + lost + stored; [kg], of volume [m³]."""

    came_in: float
    went_out: float
    lost: float
    stored: float

    @property
    def gap(self) -> float:
        """What the books do not account for; nothing, but for the last digits."""
        return self.came_in - self.went_out - self.lost - self.stored


@dataclass(frozen=True)
class Account:
    """The books of a lane between two days, with the heat given off [MJ], the hours worked and the money."""

    dry_matter: Flow
    water: Flow
    ash: Flow
    volume: Flow
    heat: float
    hours: float
    money_in: float
    money_out: float

    @property
    def flows(self) -> dict[str, Flow]:
        """The four columns that must close."""
        return {"dry_matter": self.dry_matter, "water": self.water, "ash": self.ash, "volume": self.volume}


def account(plan: LanePlan, days: Sequence[Day], first: int = 0, last: int | None = None) -> Account:
    """The books from the morning of day `first` to the morning of day `last` (the last of `days` when None).

    plan: as followed, in its case (calc.lane.model.in_case). On day 0 the base and its water come in, and nothing lay
    there before.
    """
    last = len(days) - 1 if last is None else last
    span = days[first:last]
    laid, eaten = sum(day.laid for day in span), sum(day.eaten for day in span)
    shares, base = plan.shares, plan.base
    feed_dry = laid * (1 - plan.feed_moisture)
    cut_moisture = min(plan.wetted_moisture, plan.castings_moisture)
    out = (
        castings_parcel(sum(day.sliced_castings for day in span), shares),
        base_parcel(sum(day.sliced_base for day in span), plan, cut_moisture, base),
    )
    bought = first == 0
    before = () if bought else tuple(parcels(plan, days[first]).values())
    after = tuple(parcels(plan, days[last]).values())

    def stored(part: str) -> float:
        change: float = sum(getattr(parcel, part) for parcel in after) - sum(getattr(parcel, part) for parcel in before)
        return change

    def gone(part: str) -> float:
        total: float = sum(getattr(parcel, part) for parcel in out)
        return total

    return Account(
        dry_matter=Flow(
            feed_dry + bought * base.dry_matter,
            gone("dry_matter"),
            sum(day.breathed for day in span),
            stored("dry_matter"),
        ),
        water=Flow(
            laid * plan.feed_moisture + sum(day.watered for day in span) + bought * (base.water + plan.base_water),
            gone("water"),
            sum(day.evaporated for day in span),
            stored("water"),
        ),
        ash=Flow(feed_dry * plan.feed_ash + bought * base.ash, gone("ash"), 0.0, stored("ash")),
        volume=Flow(
            laid / plan.feed_bulk_density + bought * base.volume,
            gone("volume"),
            eaten / plan.feed_bulk_density * (1 - plan.volume_kept),
            stored("volume"),
        ),
        heat=sum(day.breathed for day in span) * climate.HEAT_OF_COMBUSTION.typical,
        hours=sum(day.hours for day in span),
        money_in=sum(day.money_in for day in span),
        money_out=sum(day.money_out for day in span),
    )
