"""The figures in a remedy's steps, worked out for this batch by the kitchen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from troubleshoot.errors import AmountError
from troubleshoot.inference.facts import Case
from troubleshoot.inference.reason import case_input
from troubleshoot.kitchen import registry
from troubleshoot.knowledge.model import Amounts, FamilyHeader, Remedy


@dataclass(frozen=True, slots=True)
class WorkedAmounts:
    """The figures by placeholder name, the batch figures assumed or missing, and what the kitchen said."""

    figures: Mapping[str, float]
    assumed: Mapping[str, float]
    missing: tuple[str, ...]
    notes: tuple[str, ...]


def work_out(remedy: Remedy, case: Case, header: FamilyHeader) -> WorkedAmounts:
    """Return every figure that the steps of ``remedy`` name.

    A batch figure that was not given falls back to the remedy's example, then to the
    family's usual batch, at the size of whatever was given; such figures are listed in ``assumed``.
    """
    figures: dict[str, float] = {}
    assumed: dict[str, float] = {}
    missing: list[str] = []
    notes: list[str] = []
    for amounts in remedy.amounts:
        function = registry.FUNCTIONS[amounts.by]
        inputs, guessed, lacking = _inputs(amounts, case, header, function.required)
        missing.extend(lacking)
        if function.required.intersection(name for name in amounts.inputs if name not in inputs):
            continue
        try:
            figures.update(function.call(**inputs))
            assumed.update(guessed)
        except AmountError as error:
            notes.append(str(error))
    return WorkedAmounts(figures, assumed, tuple(dict.fromkeys(missing)), tuple(dict.fromkeys(notes)))


def _inputs(
    amounts: Amounts, case: Case, header: FamilyHeader, required: frozenset[str]
) -> tuple[dict[str, float | str], dict[str, float], list[str]]:
    """Return the inputs, those of them that were guessed, and what is lacking of those that must be given."""
    usual = {quantity.id: quantity.usual for quantity in header.batch if quantity.usual is not None}
    growing = {quantity.id for quantity in header.batch if quantity.grows}
    size = _size(case, {name: value for name, value in usual.items() if name in growing})
    inputs: dict[str, float | str] = {}
    guessed: dict[str, float] = {}
    lacking: list[str] = []
    for parameter, source in amounts.inputs.items():
        value = case_input(source, case)
        if value is None and isinstance(source, str):
            name = source.split(".", 1)[1]
            fallback = amounts.example.get(parameter, usual.get(name))
            if fallback is None:
                lacking += [name] if parameter in required else []
                continue
            value = guessed[name] = fallback * (size if name in growing else 1.0)
        if value is not None:
            inputs[parameter] = value
    return inputs, guessed, lacking


def _size(case: Case, usual: Mapping[str, float]) -> float:
    """Return how large the batch is against the usual one, by the first growing figure that was given."""
    return next((case.batch[name] / usual[name] for name in usual if name in case.batch), 1.0)
