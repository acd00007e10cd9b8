"""The image of a started Python (scripts/browser/image): what is compared at every build, and that it is seen to
fail.
"""

import re
import shutil
import subprocess

import bootstrap
import pytest
import runtime as runtime_of


@pytest.fixture
def spoilt(site, tmp_path, node):
    """A copy of the runtime with one fault in it."""

    def make(fault):
        shutil.copytree(site / "assets" / "runtime", tmp_path / "runtime")
        script = bootstrap.ROOT / "tests" / "browser" / "spoil.mjs"
        subprocess.run([node, script, tmp_path / "runtime", fault], check=True)
        return tmp_path / "runtime"

    return make


def test_image_answers_as_cpython_does(site, node):
    """In the cases that every build asks: where one of the same files has just found so, what it counted is kept."""
    kept = bootstrap.ROOT / ".cache"
    assert runtime_of.compare(site / "assets" / "runtime", node, kept=kept, few=True)["cases"] > 500


@pytest.mark.slow
def test_image_answers_as_cpython_does_in_every_case(site, node):
    assert runtime_of.compare(site / "assets" / "runtime", node)["cases"] > 2000


@pytest.mark.slow
@pytest.mark.parametrize("fault", ["byte", "function"])
def test_a_fault_is_found(spoilt, node, fault):
    with pytest.raises(bootstrap.Missing, match=r"does not answer as CPython does|does not start"):
        runtime_of.compare(spoilt(fault), node, few=True)


def test_a_damaged_image_is_not_started(spoilt, site, node):
    folder = spoilt("byte")
    worker = next(path for path in folder.glob("worker.*.js") if ".disk." not in path.name)
    shutil.copy(site / "assets" / "runtime" / worker.name, worker)
    with pytest.raises(bootstrap.Missing, match="is not what it should be"):
        runtime_of.compare(folder, node, few=True)


def test_another_pyodide_stops_the_build_in_clear_words(node, tmp_path):
    """One in which something has another name."""
    shutil.copytree(bootstrap.BROWSER / "image", tmp_path / "image")
    shutil.copytree(bootstrap.BROWSER / "node_modules" / "pyodide", tmp_path / "node_modules" / "pyodide")
    machine = tmp_path / "node_modules" / "pyodide" / "pyodide.asm.wasm"
    machine.write_bytes(machine.read_bytes().replace(b"Py_NoSiteFlag", b"Py_NoSiteFlog"))
    script = tmp_path / "try.mjs"
    script.write_text('import { python } from "./image/python.mjs";\nawait python(new Uint8Array(0));\n')
    done = subprocess.run([node, script], capture_output=True, text=True, check=False)
    assert done.returncode
    assert re.search(
        r"cannot be made from Pyodide [\d.]+: it has no Py_NoSiteFlag\. Build with --ordinary", done.stderr
    )
