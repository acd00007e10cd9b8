"""The farm's own figures of a lane and of a tray: what was set on their own pages, or learnt from the logbook, counts
on the farm's pages too.
"""

import functools
import inspect
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Annotated, Any, NamedTuple, ParamSpec, TypeVar, get_args

from calc.breeding.trays import trays
from calc.lane.asked import check_ash, lane_form
from calc.lane.model import LanePlan
from calc.lane.output import output

P = ParamSpec("P")
A = TypeVar("A")

OF_LANES = {
    "layer_thickness": "layer_thickness",
    "gap": "gap",
    "feed_bulk_density": "feed_bulk_density",
    "volume_kept": "volume_kept",
    "dry_matter_kept": "dry_matter_kept",
    "water_per_area_per_day": "water_per_area_per_day",
    "screen_product_share": "product_share",
    "hours_per_feeding": "hours_per_feeding",
    "hours_per_slice": "hours_per_slice",
    "screened_per_hour": "screened_per_hour",
}
"""{input: field of a lane's plan} that all lanes of a farm have in common."""
OF_TRAYS = (
    "breeders_mass_per_tray",
    "breeders_per_mass",
    "cocoons_per_worm_per_week",
    "breeding_days",
    "incubation_days",
    "growing_days",
    "sale_worms_per_mass",
    "hatch_share",
    "hatchlings_per_cocoon",
    "survival",
    "sorting_loss",
    "replaced_share",
    "growout_trays_per_tray",
    "minutes_per_tray_per_day",
    "sorting_minutes_per_tray",
)
"""Inputs of the page about trays on which worms, days and hours of a tray hang."""
LANE_GROUP, TRAY_GROUP = "All your lanes, as on their pages", "Your trays, as on their page"


class Own(NamedTuple):
    """The farm's own figures, (name, value) each: of lanes by the fields of a lane's plan, of trays by the inputs."""

    lane: tuple[tuple[str, float], ...] = ()
    tray: tuple[tuple[str, float], ...] = ()


USUAL = Own()


def own_of(given: Mapping[str, Any]) -> Own:
    """The own figures among a farm page's inputs; those that are not given are as usual.

    Raises Refused where no lane can have them.
    """
    own = Own(
        tuple((field, given[name]) for name, field in OF_LANES.items() if name in given),
        tuple((name, given[name]) for name in OF_TRAYS if name in given),
    )
    check_ash(any_lane(own))
    return own


@lru_cache(maxsize=64)
def any_lane(own: Own = USUAL) -> LanePlan:
    """A lane with the farm's own figures, its size as usual: for what does not hang on its size."""
    return LanePlan(**dict(own.lane))  # type: ignore[arg-type]


def _inputs() -> list[inspect.Parameter]:
    """Those figures, as their own pages describe them, folded away."""
    found = []
    for functions, names, group in (
        ((lane_form, output.calculator.function), OF_LANES, LANE_GROUP),
        ((trays.calculator.function,), OF_TRAYS, TRAY_GROUP),
    ):
        described = {name: one for f in reversed(functions) for name, one in inspect.signature(f).parameters.items()}
        for name in names:
            kind, description = get_args(described[name].annotation)
            annotation = Annotated[kind, replace(description, group=group)]  # type: ignore[valid-type]
            found.append(described[name].replace(annotation=annotation, kind=inspect.Parameter.KEYWORD_ONLY))
    return found


def with_own_figures(function: Callable[P, A]) -> Callable[P, A]:
    """Let a farm page ask for them. Under @calculator; the function takes them as keywords (`**figures`)."""
    own = inspect.signature(function)
    stated = [p for p in own.parameters.values() if p.kind is not inspect.Parameter.VAR_KEYWORD]

    @functools.wraps(function)
    def widened(*args: P.args, **values: P.kwargs) -> A:
        return function(*args, **values)

    widened.__signature__ = own.replace(parameters=[*stated, *_inputs()])  # type: ignore[attr-defined]
    return widened
