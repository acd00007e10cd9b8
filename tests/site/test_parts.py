"""The bill of materials: every locked package once, what is shipped and under which terms, the same text each time."""

import json
import re

import parts
import shipped

FREE = re.compile(r"MIT|BSD|ISC|Apache|MPL|OFL|Python|PSF|0BSD|CC0|Unlicense|BlueOak|see text", re.IGNORECASE)


def test_every_shipped_part_is_named_with_its_terms():
    bill = parts.bill()
    assert (bill["bomFormat"], bill["specVersion"]) == ("CycloneDX", "1.6")
    required = {(part["name"], part["version"]): part for part in bill["components"] if part["scope"] == "required"}
    assert set(required) == {(name, version) for name, version, *_ in shipped.everything()}
    for part in required.values():
        assert FREE.search(part["licenses"][0]["license"]["name"]), part


def test_every_locked_package_is_named_once():
    components = parts.bill()["components"]
    assert len({part["bom-ref"] for part in components}) == len(components) > 100
    names = {part["name"] for part in components}
    assert {"mkdocs-material", "pytest", "esbuild", "pyodide", "lighthouse"} <= names
    assert all(part["version"] for part in components)


def test_two_bills_are_the_same():
    assert json.dumps(parts.bill()) == json.dumps(parts.bill())
