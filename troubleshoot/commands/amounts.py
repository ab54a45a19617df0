"""``batchmend amounts``: the calculations that the remedies use, on their own."""

from __future__ import annotations

import argparse
import inspect
from pathlib import Path
from typing import Any

from troubleshoot import units
from troubleshoot.commands.output import print_json, print_text
from troubleshoot.errors import AmountError
from troubleshoot.kitchen import registry
from troubleshoot.problems import choose_from

#: The unit a name ends in, and the unit of the table it stands for.
_UNIT_ENDINGS = {
    "_g": "g",
    "_c": "degC",
    "_min": "min",
    "_m": "m",
    "_mm": "mm",
    "_ml": "ml",
    "_percent": "%",
    "_h": "h",
}


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("amounts", help="list the calculations, or do one")
    command.add_argument("name", nargs="?", metavar="NAME")
    command.add_argument("inputs", nargs="*", metavar="key=value", help="such as flour_g=150 or flour_g='5 oz'")
    command.add_argument("--json", action="store_true", help="print as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """List the calculations or do one."""
    if arguments.name is None:
        for name, function in sorted(registry.FUNCTIONS.items()):
            print_text(_first_line(function), first=f"{name}: ")
        return 0
    chosen = registry.FUNCTIONS.get(arguments.name)
    if chosen is None:
        raise AmountError(
            f"amounts: there is no calculation '{arguments.name}'; {choose_from(arguments.name, registry.FUNCTIONS)}"
        )
    inputs = _inputs(chosen, arguments.inputs)
    result = dict(chosen.call(**inputs))
    if arguments.json:
        print_json(
            {"calculation": chosen.name, "inputs": inputs, "result": result, "about": inspect.getdoc(chosen.call)}
        )
    else:
        for key, value in result.items():
            print(f"{key} = {value:.6g}")
        print()
        print(inspect.getdoc(chosen.call))
    return 0


def _first_line(function: registry.KitchenFunction) -> str:
    return (inspect.getdoc(function.call) or "").split("\n", 1)[0]


def _inputs(function: registry.KitchenFunction, words: list[str]) -> dict[str, float | str]:
    inputs: dict[str, float | str] = {}
    for word in words:
        key, separator, text = word.partition("=")
        if not separator or not text:
            raise AmountError(
                f"amounts: '{word}' is not key=value; write {min(function.parameters, default='flour_g')}=150"
            )
        if key not in function.parameters:
            raise AmountError(f"amounts: {function.name} has no input '{key}'; {choose_from(key, function.parameters)}")
        inputs[key] = _value(key, text)
    missing = sorted(function.required - set(inputs))
    if missing:
        raise AmountError(f"amounts: {function.name} also needs {', '.join(missing)}; write {missing[0]}=…")
    return inputs


def _value(key: str, text: str) -> float | str:
    ending = next((unit for end, unit in _UNIT_ENDINGS.items() if key.endswith(end)), None)
    if not any(ch.isdigit() for ch in text):
        return text
    value, unit = units.parse_quantity(text)
    if unit and ending is not None:
        return units.convert(value, unit, ending)
    return value
