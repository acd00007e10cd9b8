"""Runs inside the Pyodide that will serve the page: which modules are needed, and their bytecode in one zip.

`calc` lies in /calc_source/calc, the whole standard library in the zip that this Python runs from.
"""

import ast
import importlib.util
import io
import json
import marshal
import sys
import zipfile
from pathlib import Path

SOURCE = Path("/calc_source")
DATE = (1980, 1, 1, 0, 0, 0)
# Started by Pyodide in a browser but not under Node, found by trying; and the codecs of text files.
ALSO = ("webbrowser", "encodings.utf_8", "encodings.utf_8_sig", "encodings.latin_1", "encodings.ascii", "encodings.cp1252", "encodings.idna", "encodings.aliases", "stringprep")


def exercise():
    """Run every calculator in every way, right and wrong, so that all that is imported late has been imported."""
    sys.path.insert(0, str(SOURCE))
    import calc
    from calc.page import respond

    for number, id in enumerate(calc.calculators()):
        found = calc.describe(id)
        same = {"calculator": id, "values": {}, "units": "us", "currency": "$"}
        for call in ("answer", "form", "text", "csv", "calendar"):
            respond(call, json.dumps(same))
        respond("answer", json.dumps(same | {"values": dict.fromkeys(found["inputs"], "¿1 x?"), "units": "metric"}))
        respond("answer", json.dumps(same | {"values": {"no_such_input": "1"}}))
        numbers = [name for name, item in found["inputs"].items() if "low" in item and item["kind"] in ("number", "count")]
        # Sampling takes seconds in some calculators and runs the same code in all of them.
        for kind in ("aim", "moves", "range") if number == 0 else ("moves",):
            respond("explore", json.dumps(same | {"explore": kind, "output": next(iter(found["outputs"])), "vary": numbers[0] if numbers else "", "wanted": "1"}))


def imports_of(source):
    """Every module that a source names, imported late or not."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def library():
    """(path of the library's zip, {module: member}) of this Python's standard library."""
    path = next(entry for entry in sys.path if entry.endswith(".zip"))
    members = {}
    for name in zipfile.ZipFile(path).namelist():
        if name.endswith(".py"):
            module = name[:-3].replace("/", ".").removesuffix(".__init__")
            members[module] = name
    return path, members


def undocumented(source):
    """The syntax tree without docstrings, but every class has a stub of one: a dataclass without any works out its
    signature when it is made, to use that instead, which takes as long as all the rest of its making."""
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)):
            stub = [ast.Expr(ast.Constant("-"))] if isinstance(node, ast.ClassDef) else []
            rest = node.body[1:] if ast.get_docstring(node, clean=False) is not None else node.body
            node.body = stub + rest or [ast.Pass()]
    return ast.fix_missing_locations(tree)


def bytecode(source, shown, tree=None):
    """A .pyc that is never checked against a source (PEP 552): flags 1, hash of the source."""
    code = compile(tree or source, shown, "exec", dont_inherit=True, optimize=1 if tree else 2)
    return importlib.util.MAGIC_NUMBER + (1).to_bytes(4, "little") + importlib.util.source_hash(source) + marshal.dumps(code)


def cut():
    """(bytes of the new library, names of its modules)."""
    exercise()
    path, members = library()
    own = sorted(file for file in (SOURCE / "calc").rglob("*.py") if file.name != "__main__.py")
    wanted = set(sys.modules) | set(ALSO)
    for file in own:
        wanted.update(imports_of(file.read_text()))
    for name in list(wanted):  # a module's packages come with it
        parts = name.split(".")
        wanted.update(".".join(parts[:depth]) for depth in range(1, len(parts)))
    names = sorted(name for name in wanted if name in members)
    target = io.BytesIO()
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as new:
        for name in names:
            member = members[name]
            add(new, member + "c", bytecode(old.read(member), member))
        for file in own:
            member = file.relative_to(SOURCE).as_posix()
            add(new, member + "c", bytecode(file.read_bytes(), member, undocumented(file.read_bytes())))
    return target.getvalue(), names


def add(archive, name, data):
    archive.writestr(zipfile.ZipInfo(name, DATE), data)


LIBRARY, MODULES = cut()
