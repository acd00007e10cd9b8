"""What the handbook is made of, for machines: a bill of materials in CycloneDX 1.6 (ECMA-424), made at each build.

Shipped parts are `required`; what only builds and tests is `excluded`, from the lock files, with the hashes that each
install checks. The same lock files give the same text.
"""

import base64
import json
import re
from pathlib import Path
from typing import Any

import bootstrap
import shipped

NAME = "parts.cdx.json"
LOCKS = bootstrap.ROOT / "scripts" / "lock"
PINNED = re.compile(r"^([A-Za-z0-9._-]+)==(\S+)", re.MULTILINE)
HASH = re.compile(r"--hash=sha256:([0-9a-f]{64})")


def from_python() -> dict[str, dict[str, Any]]:
    """{address of a package: component} of all locked Python packages."""
    found: dict[str, dict[str, Any]] = {}
    for lock in sorted(LOCKS.glob("*.txt")):
        text = lock.read_text(encoding="utf-8")
        starts = list(PINNED.finditer(text))
        for start, following in zip(starts, [*starts[1:], None], strict=True):
            hashes = HASH.findall(text[start.end() : following.start() if following else len(text)])
            made = component("pypi", start[1].lower(), start[2])
            if len(hashes) == 1:  # several are of builds for several machines: which one was taken is not known here
                made["hashes"] = [{"alg": "SHA-256", "content": hashes[0]}]
            found[made["purl"]] = made
    return found


def from_node() -> dict[str, dict[str, Any]]:
    """{address of a package: component} of all locked Node packages."""
    found: dict[str, dict[str, Any]] = {}
    for lock in sorted(bootstrap.BROWSER.rglob("package-lock.json")):
        if "node_modules" in lock.parts:
            continue
        for path, about in json.loads(lock.read_text(encoding="utf-8"))["packages"].items():
            name = path.rpartition("node_modules/")[2]
            if not name:
                continue
            made = component("npm", name, about["version"], about.get("license", ""))
            algorithm, _, content = about.get("integrity", "").partition("-")
            if algorithm == "sha512":
                made["hashes"] = [{"alg": "SHA-512", "content": base64.b64decode(content).hex()}]
            found[made["purl"]] = made
    return found


def component(kind: str, name: str, version: str, terms: str = "") -> dict[str, Any]:
    """One part, not shipped until it is said so."""
    made: dict[str, Any] = {"type": "library", "name": name, "version": version, "scope": "excluded"}
    if terms:
        made["licenses"] = [{"license": {"name": terms}}]
    made["purl"] = made["bom-ref"] = f"pkg:{kind}/{name.replace('@', '%40')}@{version}"
    return made


def bill() -> dict[str, Any]:
    """The whole bill."""
    found = from_python() | from_node()
    for name, version, terms, use, _ in shipped.everything():
        kind = "pypi" if name in shipped.PYTHON else "npm"
        made = component(kind, name, version, terms)
        found[made["purl"]] = found.get(made["purl"], {}) | made | {"scope": "required", "description": use}
    return {
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": {"component": {"type": "application", "name": "The Lane Handbook", "bom-ref": "handbook"}},
        "components": [found[purl] for purl in sorted(found)],
    }


def add(out: Path) -> None:
    """Write the bill beside the licences."""
    text = json.dumps(bill(), indent=1, ensure_ascii=False) + "\n"
    (out / shipped.FOLDER / NAME).write_text(text, encoding="utf-8")
