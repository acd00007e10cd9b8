"""Adds what makes the pages live: scripts/browser/build.mjs makes it, each page gets one script tag."""

import contextlib
import hashlib
import html
import json
import os
import shutil
import subprocess
import sys

import bootstrap

IMAGE = bootstrap.BROWSER / "image"
HELD = 8
"""Comparisons that are remembered: the handbook and a few editions are built in turns."""


def make(folder, node, edition=None, kept=None, ordinary=False):
    """Make it in a folder of its own; returns the names of the files. kept: folder with what an earlier build left.

    edition: what calc.engine.register.use_edition is told when Python starts, for a farm's own defaults.
    ordinary: with Pyodide's own loader instead of an image of a Python that has started (scripts/browser/image).
    """
    command = [node, bootstrap.BROWSER / "build.mjs", "--calc", bootstrap.ROOT / "calc", "--out", folder]
    command += ["--edition", json.dumps(edition)] if edition else []
    command += ["--kept", kept] if kept else []
    command += ["--ordinary"] if ordinary else []
    return json.loads(bootstrap.run(command).splitlines()[-1])


def compare(runtime, node, edition=None, kept=None, few=False):
    """Stop unless the image in a folder answers as this Python does, in every case of scripts/browser/image/cases.py.

    What was found to hold for the same files is not looked at again. few: a selection of each calculator's cases.
    Returns what was counted.
    """
    rules = [path.read_bytes() for path in sorted(IMAGE.iterdir()) if path.is_file()]
    machine = [hashlib.sha256(rule).hexdigest() for rule in rules] + [path.name for path in runtime.glob("*.wasm")]
    names = sorted(path.name for path in runtime.iterdir() if path.suffix == ".bin" or "worker." in path.name)
    stamp = kept / f"held-{_short(machine)}-{_short([names, edition, few])}" if kept else None
    if stamp and stamp.exists():
        return json.loads(stamp.read_text(encoding="utf-8"))
    cases = [sys.executable, IMAGE / "cases.py", *(["--few"] if few else [])]
    cases += ["--edition", json.dumps(edition)] if edition else []
    environment = {**os.environ, "PYTHONPATH": str(bootstrap.ROOT)}
    with subprocess.Popen(cases, stdout=subprocess.PIPE, env=environment) as asked:
        found = json.loads(bootstrap.run([node, IMAGE / "gate.mjs", runtime], stdin=asked.stdout).splitlines()[-1])
    if asked.returncode:
        raise bootstrap.Missing("The cases to compare the image with could not be made: the message stands above.")
    if stamp:
        kept.mkdir(parents=True, exist_ok=True)
        stamp.write_text(json.dumps(found), encoding="utf-8")
        with contextlib.suppress(FileNotFoundError):  # another has just taken it away
            for old in sorted(kept.glob("held-*"), key=os.path.getmtime)[:-HELD]:
                old.unlink()
    return found


def _short(what):
    return hashlib.sha256(json.dumps(what).encode()).hexdigest()[:16]


def add(out, folder, made):
    """Move what was made into the site; returns two functions of the way to the top of the site.

    The first gives the tag of the page script. The second gives what stands at the very start of a page with
    calculators: it starts Python before style sheets and the theme's scripts keep the browser busy. From disk the page
    script has to do it.
    """
    shutil.copytree(folder, out, dirs_exist_ok=True)
    told = html.escape(
        json.dumps(
            {name: made[name] for name in made if name not in {"folder", "page", "startText"}}, separators=(",", ":")
        )
    )

    def script(top):
        return f'<script async src="{top}{made["folder"]}/{made["page"]}" data-runtime="{told}"></script>'

    def start(top):
        # A worker that begins as a blob begins at once; one with an address waits for the page's own scripts, and was
        # seen to fail.
        return (
            '<script>document.documentElement.classList.replace("no-js","js");var handbookTyped=[];'
            'addEventListener("input",'
            "function(event){handbookTyped.push(event.target)},true);var"
            ' handbookWorker=null;if(location.protocol.startsWith("http")&&!navigator.connection?.saveData)try{'
            'handbookWorker=new Worker(URL.createObjectURL(new Blob(["handbookFolder="+JSON.stringify(new'
            f' URL("{top}{made["folder"]}/",location.href).href)+";",'
            f"{json.dumps(made['startText'])}])));handbookWorker.onerror=function(){{this.broken=true}}}}catch{{}}</script>"
        )

    return script, start
