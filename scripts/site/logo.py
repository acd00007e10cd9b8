"""The logo of a farm: a small PNG, or an SVG that is nothing but a drawing.

It is copied as a file and only ever shown as a picture.
"""

import re
import struct
from xml.parsers import expat

LARGEST, WIDEST = 200_000, 2_048
PNG = b"\x89PNG\r\n\x1a\n"
OWN_OR_DATA = re.compile(r"\s*(#|data:image/(png|jpeg|webp);base64,)", re.IGNORECASE)
NO_DRAWING = {
    "script",
    "foreignobject",
    "iframe",
    "object",
    "embed",
    "audio",
    "video",
    "handler",
    "listener",
    "animate",
    "set",
    "animatetransform",
    "animatemotion",
}
OUTSIDE = re.compile(r"url\(\s*['\"]?\s*(?!#)|@import|javascript:", re.IGNORECASE)


def fault(path):
    """What is wrong with a logo, as a sentence, or None."""
    ending = path.suffix.lower()
    if ending not in (".svg", ".png"):
        return "must be an SVG or a PNG file."
    if not path.is_file():
        return f"“{path.name}” is not there: it has to lie beside farm.yml."
    if path.stat().st_size > LARGEST:
        return (
            f"“{path.name}” has {path.stat().st_size / 1000:,.0f} kB; {LARGEST / 1000:,.0f} kB are the most, since"
            " every page carries it."
        )
    data = path.read_bytes()
    return (svg_fault if ending == ".svg" else png_fault)(data, path.name)


def png_fault(data, name):
    if not data.startswith(PNG) or len(data) < 33 or data[12:16] != b"IHDR":
        return f"“{name}” is not a PNG picture, whatever its name says."
    width, height = struct.unpack(">II", data[16:24])
    if not (0 < width <= WIDEST and 0 < height <= WIDEST):
        return f"“{name}” is {width:,} by {height:,} pixels; {WIDEST:,} are the most either way."
    return None


class NotADrawing(ValueError):
    """Why a file is more, or less, than a drawing."""


def svg_fault(data, name):
    """Well-formed, an svg element, and nothing in it that runs or asks for another file."""
    elements = []

    def start(tag, attributes):
        plain = tag.rsplit(":", 1)[-1].lower()
        elements.append(plain)
        if plain in NO_DRAWING:
            raise NotADrawing(f"holds <{plain}>")
        for key, value in attributes.items():
            key = key.rsplit(":", 1)[-1].lower()
            if key.startswith("on"):
                raise NotADrawing(f"holds a script ({key})")
            if key in ("href", "src") and not OWN_OR_DATA.match(value):
                raise NotADrawing("asks for another file")
            if key in ("style", "fill", "stroke", "filter", "mask", "clip-path") and OUTSIDE.search(value):
                raise NotADrawing("asks for another file")

    def words(text):
        if elements and elements[-1] == "style" and OUTSIDE.search(text):
            raise NotADrawing("asks for another file")

    def refuse(*_):
        raise NotADrawing("declares names of its own (<!ENTITY>)")

    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler, parser.CharacterDataHandler = start, words
    parser.EntityDeclHandler, parser.ProcessingInstructionHandler = refuse, None
    try:
        parser.Parse(data, True)
    except NotADrawing as more:
        return f"“{name}” {more}. Save it as a plain SVG drawing, or as PNG."
    except (expat.ExpatError, ValueError):
        return f"“{name}” is not an SVG drawing that can be read."
    if elements[:1] != ["svg"]:
        return f"“{name}” is not an SVG drawing, whatever its name says."
    return None
