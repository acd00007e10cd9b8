"""The package as others get it: built from this folder without a network, installed, called, and checked with its
types.
"""

import json
import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import bootstrap
import pytest
from flit_core import buildapi

import calc

ROOT = bootstrap.ROOT


def ran(*command, folder, path=None):
    """What a command printed, run outside this folder; PYTHONPATH as given."""
    environment = {**os.environ, "PYTHONPATH": str(path or ""), "PYTHONSAFEPATH": "yes", "PIP_NO_INDEX": "yes"}
    done = subprocess.run(
        [str(part) for part in command], cwd=folder, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """(wheel, sdist) of this folder."""
    folder = tmp_path_factory.mktemp("built")
    before = Path.cwd()
    os.chdir(ROOT)
    try:
        return folder / buildapi.build_wheel(str(folder)), folder / buildapi.build_sdist(str(folder))
    finally:
        os.chdir(before)


@pytest.fixture(scope="module")
def installed(built, tmp_path_factory):
    """Where pip has put the wheel."""
    folder = tmp_path_factory.mktemp("installed")
    ran(sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--target", folder, built[0], folder=folder)
    return folder


def test_wheel_holds_the_package_its_types_its_licence_and_nothing_else(built):
    with zipfile.ZipFile(built[0]) as wheel:
        names = wheel.namelist()
    ours = {path.relative_to(ROOT).as_posix() for path in (ROOT / "calc").rglob("*.py")} | {"calc/py.typed"}
    assert {name for name in names if name.startswith("calc/")} == ours
    assert all(name.startswith(("calc/", "lane_handbook-")) for name in names)
    assert any(name.endswith("licenses/LICENSE") for name in names)


def test_sdist_makes_the_same_wheel(built, tmp_path):
    with tarfile.open(built[1]) as archive:
        archive.extractall(tmp_path, filter="data")
    source = next(tmp_path.glob("lane_handbook-*"))
    folder = tmp_path / "again"
    folder.mkdir()
    code = "import sys; from flit_core import buildapi; print(buildapi.build_wheel(sys.argv[1]))"
    name = ran(sys.executable, "-c", code, folder, folder=source).strip()
    with zipfile.ZipFile(folder / name) as again, zipfile.ZipFile(built[0]) as wheel:
        assert again.namelist() == wheel.namelist()
        assert all(again.read(name) == wheel.read(name) for name in wheel.namelist())


def test_command_answers_as_the_module_does(installed):
    words = ["moisture.adjust", "mass=40 lb", "moisture=55%", "target=75%", "--json"]
    command = ran(sys.executable, installed / "bin" / "lane-handbook", *words, folder=installed, path=installed)
    module = ran(sys.executable, "-m", "calc", *words, folder=installed, path=installed)
    here = calc.run("moisture.adjust", {"mass": "40 lb", "moisture": "55%", "target": "75%"})
    assert json.loads(command) == json.loads(module) == json.loads(json.dumps(here))


def test_command_says_its_own_name(installed):
    told = ran(sys.executable, installed / "bin" / "lane-handbook", "--help", folder=installed, path=installed)
    assert told.startswith("usage: lane-handbook ")


def test_it_needs_nothing_but_python(installed):
    code = (
        "import calc, sys; [calc.run(id) for id in calc.calculators()];"
        " print(sorted({name.split('.')[0] for name in sys.modules} - set(sys.stdlib_module_names)))"
    )
    assert ran(sys.executable, "-S", "-c", code, folder=installed, path=installed) == "['__main__', 'calc']\n"


TYPED = """
import calc
from calc.moisture import adjust

found = calc.run("moisture.adjust", {"mass": "40 lb"})
if "errors" not in found:
    low: float | None = found["outputs"]["water"].get("low")
mass: float = adjust(mass=18.0, moisture=0.55, target=0.75).water_to_add
"""
WRONG = {
    "adjust(mas=18.0)": 'Unexpected keyword argument "mas"',
    'adjust(mass="forty")': 'incompatible type "str"',
    "adjust(mass=18.0).watter": 'has no attribute "watter"',
    'calc.run("moisture.adjust", units=3)': 'incompatible type "int"',
}


def test_its_types_are_those_that_it_says(tmp_path):
    """A program that uses it rightly has nothing to mend; one that does not is told where."""
    program = tmp_path / "program.py"
    wrong = TYPED + "\n".join(WRONG) + "\n"
    program.write_text(wrong)
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--config-file=", "--cache-dir", ROOT / ".cache" / "mypy", program],
        cwd=tmp_path,
        env={**os.environ, "MYPYPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    told = [line for line in done.stdout.splitlines() if "error:" in line]
    first = len(TYPED.splitlines()) + 1
    for place, (line, message) in enumerate(WRONG.items()):
        assert any(f"program.py:{first + place}: " in said and message in said for said in told), (line, done.stdout)
    assert len(told) == len(WRONG), done.stdout


def test_lint_and_format_see_every_file():
    """A word in a list of exceptions once left out two folders, and nobody was told."""
    folders = ("calc", "scripts", "tests")
    command = [sys.executable, "-m", "ruff", "check", "--show-files", *folders]
    seen = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.split("\n")
    there = {str(path) for folder in folders for path in (ROOT / folder).rglob("*.py")}
    assert {path for path in there if "node_modules" not in path} <= set(seen)
