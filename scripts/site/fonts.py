"""The two faces, cut from their npm packages to the letters that the pages show, with stand-ins of the same width and
height.

A Clarendon (Besley) for headings, answers and findings, a Gothic (Public Sans) for the rest. Both are under the SIL
Open Font
License; scripts/site/shipped.py ships its text. Cutting takes some seconds, so what was cut is kept until letters or
packages change.
"""

from __future__ import annotations

import hashlib
import html
import io
import json
import re
import shutil
from collections import Counter
from dataclasses import asdict, dataclass
from pathlib import Path

import bootstrap
import tree

FOLDER = Path("assets", "face")
TAG = re.compile(r"<(script|style)\b.*?</\1>|<[^>]+>", re.DOTALL)
PLAIN = "".join(map(chr, range(0x20, 0x7F)))


@dataclass(frozen=True)
class Face:
    """One file: family as style sheets name it, npm package, slope, range of weights, OpenType features that are
    kept.
    """

    family: str
    package: str
    slope: str
    weights: tuple[int, int]
    features: tuple[str, ...]

    @property
    def source(self) -> Path:
        folder = bootstrap.BROWSER / "node_modules" / "@fontsource-variable" / self.package / "files"
        return folder / f"{self.package}-latin-wght-{self.slope}.woff2"


FACES = (
    Face("Lane Clarendon", "besley", "normal", (500, 800), ("kern", "liga", "mark", "ccmp")),
    Face("Lane Gothic", "public-sans", "normal", (400, 700), ("kern", "tnum", "frac", "numr", "dnom", "mark", "ccmp")),
    Face("Lane Gothic", "public-sans", "italic", (400, 400), ("kern", "tnum", "mark", "ccmp")),
)

HELVETICA = dict(
    zip(
        "abcdefghijklmnopqrstuvwxyz ",
        (
            *(556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556),
            *(500, 722, 500, 500, 500, 278),
        ),
        strict=True,
    )
)
TIMES_BOLD = dict(
    zip(
        "abcdefghijklmnopqrstuvwxyz ",
        (
            *(500, 556, 444, 556, 444, 333, 500, 556, 278, 333, 556, 278, 833, 556, 500, 556, 556, 444, 389, 333, 556),
            *(500, 722, 500, 500, 444, 250),
        ),
        strict=True,
    )
)
"""Advance widths in thousandths of an em: Adobe's metrics of the core fonts, from memory.

Arial and Liberation Sans have those of
Helvetica, Times New Roman and Liberation Serif those of Times."""

STAND_INS = {
    "Lane Clarendon": (
        TIMES_BOLD,
        700,
        ("Times New Roman Bold", "TimesNewRomanPS-BoldMT", "Liberation Serif Bold", "Tinos Bold", "Nimbus Roman Bold"),
    ),
    "Lane Gothic": (
        HELVETICA,
        400,
        ("Arial", "ArialMT", "Helvetica", "Liberation Sans", "Arimo", "Roboto", "Nimbus Sans"),
    ),
}
"""What stands there until a face has come: widths, the weight that is compared, names by which a system may know it."""


GREEK = "ΔΣαγθλμπρστω"
"""Letters of equations."""


def letters_shown(pages: list[tree.Page]) -> Counter[str]:
    """Every letter of the finished pages, how often, and every one that an answer can hold: those of calc/."""
    found: Counter[str] = Counter()
    for page in pages:
        found.update(html.unescape(TAG.sub("", page.html)))
    for path in sorted((bootstrap.ROOT / "calc").rglob("*.py")):
        # Foreign letters in code are what files may hold, not what an answer says.
        text = path.read_text(encoding="utf-8")
        said = filter(lambda letter: letter.isascii() or not letter.isalpha() or letter in GREEK, text)
        found.update(dict.fromkeys(said, 1))
    found.update(dict.fromkeys(PLAIN, 1))
    return Counter({letter: count for letter, count in found.items() if letter.isprintable()})


def cut(face: Face, letters: str) -> tuple[bytes, dict[str, float]]:
    """The file as WOFF2, and what its stand-in has to know: heights, and advance widths of small letters, in ems."""
    from fontTools import subset
    from fontTools.ttLib import TTFont
    from fontTools.varLib import instancer

    font = TTFont(face.source, recalcTimestamp=False)
    options = subset.Options(
        layout_features=list(face.features), flavor="woff2", hinting=False, name_IDs=[0, 1, 2, 3, 4, 5, 6, 13, 14]
    )
    cutter = subset.Subsetter(options)
    cutter.populate(text=letters)
    cutter.subset(font)
    low, high = face.weights
    instancer.instantiateVariableFont(font, {"wght": low if low == high else (low, high)}, inplace=True)
    file = io.BytesIO()
    subset.save_font(font, file, options)
    return file.getvalue(), measures(face)


def measures(face: Face) -> dict[str, float]:
    """Ascent, descent and gap of a line, and the advance of each small letter at the weight that is compared."""
    from fontTools.ttLib import TTFont
    from fontTools.varLib import instancer

    font = instancer.instantiateVariableFont(TTFont(face.source), {"wght": STAND_INS[face.family][1]})
    em, head = font["head"].unitsPerEm, font["hhea"]
    names = font.getBestCmap()
    advances = {letter: font["hmtx"][names[ord(letter)]][0] / em for letter in HELVETICA}
    return {"ascent": head.ascent / em, "descent": -head.descent / em, "gap": head.lineGap / em, **advances}


def stand_in(family: str, known: dict[str, float], counts: Counter[str]) -> str:
    """A face of the system's, stretched to our width for the letters of these pages and put on our line."""
    widths, weight, names = STAND_INS[family]
    total = sum(counts[letter] for letter in widths)
    ours = sum(known[letter] * counts[letter] for letter in widths) / total
    theirs = sum(width / 1000 * counts[letter] for letter, width in widths.items()) / total
    stretch = ours / theirs
    rules = {
        "size-adjust": stretch,
        "ascent-override": known["ascent"] / stretch,
        "descent-override": known["descent"] / stretch,
        "line-gap-override": known["gap"] / stretch,
    }
    sources = ", ".join(f'local("{name}")' for name in names)
    told = " ".join(f"{name}: {100 * value:.2f}%;" for name, value in rules.items())
    bold = " font-weight: 500 800;" if weight > 400 else ""
    return f'@font-face {{ font-family: "{family} stand-in"; src: {sources};{bold} {told} }}'


def made(letters: str, kept: Path | None) -> list[tuple[str, bytes, dict[str, float]]]:
    """(name, file, measures) of each face: cut anew, or as an earlier build left it."""
    import fontTools

    told = json.dumps([[asdict(face) for face in FACES], letters, fontTools.version])
    digest = hashlib.sha256(told.encode() + Path(__file__).read_bytes())
    for face in FACES:
        digest.update(face.source.read_bytes())
    folder = kept / f"faces-{digest.hexdigest()[:16]}" if kept else None
    found = []
    for number, face in enumerate(FACES):
        file = folder / f"{number}.woff2" if folder else None
        if file and file.with_suffix(".json").exists():
            data, known = file.read_bytes(), json.loads(file.with_suffix(".json").read_text())
        else:
            data, known = cut(face, letters)
            if file:
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_bytes(data)
                file.with_suffix(".json").write_text(json.dumps(known))
        slope = "" if face.slope == "normal" else f"-{face.slope}"
        found.append((f"{face.package}{slope}.{hashlib.sha256(data).hexdigest()[:12]}.woff2", data, known))
    if kept and folder:
        for old in kept.glob("faces-*"):
            if old != folder:
                shutil.rmtree(old, ignore_errors=True)
    return found


def add(out: Path, pages: list[tree.Page], kept: Path | None) -> str:
    """Write the files; returns the rules that name them, for the style sheet that lies beside their folder."""
    counts = letters_shown(pages)
    folder = out / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    rules = []
    for face, (name, data, known) in zip(FACES, made("".join(sorted(counts)), kept), strict=True):
        (folder / name).write_bytes(data)
        low, high = face.weights
        weight = f"{low} {high}" if low != high else str(low)
        rules.append(
            f'@font-face {{ font-family: "{face.family}"; font-style: {face.slope}; font-weight: {weight};'
            f' font-display: swap; src: url("../face/{name}") format("woff2"); }}'
        )
        if face.slope == "normal":
            rules.append(stand_in(face.family, known, counts))
    return "\n".join(rules)
