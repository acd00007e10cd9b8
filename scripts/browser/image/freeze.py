"""Runs in the Python that becomes the image: imports all that a page will need and lets go of the rest.

MODULES are the names to import; EDITION is what `use_edition` is told, or empty. What answers is `answer`: two texts
in, bytes of one out, "A" before an answer and "E" before the traceback of an error.
"""

import gc

gc.disable()

import importlib
import json
import sys
import traceback

for name in MODULES:
    importlib.import_module(name)

from calc.page import respond

if EDITION:
    from calc.engine.register import use_edition

    use_edition(**json.loads(EDITION))


def answerer():
    format_exception = traceback.format_exception

    def answer(call, arguments):
        try:
            text = "A" + respond(call, arguments)
        except BaseException as error:
            text = "E" + "".join(format_exception(error))
        return text.encode(errors="backslashreplace")  # half a letter, as JSON writes it too

    return answer


answer = answerer()
with open("/answer", "w") as file:
    file.write(str(id(answer)))

import zipimport

# Nothing is found from here on but what has been imported.
sys.path[:] = []
sys.path_importer_cache.clear()
zipimport._zip_directory_cache.clear()
for name in ("MODULES", "EDITION", "answerer", "file", "name", "importlib", "json", "traceback", "zipimport"):
    del globals()[name]
gc.collect()
gc.collect()
gc.freeze()
gc.enable()
