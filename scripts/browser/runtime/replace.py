"""Runs inside Pyodide: its standard library once more, with the modules of /instead in the place of the library's own.

What stands in (and why) is told by each module in `instead`. A package that is replaced is replaced whole.
"""

import io
import sys
import zipfile
from pathlib import Path


def replaced():
    own = {file.relative_to("/instead").as_posix(): file.read_bytes() for file in Path("/instead").rglob("*.py")}
    whole = tuple(name.removesuffix("__init__.py") for name in own if name.endswith("/__init__.py"))
    path = next(entry for entry in sys.path if entry.endswith(".zip"))
    target = io.BytesIO()
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target, "w") as new:
        for name in old.namelist():
            if name not in own and not name.startswith(whole):
                new.writestr(name, old.read(name))
        for name, data in own.items():
            new.writestr(name, data)
    return target.getvalue()


LIBRARY = replaced()
