"""Drawings of breeding trays, sorting, racks and the life of a worm."""

from calc.drawings.parts import (
    arrow,
    box,
    cocoon,
    crease,
    disc,
    ink,
    key,
    moved,
    part,
    plate,
    stroke,
    strong,
    thermometer,
    track,
    words,
    worms,
    yours,
)
from calc.engine import Drawing
from calc.page.drawings import drawing


def tray(
    left: float, base: float, width: float, height: float, worm_count: int = 0, eggs: int = 0, filled: float = 0.7
) -> str:
    """A tray cut open, standing on `base`."""
    top, slant = base - height, width * 0.07
    level = base - height * filled
    inside = slant * filled
    shapes = ink(
        track([(left - slant, top), (left + width + slant, top), (left + width, base), (left, base)], True), "paper"
    )
    shapes += ink(
        track(
            [
                (left - inside, level),
                (left + width + inside, level),
                (left + width - 4, base - 4),
                (left + 4, base - 4),
            ],
            True,
        ),
        "bedding",
        "part",
    )
    shapes += worms(left + 12, level + 12, width - 24, base - level - 26, worm_count, 0.75)
    spots = [(place * 0.618034 % 1, place * 0.754878 % 1, place * 53.0) for place in range(3, 3 + eggs)]
    shapes += "".join(
        cocoon(left + 14 + across * (width - 28), level + 16 + down * (base - level - 28), turn % 180)
        for across, down, turn in spots
    )
    return shapes + box(left - slant - 8, top - 6, width + 2 * slant + 16, 9, "paper")


@drawing("breeding.tray")
def first_day() -> Drawing:
    """A breeding tray on its first day."""
    scale = (
        ink("M-54 -92h108l-10 22h-88z", "paper")
        + ink("M-40 -94q8 -22 26 -16q8 -16 26 -6q18 -2 26 22z", "skin")
        + worms(-32, -112, 60, 14, 7, 0.6)
        + ink("M-42 -70h84l8 70h-100z", "paper")
        + box(-36, -50, 72, 24, "pad", "part")
        + strong(0, -33, "0.75 lb", "middle")
    )
    hand = (
        ink("M34 -44h28v40h-28z", "cloth")
        + ink(
            "M33 -4h30q6 16 4 44l-3 44q-1 8 -7 8t-6 -8l-1 -20l-1 34q0 9 -6.5 9t-6.5 -9v-34l-2 26q-1 8 -7 8t-6 -9l2"
            " -32q-8 8 -14 4q-5 -4 0 -11q10 -14 11 -30z",
            "glove",
        )
        + crease("M49 56v22M36 54l-1 20")
    )
    label = (
        ink("M-48 -22h120v46h-120z", "paper")
        + words(-38, -3, "in")
        + yours(-18, -3, "1 March")
        + words(-38, 16, "out")
        + yours(-10, 16, "22 March")
    )
    shapes = [
        box(20, 292, 740, 16, "wood"),
        tray(72, 290, 256, 120, 13, 9, 0.78),
        stroke("M72 196q20 -8 40 0t40 0t40 0t40 0t40 0t36 0", "feed"),
        moved(hand, 404, 176),
        part("M384 196h96M384 288h96M392 196v92m-5 -82l5 -8l5 8m-10 74l5 8l5 -8"),
        strong(492, 246, "a hand|deep"),
        moved(scale, 668, 292),
        moved(label, 116, 148, -3),
        key(76, 60, 4, (104, 126)),
        key(214, 60, 3, (214, 192)),
        key(306, 100, 1, (300, 268)),
        key(668, 110, 2, (668, 176)),
        words(236, 65, "a dusting a day, once yesterday's is gone"),
        words(328, 105, "damp coir or peat,|no feed in it"),
        words(668, 66, "grown breeders,|saddle plain to see", "middle"),
        words(98, 65, "the day"),
    ]
    return Drawing(
        "tray",
        "A breeding tray on its first day",
        "Bedding a hand deep, breeders weighed in, a dusting of powder, and the day where you will see it.",
        plate(790, 330, shapes),
        "A tray cut open: damp bedding a hand deep with worms and cocoons, powdered feed on top, a label with two"
        " dates; beside it breeders on a scale that shows 0.75 lb (340 g).",
        keys=(
            "Bedding without feed, wrung out: breeders and cocoons are easy to find in it. The young get food bedding,"
            " once they hatch.",
            "Three quarters of a pound of worms with a clear saddle, about 600 to 700.",
            "A spoonful of powder a day, dusted, and only when yesterday's is gone: more heats up and sours.",
            "Day in and day out: cocoons are laid for three weeks, then the breeders move on.",
        ),
    )


@drawing("breeding.sorting")
def sorting() -> Drawing:
    """Sorting worms from bedding under a light."""
    lamp = (
        stroke("M0 -120V-78", "timber")
        + ink("M-44 -46L-22 -80H22L44 -46z", "metal")
        + disc(0, -42, 10, "milk", "part")
        + stroke("M-60 -24L-96 4M60 -24L96 4M-30 -14L-44 26M30 -14L44 26M0 -12V22", "heat")
    )
    brush = ink("M-4 -70h8v50h-8z", "wood", "part") + ink("M-22 -20h44v10h-44z", "wood", "part")
    brush += "".join(crease(f"M{x} -10v16") for x in range(-20, 21, 5))
    floor = 290
    shapes = [
        box(20, floor, 860, 14, "wood"),
        part(f"M300 24V{floor - 10}M610 24V{floor - 10}"),
        # a cone under a light
        moved(lamp, 170, 150, 0, 0.8),
        ink(f"M80 {floor}Q170 150 260 {floor}z", "bedding"),
        worms(120, floor - 58, 92, 46, 18, 0.8),
        arrow((170, floor - 82), (170, floor - 58)),
        key(36, 40, 1, None, "a bright light"),
        key(36, 100, 2, None, "worms|go down"),
        # brushed off
        moved(lamp, 420, 144, 0, 0.5),
        ink(f"M340 {floor}Q420 186 500 {floor}z", "bedding"),
        worms(382, floor - 30, 74, 22, 18, 0.8),
        moved(brush, 470, 226, 48),
        arrow((492, 236), (534, 262)),
        ink(f"M520 {floor}q36 -40 76 0z", "bedding"),
        "".join(cocoon(538 + 13 * n, floor - 10 - 7 * (n % 2)) for n in range(4)),
        key(336, 40, 3, None, "brush off the top, wait,|brush again"),
        words(598, floor - 46, "cocoons", "end"),
        # what is left
        worms(652, floor - 30, 66, 24, 26, 0.8),
        arrow((724, floor - 34), (768, floor - 34)),
        ink(f"M790 {floor}l-8 -44h76l-8 44z", "paper"),
        worms(792, floor - 36, 54, 26, 14, 0.7),
        key(646, 40, 4, None, "a ball of worms is left:|weigh it at once"),
    ]
    return Drawing(
        "sorting",
        "Light drives them down, your hands follow",
        "Brush off the top, wait ten minutes, brush again: in the end a ball of worms is left.",
        plate(900, 320, shapes),
        "Three steps on a table. Worms in a cone of bedding go down from a lamp. A brush takes off the top of the cone,"
        " which lies beside it with cocoons in it. A ball of worms is left and goes into a tub.",
        keys=(
            "A bright lamp on its own cord, out of reach of wet hands, on a socket with a residual-current breaker.",
            "A cone of bedding as high as a hand: worms go down and in, away from the light.",
            "Bedding brushed off holds the cocoons: it goes to the warm room, never to the heap.",
            "Worms left in the middle: weigh them before they dry, ten minutes at most.",
        ),
    )


@drawing("breeding.rooms")
def rooms() -> Drawing:
    """A rack in two rooms, one cool and one warm."""
    shapes = []
    for left, wide, name, degrees, eggs in (
        (30, 320, "breeding: cocoons laid", "68 °F (20 °C)", True),
        (400, 470, "hatching and growing", "81 °F (27 °C)", False),
    ):
        shapes += [
            ink(f"M{left} 330V70H{left + wide}V330z", "paper"),
            f'<path class="dashed" d="M{left + 10} 320V80H{left + wide - 10}V320z"/>',
            strong(left + 20, 54, degrees),
            words(left + 160, 54, name),
        ]
        for shelf in range(3):
            base = 170 + 74 * shelf
            shapes.append(box(left + 30, base, wide - 60, 6, "wood"))
            shapes += [tray(left + 50 + 88 * n, base, 56, 34, 0, 0, 0.7) for n in range(int((wide - 70) / 88))]
        shapes += [
            stroke(f"M{left + 30} 100V326M{left + wide - 30} 100V326", "timber"),
            moved(thermometer(0, 0, 44, 0, 0.4 if eggs else 0.7), left + wide - 16, 118),
        ]
    shapes += [
        ink("M840 296h22v30h-22z", "metal") + stroke("M846 302v18M856 302v18", "heat"),
        ink("M46 298h34v26h-34z", "metal") + disc(63, 311, 9, "paper", "part"),
        words(63, 352, "cooler", "middle"),
        arrow((352, 210), (396, 210)),
        words(362, 196, "trays"),
        part("M20 330H880"),
        key(208, 360, 1, (208, 318), "cool room"),
        key(640, 360, 2, (640, 318), "warm room"),
        key(374, 260, 3, (374, 216)),
        key(852, 360, 4, (852, 318), "heater", "left"),
    ]
    return Drawing(
        "rooms",
        "Two rooms of two temperatures",
        "Cool for laying, warm for hatching and growing: that is how growers keep them.",
        plate(900, 384, shapes),
        "Two insulated rooms with racks of trays: a cool one at 68 °F (20 °C) for breeding, a warm one at 81 °F (27 °C)"
        " for hatching and growing; trays move from the first to the second.",
        keys=(
            "Cool room: breeders lay for three weeks, then move to a fresh tray.",
            "Warm room: what they laid hatches and grows here for about eleven weeks.",
            "Only trays move. Worms are handled twice: when the breeders come out, and when the young are sold.",
            (
                "Heaters and lamps in damp rooms are work for an electrician: residual-current breaker, splash-proof"
                " sockets above the trays."
            ),
        ),
    )


@drawing("breeding.true_size")
def true_size() -> Drawing:
    """The life of a worm at its true size on paper, where 96 units are an inch."""
    inch = 96.0
    body = "M0 0q22 -26 48 -4t52 6t52 -8t40 4"
    grown = f'<path class="worm-halo big" d="{body}"/><path class="worm big" d="{body}"/>'
    grown += '<path class="worm-saddle big" d="M36 -12q10 3 16 9"/>'
    hatched = '<path class="worm-young" d="M0 0q8 -8 16 0t16 0"/>'
    young = '<path class="worm-young thick" d="M0 0q18 -18 36 0t40 0"/>'
    ruler = "".join(part(f"M{20 + inch / 4 * step:.0f} 196v{14 if step % 4 == 0 else 8}") for step in range(25))
    shapes = [
        moved(cocoon(0, 0, 20, 1.2), 44, 130),
        "".join(moved(hatched, 116, 112 + 18 * place, 12 * place) for place in range(3)),
        moved(young, 208, 134),
        moved(grown, 340, 134),
        *(strong(x, 36, name) for x, name in ((20, "cocoon"), (112, "hatchling"), (208, "young"), (340, "grown"))),
        *(
            words(x, 56, said)
            for x, said in ((20, "⅛ in"), (112, "⅓ in"), (208, "no saddle"), (340, "saddle: it breeds"))
        ),
        arrow((64, 92), (104, 92)),
        arrow((160, 92), (200, 92)),
        arrow((290, 92), (330, 92)),
        ruler,
        part(f"M20 196H{20 + 6 * inch:.0f}"),
        words(20, 230, "inches: at full size on paper"),
    ]
    return Drawing(
        "true_size",
        "From cocoon to breeder, at true size",
        "Three to four weeks to hatch, about two months to a saddle: plan in seasons.",
        plate(616, 246, shapes, true=True),
        "On a ruler in inches: a lemon-shaped cocoon of ⅛ in (3 mm); hatchlings like threads; a young worm without a"
        " saddle; a grown worm of 2 to 4 in (5 to 10 cm) with a saddle. Printed, it has their true size.",
    )


@drawing("breeding.weighing")
def weighing() -> Drawing:
    """Weighing a tray, to see what it loses."""
    scale = ink("M-90 0h180l-14 44h-152z", "metal") + box(-44, 12, 88, 24, "paper", "part")
    shapes = []
    for left, read, said in ((190, "9.40 lb", "Monday, 8 o'clock"), (600, "9.05 lb", "Tuesday, 8 o'clock")):
        shapes += [
            moved(scale, left, 220) + strong(left, 249, read, "middle"),
            tray(left - 80, 220, 160, 74, 6, 0),
            strong(left, 60, said, "middle"),
        ]
    shapes += [
        arrow((320, 180), (460, 180)),
        words(390, 166, "a day, nothing added", "middle"),
        strong(390, 212, "0.35 lb", "middle"),
        words(390, 232, "of water went into the air", "middle"),
    ]
    return Drawing(
        "weighing",
        "A tray on a scale shows what a day takes",
        "Weigh it, leave it a day, weigh it again: the difference is water.",
        plate(790, 300, shapes),
        "The same tray on a scale on two mornings: 9.40 and 9.05 lb (4.26 and 4.10 kg). Invented figures: 0.35 lb (160"
        " g) of water were lost.",
    )
