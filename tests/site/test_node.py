"""The tests of the JavaScript modules, run by Node's own test runner."""

import os
import re
import subprocess

import bootstrap
import pytest

FILES = sorted((bootstrap.ROOT / "tests").rglob("*.test.mjs"))


@pytest.mark.parametrize("path", FILES, ids=[path.relative_to(bootstrap.ROOT / "tests").as_posix() for path in FILES])
def test_javascript(path, node):
    environment = {name: value for name, value in os.environ.items() if name != "NODE_TEST_CONTEXT"}
    done = subprocess.run(
        [node, "--test", str(path)], cwd=bootstrap.ROOT, capture_output=True, text=True, env=environment, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_no_package_runs_a_script_when_it_is_installed():
    """A package that was taken over by somebody else would run it on every machine that builds the handbook."""
    installs = [
        call
        for path in (bootstrap.ROOT / "scripts").rglob("*.py")
        if "node_modules" not in path.parts
        for call in re.findall(r"\[\*[\w.]*npm\(.*?\]", path.read_text(encoding="utf-8"), re.DOTALL)
    ]
    assert len(installs) == 2 and all('"ci", "--ignore-scripts"' in call for call in installs), installs
