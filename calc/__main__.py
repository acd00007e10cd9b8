"""The calculators from a terminal.

python -m calc                                   every calculator: id, question
python -m calc moisture.adjust                   what it asks for and what it answers with
python -m calc moisture.adjust mass="40 lb" moisture=55% target=75% --json
"""

import argparse
import json
import sys
from collections.abc import Mapping, Sequence
from io import TextIOWrapper
from pathlib import Path
from typing import Any, NoReturn

from calc import calculators, run
from calc.engine.describe import Input, Refused
from calc.engine.quantity import symbol
from calc.engine.register import find, use_edition
from calc.engine.run import Answered, answer, answer_at


def main(arguments: Sequence[str] | None = None) -> int:
    options = _parser().parse_intermixed_args(arguments)
    if options.farm and (faults := _use_farm(options)):
        print(faults, file=sys.stderr)
        return 2
    if not options.calculator:
        for id, question in calculators().items():
            print(f"{id:28} {question}")
        return 0
    values, problems = {}, []
    for pair in options.values:
        name, sign, text = pair.partition("=")
        if sign:
            values[name] = text
        else:
            problems.append({"input": name, "message": f"Write an input as name=value; “{pair}” has no =."})
    if options.aim and not options.vary:
        problems.append({"input": "vary", "message": "Say with --vary which input may move."})
    asked = values or options.json or options.aim or options.moves or options.range
    if not asked and not problems:
        return _print_description(options)
    aim = None
    if options.aim and options.vary:
        name, _, wanted = options.aim.partition("=")
        aim = name.strip(), wanted.strip()
    result = run(
        options.calculator,
        values,
        units=options.units,
        currency=options.currency,
        aim=aim,
        vary=options.vary,
        moves=options.moves,
        range_of=options.range,
    )
    if problems:
        others = result["errors"] if "errors" in result else []  # noqa: SIM401  # only what is declined has them
        result = {"calculator": options.calculator, "errors": problems + others}
    if options.json:
        print(json.dumps(result, ensure_ascii=False, indent=1))
    elif "errors" in result:
        for error in result["errors"]:
            print(f"{error['input'] or options.calculator}: {error['message']}", file=sys.stderr)
    else:
        _print_answer(options, values, result)
    return 2 if "errors" in result else 0


def _use_farm(options: argparse.Namespace) -> str:
    """Take the defaults, units and currency of a farm's own file; what is wrong with it, or nothing.

    The file is read by the code that builds a farm's own copy, so both have the same messages and the same defaults.
    """
    folder = Path(__file__).resolve().parents[1] / "scripts" / "site"
    if not (folder / "farm.py").is_file():
        return "A farm's own file is read by the handbook's repository: run this command in its folder."
    sys.path.insert(0, str(folder))
    import farm  # type: ignore[import-not-found,unused-ignore]  # of the repository

    try:
        found = farm.load(options.farm)
    except SystemExit as wrong:
        return str(wrong)
    use_edition(found.values, found.units, found.currency)
    options.units = options.units or found.units
    options.currency = found.currency if options.currency == "$" else options.currency
    return ""


def _called() -> str:
    """How this was called: as the command that comes with the package, or as a module."""
    return "python -m calc" if sys.argv[0].endswith("__main__.py") else "lane-handbook"


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog=_called(), description="Calculators for keeping composting worms.")
    parser.add_argument("calculator", nargs="?", help="such as moisture.adjust; without it, all are listed")
    parser.add_argument(
        "values",
        nargs="*",
        metavar="name=value",
        help='inputs, such as mass="40 lb"; a bare number is in the unit shown',
    )
    parser.add_argument("--farm", metavar="FILE", help="a farm's own file: its defaults, units and currency are used")
    parser.add_argument("--json", action="store_true", help="print one JSON object of SI values")
    parser.add_argument(
        "--units", choices=("us", "metric"), help="units shown, and of numbers written without one (without it: SI)"
    )
    parser.add_argument("--currency", default="$", help="label of money")
    parser.add_argument("--aim", metavar="OUTPUT=VALUE", help="find the input that gives this output")
    parser.add_argument("--vary", metavar="INPUT", help="the input that may move")
    parser.add_argument("--moves", metavar="OUTPUT", help="what moves this output, widest first")
    parser.add_argument("--range", metavar="OUTPUT", help="10th, 50th and 90th percentile over the uncertain inputs")
    return parser


def _print_description(options: argparse.Namespace) -> int:
    try:
        entry = find(options.calculator)
    except Refused as refused:
        print(refused, file=sys.stderr)
        return 2
    print(f"{entry.id}: {entry.question}\n\nInputs")
    for name, item in entry.inputs.items():
        print(f"  {name} = {_default_and_limits(item, entry.defaults[name], options)}")
        print(f"      {item.label}. {entry.help_of(name)}".rstrip())
    print("\nOutputs")
    for name, output in entry.outputs.items():
        sign = symbol(output.shown(options.units), options.currency)
        print(f"  {name} {f'in {sign}' if sign else ''}")
        print(f"      {output.label}. {output.meaning}".rstrip())
    return 0


def _default_and_limits(item: Input, default: Any, options: argparse.Namespace) -> str:
    """`18 kg [0.01 to 1000000]` of a number, what may be chosen, or how many rows of which columns."""
    limits = item.limits_text(options.units, options.currency)
    if item.rows:
        return f"{len(default or ())} rows of {limits}"
    shown = item.text(default, options.units, options.currency) or "blank"
    return " ".join(part for part in (shown, item.sign(options.units, options.currency), limits) if part)


def _print_answer(options: argparse.Namespace, values: Mapping[str, str], result: Answered) -> None:
    view = answer(options.calculator, values, options.units, options.currency)
    if "aim" in result:
        view = answer_at(view, result["aim"])
        if result["aim"]["reached"]:
            print(f"{view.description(options.vary).label}: {view[options.vary]}")
        if "message" in result["aim"]:
            print(result["aim"]["message"])
    for name, output in view.entry.outputs.items():
        print(f"{output.label}: {view[name]}")
    for title, lines in (("Mind", [sentence for _, sentence in view.shown.warnings]), ("Reading", view.shown.reading)):
        if lines:
            print(f"\n{title}")
            for line in lines:
                print(f"  {line}")
    if "moves" in result:
        print(f"\nmoves: {json.dumps(result['moves'], ensure_ascii=False)}")
    if "range" in result:
        told = {key: value for key, value in result["range"].items() if key != "histogram"}
        print(f"\nrange: {json.dumps(told, ensure_ascii=False)}")


def command() -> NoReturn:
    """The whole of a process: main, with an end without a traceback where the terminal is at fault."""
    if isinstance(sys.stdout, TextIOWrapper):  # one that lacks a letter, or bytes that are none
        sys.stdout.reconfigure(errors="backslashreplace")
    try:
        sys.exit(main())
    except BrokenPipeError:
        sys.exit(1)


if __name__ == "__main__":
    command()
