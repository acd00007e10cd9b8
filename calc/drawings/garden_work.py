"""Drawings for customers: how castings are used, a kitchen bin, and which worm is which."""

from calc.drawings.parts import (
    box,
    crease,
    cross,
    disc,
    ink,
    key,
    moved,
    part,
    plate,
    stroke,
    strong,
    tick,
    words,
    worms,
)
from calc.engine import Drawing
from calc.page.drawings import drawing


def plant(scale: float = 1) -> str:
    """A young plant that stands on its origin."""
    leaves = ink(
        "M0 -46q-34 -2 -38 -30q34 -2 38 30zM0 -60q34 -4 36 -34q-34 0 -36 34zM0 -86q-22 -10 -18 -36q22 8 18 36z",
        "leaf",
        "part",
    )
    return moved(stroke("M0 0V-92", "rope") + leaves, 0, 0, 0, scale)


@drawing("garden.uses")
def uses() -> Drawing:
    """Pot, bed and topdressing."""
    pot = (
        ink("M-60 0h120l-16 110h-88z", "wood")
        + ink("M-52 12h104l-14 90h-76z", "bedding", "part")
        + "".join(disc(-36 + 18 * (n % 5), 30 + 22 * (n // 5), 5, "castings", "part") for n in range(12))
        + ink("M-66 -10h132v14h-132z", "wood")
    )
    bed = ink("M0 0h240v80h-240z", "bedding") + "".join(
        disc(8 + 9 * n, 6 + 7 * (n * 2 % 3), 2.6, "castings", "part") for n in range(26)
    )
    lawn = (
        ink("M0 0h240v80h-240z", "ground")
        + "".join(part(f"M{8 + 12 * n} 0q2 -12 -3 -20M{12 + 12 * n} 0q0 -10 4 -16") for n in range(19))
        + "".join(disc(84 + 9 * n, -3, 4, "castings", "part") for n in range(9) if n != 4)
    )
    shapes = [
        moved(plant(), 130, 140),
        moved(pot, 130, 144),
        strong(30, 30, "pot"),
        words(130, 294, "1 part in 10, at most 2", "middle"),
        moved(bed, 310, 182),
        moved(plant(0.9), 370, 182),
        moved(plant(0.9), 470, 182),
        strong(310, 30, "bed"),
        words(430, 294, "a dusting, raked in", "middle"),
        moved(lawn, 620, 182),
        moved(plant(1.1), 740, 180),
        strong(620, 30, "topdressing"),
        words(740, 294, "a handful round each plant", "middle"),
    ]
    return Drawing(
        "uses",
        "A little goes a long way",
        "A tenth of a potting mix, and at most a fifth: more can harm seedlings.",
        plate(890, 316, shapes),
        "A pot with one part of castings in ten mixed in; a bed with a dusting raked into its top; castings strewn"
        " round a plant.",
    )


@drawing("garden.bin")
def kitchen_bin() -> Drawing:
    """A kitchen bin cut open."""
    shapes = [
        box(250, 96, 400, 190, "paper"),
        ink("M240 78h420v20h-420z", "wood"),
        ink("M258 130q100 -14 200 0t184 -2v46h-384z", "straw"),
        ink("M258 172h384v44h-384z", "feed"),
        ink("M258 214h384v66h-384z", "bedding"),
        worms(280, 176, 330, 66, 26, 0.8),
        "".join(disc(270 + 40 * n, 114, 4, "ink", "part") for n in range(10)),
        stroke("M270 286v22M630 286v22", "timber"),
        ink("M240 308h420v12h-420z", "water"),
        part("M120 320H780"),
        key(190, 150, 1, (300, 150), "torn cardboard|or leaves", "left"),
        key(190, 204, 2, (300, 194), "scraps", "left"),
        key(190, 258, 3, (300, 250), "damp bedding", "left"),
        key(730, 110, 4, (630, 114), "air holes"),
        key(730, 284, 5, (650, 314), "tray for|what drips"),
    ]
    return Drawing(
        "bin",
        "A kitchen bin, cut open",
        "Cover what you feed: what flies cannot find, they cannot lay in.",
        plate(900, 344, shapes),
        "A box with a lid and small holes on feet over a tray: on top a cover of torn cardboard, under it kitchen"
        " scraps, under those damp bedding with worms.",
        keys=(
            "Two inches of torn cardboard or leaves on top, always.",
            "Scraps in one corner, a handful at a time, buried. No meat, fat, salt or citrus by the pound.",
            "Damp bedding, a hand deep.",
            "Small holes under the lid: air in, light out.",
            (
                "A tray beneath. What collects there is waste water, not a fertiliser: pour it on the compost, wash"
                " your hands."
            ),
        ),
    )


@drawing("garden.jumping")
def jumping() -> Drawing:
    """A composting worm beside a jumping worm: where the band sits and how it looks."""

    def body(y: float, band: float, flat: bool, colour: str) -> str:
        rings = "".join(crease(f"M{120 + 18 * n} {y - 19}q4 19 0 38") for n in range(1, 36))
        shape = ink(f"M110 {y}q6 -22 34 -22H740q40 2 50 22q-10 20 -50 22H144q-28 0 -34 -22z", colour)
        width, extra = (44, 0) if flat else (96, 5)
        saddle = ink(
            f"M{band} {y - 22 - extra}h{width}q6 22 0 {44 + 2 * extra}h-{width}q-6 -22 0 -{44 + 2 * extra}z",
            "milk" if flat else "feed",
        )
        return shape + rings + saddle

    shapes = [
        tick(110, 42),
        strong(146, 46, "composting worm"),
        body(92, 290, False, "red"),
        "".join(crease(f"M{440 + 36 * n} 74q5 18 0 36") for n in range(9)),
        key(338, 150, 1, (338, 116), "thick saddle"),
        key(640, 150, 2, (640, 104), "red, paler bands"),
        cross(112, 222),
        strong(146, 226, "jumping worm: never pass it on"),
        body(272, 214, True, "grey"),
        key(236, 330, 3, (236, 296), "flat pale band"),
        key(640, 330, 4, (640, 286), "grey-brown"),
        words(110, 372, "head to the left; not to scale"),
    ]
    return Drawing(
        "jumping",
        "Look at the band before you pass worms on",
        "A raised saddle a third of the way back is ours; a smooth pale band near the head, all the way round, is not.",
        plate(900, 392, shapes),
        "Two worms from the side, heads left. The composting worm is red with yellowish stripes, its saddle thick,"
        " raised and open below, about a third of the way back. The jumping worm is grey-brown and smooth, its band"
        " pale, flush and closed all round, near the head.",
        keys=(
            "Saddle: thick, raised, does not close underneath, on the 24th to 32nd ring.",
            "Reddish with paler bands; soft; crawls.",
            "Band: milky, flush with the body, all the way round, on the 14th to 16th ring.",
            (
                "Grey-brown, firm, dry; thrashes like a snake when touched. Do not move it, its cocoons or its soil:"
                " ask your extension office."
            ),
        ),
    )
