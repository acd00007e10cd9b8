"""Runs in the Python that becomes the image: imports what every page needs, takes along the rest as bytecode, lets go
of all else.

MODULES are the names of all that a calculator may import; EDITION is what `use_edition` is told, or empty. What
answers is `answer`: two texts in, bytes of one out, "A" before an answer and "E" before the traceback of an error.
Asked to "import", it imports a chapter.
"""

import codecs
import gc

gc.disable()

import importlib
import json
import marshal
import sys
import traceback
import zipimport
from importlib.machinery import ModuleSpec

from calc.engine.register import use_edition
from calc.page import respond

ARCHIVE = "/library.zip"
HEADER = 16
"""Bytes of a .pyc before its code."""


class Late:
    """Finds the modules that are imported when they are first asked for: as objects, a chapter takes thrice as much."""

    def __init__(self, archive, names):
        self.codes = {}
        for name in names:
            for ending in (".pyc", "/__init__.pyc"):
                try:
                    data = archive.get_data(name.replace(".", "/") + ending)[HEADER:]
                except OSError:
                    continue  # built in, or the other of the two
                self.codes[name] = ending != ".pyc", data

    def find_spec(self, name, path=None, target=None):
        if name not in self.codes:
            return None
        spec = ModuleSpec(name, self, is_package=self.codes[name][0])
        if spec.submodule_search_locations is not None:
            spec.submodule_search_locations.append(f"{ARCHIVE}/{name.replace('.', '/')}")
        return spec

    def create_module(self, spec):
        return None

    def exec_module(self, module):
        code = marshal.loads(self.codes[module.__name__][1])  # noqa: S302  # of our own build
        exec(code, module.__dict__)  # noqa: S102


class Inside:
    """What lies in a package, for pkgutil: packages of the image have the paths that they had in the archive."""

    def __init__(self, path):
        self.package = path.removeprefix(f"{ARCHIVE}/").replace("/", ".") + "."

    def iter_modules(self, prefix=""):
        packages = {name: kind for name, (kind, _) in late.codes.items()}
        packages |= {name: hasattr(module, "__path__") for name, module in sys.modules.items()}
        for name, is_package in sorted(packages.items()):
            if name.startswith(self.package) and "." not in name[len(self.package) :]:
                yield prefix + name[len(self.package) :], is_package


def answerer():
    format_exception, import_module = traceback.format_exception, importlib.import_module

    def answer(call, arguments):
        try:
            if call == "import":
                import_module(arguments)
                return b"A"
            text = "A" + respond(call, arguments)
        except BaseException as error:
            text = "E" + "".join(format_exception(error))
        return text.encode(errors="backslashreplace")  # half a letter, as JSON writes it too

    return answer


for name in ("utf_8_sig", "latin_1", "cp1252", "mac_roman", "utf_16_be", "utf_16_le"):
    codecs.lookup(name)  # how files come; a name that was looked up once is known from then on
if EDITION:
    use_edition(**json.loads(EDITION))
answer = answerer()
late = Late(zipimport.zipimporter(ARCHIVE), [name for name in MODULES if name not in sys.modules])
chapters = [name for name, (is_package, _) in late.codes.items() if is_package and name.startswith("calc.")]
with open("/facts", "w") as file:
    json.dump({"answer": id(answer), "chapters": chapters}, file)
for module in list(sys.modules.values()):
    module.__doc__ = None
# Nothing is found from here on but what has come along.
sys.meta_path[:] = [late, sys.meta_path[0]]  # and what is built in
sys.path_hooks[:] = [Inside]
sys.path[:] = []
sys.path_importer_cache.clear()
zipimport._zip_directory_cache.clear()
del MODULES, EDITION, file, module, chapters, zipimport
gc.collect()
gc.collect()
gc.freeze()
gc.enable()
