"""The pages for whoever calculates from Python: all that can be called is there, as it is; examples show what they
print.
"""

import importlib
import inspect
import re

import pytest
import reference

from calc.engine.register import every


def test_every_calculator_stands_in_it_with_its_inputs_and_its_answer():
    html = reference.reference()
    for entry in every().values():
        name = entry.function.__name__
        item = re.search(rf"<dt><code>{name}\(.*?(?=<dt>|</dl>)", html)
        assert item, (
            f"{entry.id}: {name} is not among what its chapter offers (__all__ of calc.{entry.id.split('.')[0]})"
        )
        for output in entry.outputs:
            assert f"<code>{output}</code>" in html, (entry.id, output)


def test_signatures_are_those_of_the_code():
    """Names and whether they may be left out, as Python itself sees them."""
    for module in reference.chapters():
        there = importlib.import_module(module.path)
        for function in reference.callables(module):
            real = inspect.signature(inspect.unwrap(getattr(there, function.name)))
            told = reference.signature(function)
            for parameter in real.parameters.values():
                if parameter.kind is parameter.VAR_KEYWORD or parameter.name == "asked":  # which is no input
                    continue
                optional = " = …" if parameter.default is not parameter.empty else ""
                assert re.search(rf"\b{parameter.name}(: [^=]*?)?{optional}(, |\))", told), (told, parameter)
            assert "Annotated" not in told and "asked" not in told


def test_an_example_shows_what_it_prints():
    html = reference.ran("from calc.moisture import water_to_add\nprint(round(water_to_add(18.0, 0.55, 0.75), 3))")
    assert "<code>14.4</code></pre>" in html


def test_an_example_that_fails_stops_the_build():
    with pytest.raises(ValueError, match="NameError"):
        reference.ran("print(no_such_name)")


def test_the_page_has_its_thousand_lanes(site):
    assert "1000 lanes worked out" in (site / "method" / "python.html").read_text(encoding="utf-8")
