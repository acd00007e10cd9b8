"""Adds what makes the pages live: scripts/browser/build.mjs makes it, each page gets one script tag."""

import html
import json
import shutil

import bootstrap


def make(folder, node, edition=None, kept=None):
    """Make it in a folder of its own; returns the names of the files. kept: folder with what an earlier build left.
    edition: what calc.engine.register.use_edition is told when Python starts, for a farm's own defaults."""
    command = [node, bootstrap.BROWSER / "build.mjs", "--calc", bootstrap.ROOT / "calc", "--out", folder]
    command += ["--edition", json.dumps(edition)] if edition else []
    command += ["--kept", kept] if kept else []
    return json.loads(bootstrap.run(command).splitlines()[-1])


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
            '<script>document.documentElement.classList.replace("no-js","js");var'
            ' handbookWorker=null;if(location.protocol.startsWith("http"))try{'
            'handbookWorker=new Worker(URL.createObjectURL(new Blob(["handbookFolder="+JSON.stringify(new'
            f' URL("{top}{made["folder"]}/",location.href).href)+";",'
            f"{json.dumps(made['startText'])}])));handbookWorker.onerror=function(){{this.broken=true}}}}catch{{}}</script>"
        )

    return script, start
