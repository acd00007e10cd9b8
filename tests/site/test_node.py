"""The tests of the JavaScript modules, run by Node's own test runner."""

import os
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
