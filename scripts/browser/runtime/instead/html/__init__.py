"""Stands in for the library's html: of it only `escape` is used here, and its table of two thousand names need not
travel.
"""

_ESCAPES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#x27;"})


def escape(s, quote=True):
    """Text that is safe inside HTML."""
    return (
        s.translate(_ESCAPES)
        if quote
        else s.translate({key: value for key, value in _ESCAPES.items() if chr(key) in "&<>"})
    )
