"""Every calculation that rules may name is found, and keeps the common shape."""

from __future__ import annotations

import ast
import inspect
import subprocess
import sys
from pathlib import Path

import pytest

import troubleshoot.kitchen
from troubleshoot.errors import AmountError
from troubleshoot.kitchen.registry import FUNCTIONS

CHOUX = {
    "weight_loss_percent", "egg_to_flour", "baked_to_piped", "conventional_equivalent", "stiffen_with_panade",
    "stiffen_wet_paste", "panade_for_share", "panade_without_butter", "water_to_give_back", "pan_back_to_start",
    "egg_still_to_add", "eggs_to_weigh", "hold_back_egg", "part_of_paste", "paste_in_half", "shells_from_paste",
    "drying_after_bake", "liquid_for_cocoa",
}  # fmt: skip
HERE = Path(troubleshoot.kitchen.__file__).parent


def test_importing_the_registry_alone_fills_it():
    """A fresh interpreter that imports only the registry knows the choux calculations."""
    code = "from troubleshoot.kitchen import registry; print(*registry.FUNCTIONS)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=HERE.parents[1])
    assert set(done.stdout.split()) >= CHOUX


def test_no_two_calculations_share_a_name():
    """Every registered function is found under its name; none hides another."""
    registered = sum(path.read_text(encoding="utf-8").count("\n@kitchen_function\n") for path in HERE.glob("*.py"))
    assert registered == len(FUNCTIONS)


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_every_calculation_says_what_it_does_and_where_it_is_from(name):
    """The docstring has a first line that says what is returned, and names its source."""
    text = inspect.getdoc(FUNCTIONS[name].call) or ""
    assert text.startswith("Return")
    assert "Source:" in text
    assert "Units:" in text or not FUNCTIONS[name].parameters


#: What stands for the inputs that are words.
WORDS = {
    "oven_kind": "fan", "coating": "dark", "use": "glaze", "country": "uk", "cream_name": "uk_double",
    "family": "choux", "scheme": "uk", "standard": "eu_chocolate", "work": "creaming",
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(name for name, function in FUNCTIONS.items() if function.required - set(WORDS)))
@pytest.mark.parametrize("bad", [float("nan"), float("inf"), None, "12", True])
def test_no_calculation_takes_what_is_no_number(name, bad):
    """Whatever is not a finite number is refused in a sentence and never worked with."""
    function = FUNCTIONS[name]
    given = {key: WORDS.get(key, bad) for key in function.required}
    with pytest.raises(AmountError, match=r"\.$"):
        function.call(**given)


@pytest.mark.parametrize("path", sorted(HERE.glob("*.py")), ids=lambda path: path.name)
def test_the_kitchen_stands_alone(path):
    """The kitchen imports the standard library, numpy, the errors and itself; files stay under 400 lines."""
    text = path.read_text(encoding="utf-8")
    assert text.count("\n") < 400
    for node in ast.walk(ast.parse(text)):
        names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        for name in names:
            own = name.startswith("troubleshoot.kitchen") or name == "troubleshoot.errors"
            assert own or name.split(".")[0] in {*sys.stdlib_module_names, "numpy"}, name
