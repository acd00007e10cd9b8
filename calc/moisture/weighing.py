"""What is the moisture of this sample?"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from calc.engine import (
    Answer,
    Axis,
    Column,
    Figure,
    Log,
    Mark,
    Number,
    Output,
    Part,
    Problem,
    Refused,
    Rows,
    RowsPart,
    Share,
    Show,
    Step,
    Table,
    Text,
    View,
    calculator,
    numbered,
    of_rows,
    presents,
)
from calc.facts import moisture as facts
from calc.moisture import samples as weighed


@dataclass(frozen=True)
class Tested(Answer):
    moisture_wet_basis: Annotated[
        float,
        Output("1", "Moisture", "Mean of the samples: water over the whole weight.", us="%", metric="%", main=True),
    ]
    interval_low: Annotated[
        float | None,
        Output(
            "1",
            "Likely at least",
            "Lower end of the 95 % interval of the mean; needs two samples.",
            us="%",
            metric="%",
            main=True,
        ),
    ]
    interval_high: Annotated[
        float | None,
        Output(
            "1",
            "Likely at most",
            "Upper end of the 95 % interval of the mean; needs two samples.",
            us="%",
            metric="%",
            main=True,
        ),
    ]
    moisture_dry_basis: Annotated[
        float,
        Output("1", "Moisture, dry basis", "Water over dry weight, as soil laboratories say it.", us="%", metric="%"),
    ]
    dry_enough: Annotated[
        bool | None,
        Output(
            "1",
            "Dry enough?",
            "Whether the last drying took off no more than the limit; unknown without repeated weighings.",
        ),
    ]
    spread: Annotated[
        float | None,
        Output("1", "Spread between samples", "Standard deviation; needs two samples.", us="%", metric="%"),
    ]
    samples_wanted: Annotated[
        int | None,
        Output("1", "Samples for the precision wanted", "If the bed is as uneven as these samples; needs two of them."),
    ]
    still_to_lose: Annotated[
        float | None,
        Output("kg", "Water still in the sample", "Where the last three dryings are heading.", us="g", metric="g"),
    ]


def sample_problems(samples: Sequence[dict[str, Any]], dryings: Sequence[dict[str, Any]]) -> list[Problem]:
    """What cannot be true of the weighings: (input, message) pairs, rows counted as the reader sees them."""
    problems: list[Problem] = []
    if not samples:
        problems.append(
            ("samples", "Give at least one sample: the container empty, with the wet sample, and with the dried one.")
        )
    for number, row in numbered(samples):
        if row["wet"] <= row["tare"]:
            told = "the wet weight is not above that of the empty container."
            problems.append(("samples", of_rows(number, told, "wet", "tare")))
        elif row.get("dry") is None:
            if not (len(samples) == 1 and dryings):
                told = "the dry weight is missing. Only a single sample can take it from repeated dryings."
                problems.append(("samples", of_rows(number, told, "dry")))
        elif row["dry"] > row["wet"]:
            problems.append(
                ("samples", of_rows(number, "the dry weight is above the wet one: swap them?", "dry", "wet"))
            )
        elif row["dry"] <= row["tare"]:
            told = "the dry weight is not above that of the empty container."
            problems.append(("samples", of_rows(number, told, "dry", "tare")))
    if dryings and len(samples) > 1:
        problems.append(("dryings", "Repeated dryings belong to one sample: leave only that row among the samples."))
    if dryings and len(samples) == 1 and not problems:
        row = samples[0]
        for number, drying in numbered(dryings):
            if drying["weight"] <= row["tare"]:
                told = "the weight is not above that of the empty container."
                problems.append(("dryings", of_rows(number, told, "weight")))
            elif drying["weight"] > row["wet"]:
                problems.append(("dryings", of_rows(number, "the weight is above that of the wet sample.", "weight")))
    return problems


def dried_masses(samples: Sequence[dict[str, Any]], dryings: Sequence[dict[str, Any]]) -> list[float]:
    """Mass of the sample without its container before and after each drying [kg]."""
    tare = samples[0]["tare"]
    return [samples[0]["wet"] - tare, *(drying["weight"] - tare for drying in dryings)]


def moistures_of(samples: Sequence[dict[str, Any]], dryings: Sequence[dict[str, Any]]) -> list[float]:
    """Moisture of each sample, wet basis [-]; a single one without a dry weight takes the last of its dryings."""
    last = dryings[-1]["weight"] if dryings else 0.0  # only a sample with dryings lacks its own
    return [
        weighed.moisture_of_sample(row["tare"], row["wet"], last if row.get("dry") is None else row["dry"])
        for row in samples
    ]


@calculator(
    "moisture.test",
    "What is the moisture of this sample?",
    samples=200,
    leads={
        "moisture.adjust": {"moisture": "moisture_wet_basis"},
        "climate.today": {"top_moisture": "moisture_wet_basis"},
        "harvest.dry_down": {"moisture_before": "moisture_wet_basis"},
    },
)
def test(
    samples: Annotated[
        Sequence[dict[str, Any]],
        Rows(
            "Samples",
            {
                "sample": Text("Where from", optional=True),
                "tare": Number("kg", "Empty container", 0, 1000, us="g", metric="g"),
                "wet": Number("kg", "With the wet sample", 0, 1000, us="g", metric="g"),
                "dry": Number("kg", "With the dried sample", 0, 1000, us="g", metric="g", optional=True),
            },
            help=(
                "Weights with the container. Three samples or more tell how sure the mean is. The dry weight of a"
                " single sample may come from the dryings below."
            ),
        ),
    ] = (
        {"sample": "face, left", "tare": 0.052, "wet": 0.160, "dry": 0.078},
        {"sample": "face, middle", "tare": 0.050, "wet": 0.155, "dry": 0.073},
        {"sample": "face, right", "tare": 0.053, "wet": 0.163, "dry": 0.082},
    ),
    dryings: Annotated[
        Sequence[dict[str, Any]],
        Log(
            "Repeated dryings of one sample",
            {"time": Text("Time"), "weight": Number("kg", "Weight with container", 0, 1000, us="g", metric="g")},
            help="Hours of drying, or times, and the weight with its container. Blank: dried once.",
            optional=True,
        ),
    ] = (),
    constant_mass_limit: Annotated[
        float,
        Share(
            "Dry when a drying takes off no more than",
            0.0,
            0.05,
            help="Of the sample before it. One part in a thousand is usual; to see it takes a scale of 0.01 g.",
            fact=facts.CONSTANT_MASS_LIMIT,
        ),
    ] = 0.001,
    wanted_half_width: Annotated[
        float,
        Share(
            "How near the mean should be",
            0.002,
            0.5,
            help="Half the width of the 95 % interval you would like, in points of moisture.",
        ),
    ] = 0.03,
) -> Tested:
    """Moisture of samples by drying, their mean with a 95 % interval, and whether drying has come to its end.

    Source: definition of wet-basis moisture; Student's t for the interval; constant mass as ASTM D4643 puts it.
    """
    problems = sample_problems(samples, dryings)
    if problems:
        raise Refused(problems)
    moistures = moistures_of(samples, dryings)
    mean = weighed.mean(moistures)
    several = len(moistures) > 1
    half = weighed.half_interval(moistures) if several else 0.0
    spread = weighed.standard_deviation(moistures) if several else 0.0
    masses = dried_masses(samples, dryings) if dryings else []
    changes = weighed.drying_changes(masses)
    dry_enough = abs(changes[-1]) <= constant_mass_limit if len(changes) >= 2 else None
    heading = weighed.final_mass(masses) if len(masses) >= 3 and not dry_enough else None
    return Tested(
        moisture_wet_basis=mean,
        interval_low=max(0.0, mean - half) if several else None,
        interval_high=min(1.0, mean + half) if several else None,
        moisture_dry_basis=weighed.dry_basis(mean),
        dry_enough=dry_enough,
        spread=spread if several else None,
        samples_wanted=weighed.samples_for(spread, wanted_half_width) if several else None,
        still_to_lose=masses[-1] - heading if heading is not None else None,
    )


# ------------------------------------------------------------------------------------------------ what the page shows


def drying_rows(
    masses: Sequence[float], dryings: Sequence[dict[str, Any]], limit: float
) -> list[tuple[str, float, float | None, str]]:
    """By weighing: (time, mass without container, change, dry or not)."""
    changes = [None, *weighed.drying_changes(masses)]
    times = ["wet", *(str(drying["time"]) for drying in dryings)]
    return [
        (time, mass, change, "" if change is None else "constant" if abs(change) <= limit else "not yet")
        for time, mass, change in zip(times, masses, changes)
    ]


def suits(moisture: float) -> str:
    """What bedding of a moisture [-] is right for, in words that follow a colon."""
    if moisture > facts.AIRLESS.typical:
        return "airless"
    if moisture > facts.FACE.high:
        return "wet for a feeding face"
    if moisture >= facts.FACE.low:
        return "right for a feeding face"
    if moisture >= facts.LIMITS.low:
        return "dry for a feeding face, but worms bear it"
    if facts.FINISHING.low <= moisture <= facts.FINISHING.high:
        return "right for screening, too dry for worms"
    return "too dry for worms"


def weighing_warnings(v: View) -> list[tuple[str | None, str]]:
    """Sentences for weighings that are allowed but deserve a second look."""
    warnings: list[tuple[str | None, str]] = []
    smallest = min(row["wet"] - row["tare"] for row in v.samples)
    if smallest < 0.02:
        warnings.append(
            (
                "samples",
                (
                    f"A sample of {v.say(smallest, 'kg', us='oz', metric='g')} is small: on a kitchen scale one gram is"
                    " then several points of moisture. Take about 100 g (4 oz)."
                ),
            )
        )
    if len(v.samples) == 1:
        warnings.append(("samples", "One sample says nothing about the rest of the bed: take three or more."))
    elif v.interval_high - v.interval_low > 0.10:
        warnings.append(
            (
                "samples",
                (
                    f"The mean could be anywhere from {v['interval_low']} to {v['interval_high']}: take more samples,"
                    " or sample the face and the back apart."
                ),
            )
        )
    if v.dry_enough is False:
        warnings.append(("dryings", "Not dry yet: dry it again and weigh. The moisture is higher than said here."))
    masses = dried_masses(v.samples, v.dryings) if v.dryings else []
    if any(change < -0.002 for change in weighed.drying_changes(masses)):
        warnings.append(
            (
                "dryings",
                (
                    "The sample grew heavier between two dryings: it drew water from the air, or the scale moved. Weigh"
                    " it warm."
                ),
            )
        )
    if v.moisture_wet_basis > 0.90:
        warnings.append((None, f"At {v['moisture_wet_basis']} the bedding is airless: mix in dry bedding."))
    return warnings


@presents(test)
def show_test(v: View) -> Show:
    moistures = moistures_of(v.samples, v.dryings)
    names = [row.get("sample") or f"sample {number}" for number, row in enumerate(v.samples, start=1)]
    first = v.samples[0]
    dry = v.dryings[-1]["weight"] if first.get("dry") is None else first["dry"]

    def weight(value: float) -> str:
        return v.say(value, "kg", us="g", metric="g")

    several = len(moistures) > 1
    steps = [
        Step(
            "First sample",
            "{first} = ({wet} − {dry}) ÷ ({wet} − {tare})",
            source="definition, wet basis",
            values={
                "first": Part("its moisture", moistures[0], "1", "%", "%"),
                "wet": Part("container with the wet sample", first["wet"], "kg", "oz", "g"),
                "dry": Part("container with the dried sample", dry, "kg", "oz", "g"),
                "tare": Part("empty container", first["tare"], "kg", "oz", "g"),
            },
        ),
        Step(
            "Dry basis",
            "{moisture_dry_basis} = {moisture_wet_basis} ÷ (1 − {moisture_wet_basis})",
            source="definition; ASTM D2216",
        ),
    ]
    reading = [f"The bedding is {v['moisture_wet_basis']} water: {suits(v.moisture_wet_basis)}."]
    marks = [Mark("dots", [(name, moisture) for name, moisture in zip(names, moistures)], label="samples", tone="main")]
    if several:
        count = len(moistures)
        limit = weighed.student_limit(0.95, count - 1)
        steps.append(
            Step(
                "95 % interval",
                "{interval_low} to {interval_high} = {moisture_wet_basis} ± {limit} × {spread} ÷ √{count}",
                source="Student 1908, t for n − 1 degrees of freedom",
                values={"limit": Part("Student's t", limit, digits=4), "count": Part("number of samples", count)},
            )
        )
        steps.append(
            Step(
                "Samples wanted",
                "{samples_wanted} = the first {n} of {numbers} where {t} × {spread} ÷ √{n} ≤ {wanted_half_width}",
                source="Student 1908, t for n − 1 degrees of freedom",
                values={
                    "numbers": RowsPart(
                        "numbers of samples",
                        {"n": "1", "t": "1"},
                        [
                            {"n": number, "t": weighed.student_limit(0.95, number - 1)}
                            for number in range(2, (v.samples_wanted or 1) + 1)
                        ],
                    ),
                    "t": ("Student's t", "t"),
                },
            )
        )
        reading.append(
            f"An interval made like this, here {v['interval_low']} to {v['interval_high']}, holds the mean of the"
            " part that was sampled nineteen times out of twenty."
        )
        wanted = f"{v.samples_wanted} samples" if v.samples_wanted else "more than two hundred samples"
        reading.append(
            f"To know it within {v.yours('wanted_half_width')} either way takes about {wanted}, if"
            " the bed is as uneven as"
            " these."
        )
        marks += [
            Mark("zone_y", [(v.interval_low, v.interval_high, "95 % interval of the mean")], tone="main"),
            Mark("rule_y", [(v.moisture_wet_basis, "mean")]),
        ]
    else:
        reading.append("One sample gives no idea how uneven the bed is: take three or more.")
    tables = [
        Table(
            "samples",
            "Samples",
            [Column("sample", "Sample"), Column("moisture", "Moisture", "1", us="%", metric="%")],
            rows=list(zip(names, moistures)),
        ),
        Table(
            "squeeze",
            "The squeeze test",
            [
                Column("sign", "What you see"),
                Column("low", "From", "1", us="%", metric="%"),
                Column("high", "to", "1", us="%", metric="%"),
                Column("meaning", "What to do"),
            ],
            rows=[(band.sign, band.low, band.high, band.meaning) for band in facts.SQUEEZE],
            note="Good to ten points either way.",
            open=True,
        ),
    ]
    figures = [
        Figure(
            "samples",
            "The samples",
            finding=f"The mean is {v['moisture_wet_basis']}"
            + (
                f"; the interval is {v.say(v.interval_high - v.interval_low, '1', us='%', metric='%')} wide."
                if several
                else "."
            ),
            x=Axis("Sample", kind="band"),
            y=Axis("Moisture", "1", us="%", metric="%"),
            marks=[Mark("zone_y", [(facts.FACE.low, facts.FACE.high, "feeding face")], tone="good"), *marks],
        )
    ]
    if v.dryings:
        masses = dried_masses(v.samples, v.dryings)
        rows = drying_rows(masses, v.dryings, v.constant_mass_limit)
        tables.append(
            Table(
                "dryings",
                "Dryings",
                [
                    Column("time", "Time"),
                    Column("mass", "Sample", "kg", us="g", metric="g"),
                    Column("change", "Taken off", "1", us="%", metric="%"),
                    Column("verdict", "Constant?"),
                ],
                rows=rows,
            )
        )
        last_change = weighed.drying_changes(masses)[-1]
        end = " It has come to its end." if v.dry_enough else ""
        figures.append(
            Figure(
                "dryings",
                "Drying to constant weight",
                finding=f"The last drying took off {v.say(last_change, '1', us='%', metric='%')}.{end}",
                x=Axis("Weighing", kind="band"),
                y=Axis("Sample", "kg", us="g", metric="g", low=0),
                marks=[
                    Mark("line", [(row[0], row[1]) for row in rows], tone="main"),
                    Mark("dots", [(row[0], row[1]) for row in rows], tone="main"),
                ],
            )
        )
        if v.dry_enough:
            reading.append("The last drying took off no more than the limit: it is dry.")
        elif v.still_to_lose:
            reading.append(f"Going by the last three weighings it will still lose {weight(v.still_to_lose)}.")
        steps.append(
            Step(
                "Last drying",
                "{dry_enough} = {change} ≤ {constant_mass_limit}",
                source="ASTM D4643",
                note="A share of its weight.",
                values={"change": Part("what the last drying took", last_change, "1", "%", "%", digits=2)},
            )
        )
        steps.append(
            Step(
                "Still to lose",
                "{still_to_lose} = ({before} − {after})^2 ÷ (({first} − {before}) − ({before} − {after}))",
                source="Aitken 1926: each drying takes the same share of what is left",
                values=dict(
                    zip(
                        ("first", "before", "after"),
                        (
                            Part(f"{which} weighing", weight_then, "kg", us="g", metric="g")
                            for which, weight_then in zip(("third-last", "second-last", "last"), masses[-3:])
                        ),
                    )
                ),
            )
        )
    reading.append("From dry basis to wet basis and back only the name changes, not the water: 75 % wet is 300 % dry.")
    return Show(
        working=steps,
        tables=tables,
        figures=figures,
        warnings=weighing_warnings(v),
        reading=reading,
    )
