"""The heaps that the feed of a lane comes from: how much a heap leaves, and when each of a year has to be made."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from calc.engine import YARD3
from calc.facts import lane as facts
from calc.lane.model import Day, LanePlan, follow
from calc.lane.questions import SPAN, whole_day

LEAST_HEAP = YARD3
"""Fresh mix that heats by itself, at least [m³]; common practice, no source."""
HEAP_LASTS = 14
"""Days of feed that a heap is made for at least: a lane that eats more has larger heaps, not one each day; our own
judgement, no source.
"""


class Heap(NamedTuple):
    """A heap of fresh mix."""

    made: date
    ready: date
    """Cool, and wanted on the face."""
    volume: float
    """Of the fresh mix [m³]."""
    feed: float
    """That it leaves, as it is weighed for the face [kg]."""


def fresh_volume(plan: LanePlan, feed: float) -> float:
    """Fresh mix to pile up for so much feed [m³]: what heat takes of its dry matter is lost.

    feed [kg] at the feed's own moisture. Source: balance of dry matter; what a cubic metre of mix leaves is judged.
    """
    return feed * (1 - plan.feed_moisture) / facts.HEAP_LEAVES.typical


def feed_of_heap(plan: LanePlan, volume: float) -> float:
    """Feed that a heap leaves [kg], of so much fresh mix [m³]; the inverse of fresh_volume."""
    return volume * facts.HEAP_LEAVES.typical / (1 - plan.feed_moisture)


def heaps(plan: LanePlan, heap_days: float, days: int = 365) -> list[Heap]:
    """Each heap that the layers of so many days are laid from, the first one first.

    Each is ready on the day on which the last one runs out, and made heap_days [day] before. It is as small as heats,
    or what the next HEAP_LASTS days take.
    """
    return _heaps(plan, heap_days, [day for day in follow(plan, max(SPAN, days))[: days + 1] if day.laid])


def _heaps(plan: LanePlan, heap_days: float, layers: Sequence[Day]) -> list[Heap]:
    found: list[Heap] = []
    left = 0.0
    for place, layer in enumerate(layers):
        if layer.laid > left + 1e-9:
            until = layer.day + HEAP_LASTS
            wanted = sum(later.laid for later in layers[place:] if later.day < until) - left
            volume = max(LEAST_HEAP, fresh_volume(plan, wanted))
            ready = layer.on(plan)
            found.append(Heap(whole_day(ready, -heap_days), ready, volume, feed_of_heap(plan, volume)))
            left += found[-1].feed
        left -= layer.laid
    return found
