"""The calculations that rules may name, with what each needs and gives."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class KitchenFunction:
    """A calculation by name.  ``call`` takes keyword numbers and returns named numbers with units in their names."""

    name: str
    call: Callable[..., Mapping[str, float]]
    parameters: frozenset[str]
    required: frozenset[str]


FUNCTIONS: dict[str, KitchenFunction] = {}


def kitchen_function(function: Callable[..., Mapping[str, float]]) -> Callable[..., Mapping[str, float]]:
    """Register a calculation under its own name, so that rules and the Amounts place can use it."""
    parameters = inspect.signature(function).parameters
    FUNCTIONS[function.__name__] = KitchenFunction(
        name=function.__name__,
        call=function,
        parameters=frozenset(parameters),
        required=frozenset(name for name, p in parameters.items() if p.default is inspect.Parameter.empty),
    )
    return function
