"""Runs inside the Pyodide that will serve the page: the bytecode of the modules that are needed, in one zip.

`calc` lies in /calc_source/calc and the stand-ins in /instead; the rest comes from the zip that this Python runs from.
MODULES are the names that were imported when every calculator was used; what only the build needs stays out.
"""

import ast
import importlib.util
import io
import marshal
import sys
import zipfile
from pathlib import Path
from types import CodeType

SOURCE = Path("/calc_source")
DATE = (1980, 1, 1, 0, 0, 0)
# Codecs that text may need.
ALSO = (
    "encodings.utf_8",
    "encodings.utf_8_sig",
    "encodings.latin_1",
    "encodings.ascii",
    "encodings.cp1252",
    "encodings.mac_roman",
    "encodings.utf_16_be",
    "encodings.utf_16_le",
    "encodings.idna",
    "encodings.aliases",
    "stringprep",
)


def imports_of(source):
    """Every module that a source names, imported late or not."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def library():
    """{module: (path in the zip, source)} of the standard library, with the stand-ins."""
    path = next(entry for entry in sys.path if entry.endswith(".zip"))
    found = {}
    with zipfile.ZipFile(path) as whole:
        for name in whole.namelist():
            if name.endswith(".py"):
                found[module_of(name)] = name, whole.read(name)
    for file in Path("/instead").rglob("*.py"):
        name = file.relative_to("/instead").as_posix()
        found[module_of(name)] = name, file.read_bytes()
    return found


def module_of(name):
    return name[:-3].replace("/", ".").removesuffix(".__init__")


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


def without_lines(code):
    """The same code without the lines it came from: a seventh of the bytes, for tracebacks that no reader sees."""
    consts = tuple(without_lines(const) if isinstance(const, CodeType) else const for const in code.co_consts)
    whole, rest = divmod(len(code.co_code) // 2, 8)
    nowhere = b"\xff" * whole + bytes(
        [0xF8 + rest - 1] if rest else []
    )  # up to eight instructions each, without a line
    return code.replace(co_linetable=nowhere, co_consts=consts)


def bytecode(source, shown, tree=None):
    """A .pyc that is never checked against a source (PEP 552): flags 1, hash of the source."""
    code = compile(tree or source, shown, "exec", dont_inherit=True, optimize=1 if tree else 2)
    return (
        importlib.util.MAGIC_NUMBER
        + (1).to_bytes(4, "little")
        + importlib.util.source_hash(source)
        + marshal.dumps(without_lines(code))
    )


def cut():
    """Bytes of the new library."""
    known = library()
    own = sorted(
        file for file in (SOURCE / "calc").rglob("*.py") if module_of(file.relative_to(SOURCE).as_posix()) in MODULES
    )
    wanted = set(MODULES) | set(ALSO)
    for file in own:
        wanted.update(imports_of(file.read_text()))
    for name in list(wanted):  # a module's packages come with it
        parts = name.split(".")
        wanted.update(".".join(parts[:depth]) for depth in range(1, len(parts)))
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as new:
        for name in sorted(wanted & set(known)):
            path, source = known[name]
            add(new, path + "c", bytecode(source, path))
        for file in own:
            path = file.relative_to(SOURCE).as_posix()
            add(new, path + "c", bytecode(file.read_bytes(), path, undocumented(file.read_bytes())))
    return target.getvalue()


def add(archive, name, data):
    archive.writestr(zipfile.ZipInfo(name, DATE), data)


LIBRARY = cut()
