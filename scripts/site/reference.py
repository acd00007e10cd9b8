"""What Python code can call, read off the sources with griffe: names, signatures, the sentence that says what comes
back.
"""

import ast
import contextlib
import io
import re
import traceback
from collections.abc import Iterator
from functools import cache
from html import escape

import bootstrap
import griffe

CLOSED = ("engine", "facts", "page", "drawings")
"""Rooms that other rooms use; whoever calculates does not need them."""


@cache
def package() -> griffe.Module:
    return griffe.load("calc", search_paths=[str(bootstrap.ROOT)], docstring_parser=None)


def chapters() -> Iterator[griffe.Module]:
    """The front door, then each chapter in its order."""
    from calc.engine.register import every

    whole = package()
    yield whole
    for name in dict.fromkeys(id.split(".")[0] for id in every()):
        yield whole.modules[name]


def callables(module: griffe.Module) -> Iterator[griffe.Function]:
    """The functions that a module offers by name, in alphabetical order."""
    for name in sorted(module.exports or ()):
        member = module.members[str(name)]
        found = member.final_target if isinstance(member, griffe.Alias) else member
        if isinstance(found, griffe.Module):  # named as the one function that it is there for
            found = found.members.get(str(name))
        if isinstance(found, griffe.Function):
            yield found


def bare(annotation: object) -> str:
    """A type as it is written, without the description that it carries: `float` of Annotated[float, Number(…)]."""
    text = str(annotation or "")
    try:
        tree = ast.parse(text, mode="eval").body
    except SyntaxError:
        return text
    if isinstance(tree, ast.Subscript) and getattr(tree.value, "id", "") == "Annotated":
        described = tree.slice
        return ast.unparse(described.elts[0] if isinstance(described, ast.Tuple) else described)
    return text


def named(annotation: object, within: griffe.Module) -> str:
    """A type, where a name of calc.inputs stands for it as well."""
    text = bare(annotation)
    for module in (within, package().modules["inputs"]):
        member = module.members.get(text)
        try:
            target = member.final_target if isinstance(member, griffe.Alias) else member
        except griffe.AliasResolutionError:  # of another package
            target = None
        if isinstance(target, griffe.Attribute) and "Annotated" in str(target.value):
            return bare(target.value)
    return text


def signature(function: griffe.Function) -> str:
    """A function with its parameters, their types and whether they may be left out."""
    parts = []
    for parameter in function.parameters:
        if parameter.name == "asked":  # what a calculator hands on to itself
            continue
        star = (
            {"variadic positional": "*", "variadic keyword": "**"}.get(parameter.kind.value, "")
            if parameter.kind
            else ""
        )
        kind = named(parameter.annotation, function.module)
        typed = f"{star}{parameter.name}: {kind}" if kind else f"{star}{parameter.name}"
        parts.append(typed + (" = …" if parameter.default is not None and not star else ""))
    back = named(function.returns, function.module)
    return f"{function.name}({', '.join(parts)}) → {back}"


def said(function: griffe.Function) -> str:
    """The docstring up to its examples."""
    return function.docstring.value.partition(">>>")[0].strip() if function.docstring else ""


def answered(function: griffe.Function) -> str:
    """What the answer of a calculator holds, name by name with its unit; nothing for a function that is none."""
    from calc.engine.register import every

    for entry in every().values():
        own = entry.function
        if (own.__module__, own.__name__) == (function.module.path, function.name):
            items = [f"<code>{name}</code>{unit(output.unit)}" for name, output in entry.outputs.items()]
            return f"<dd>In its answer: {', '.join(items)}.</dd>"
    return ""


def unit(name: str) -> str:
    return "" if name == "1" else f" [{escape(name)}]"


def coded(text: str) -> str:
    """Words of a docstring as HTML: what stands between backticks is code."""
    return re.sub(r"`([^`]+)`", r"<code>\1</code>", escape(text))


def reference() -> str:
    """Every function that a chapter offers, chapter by chapter."""
    parts = []
    for module in chapters():
        items = "".join(
            f"<dt><code>{escape(signature(function))}</code></dt>"
            + "".join(f"<dd>{coded(' '.join(part.split()))}</dd>" for part in said(function).split("\n\n") if part)
            + answered(function)
            for function in callables(module)
        )
        told = module.docstring.value.partition("\n")[0] if module.docstring else ""
        parts.append(
            f'<h2 id="{module.path.replace(".", "-")}">{module.path}</h2><p>{escape(told)}</p><dl>{items}</dl>'
        )
    return f'<div class="reference">{"".join(parts)}</div>'


def ran(source: str) -> str:
    """Python code with what it prints, run when the page is made."""
    printed = io.StringIO()
    try:
        with contextlib.redirect_stdout(printed):
            exec(compile(source, "the example", "exec"), {"__name__": "example"})  # noqa: S102  # a page of ours
    except Exception as error:
        raise ValueError("the example fails:\n" + traceback.format_exc(limit=-1)) from error
    return _shown("Code", source) + _shown("What it prints", printed.getvalue().rstrip())


def _shown(label: str, text: str) -> str:
    return f'<pre tabindex="0" role="group" aria-label="{label}"><code>{escape(text)}</code></pre>'
