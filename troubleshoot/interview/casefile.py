"""A case file read at the door: every wrong name, number and unit said at once, with its line."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Any

from troubleshoot import units
from troubleshoot.errors import CaseError, UserError
from troubleshoot.inference.facts import CANT_TELL, Case, Given
from troubleshoot.knowledge.model import Family, Quantity, Sign
from troubleshoot.knowledge.places import PathKey
from troubleshoot.knowledge.schema import check_form
from troubleshoot.knowledge.yamlread import Document, read_file
from troubleshoot.problems import Problem, choose_from, nearest


def read_document(path: Path) -> Document:
    """Read a case file for form alone.  Raises CaseError with every problem."""
    document = read_file(path)
    problems = document.problems or check_form(document, "case")
    if problems:
        raise CaseError(sorted(problems))
    return document


def family_of(document: Document, known: Collection[str]) -> str:
    """Return the family a case names.  Raises CaseError when there is no such family."""
    family = str(document.data["family"])
    if family not in known:
        raise CaseError(
            [
                Problem(
                    document.place(("family",)), "family", f"there is no family '{family}'", choose_from(family, known)
                )
            ]
        )
    return family


def to_case(document: Document, family: Family) -> Case:
    """Turn a case document into a case of ``family``.  Raises CaseError with every problem."""
    return _CaseReader(document, family).case()


class _CaseReader:
    def __init__(self, document: Document, family: Family) -> None:
        self.document = document
        self.family = family
        self.problems: list[Problem] = []

    def case(self) -> Case:
        data: Mapping[str, Any] = self.document.data
        fault = data.get("fault")
        if fault is not None:
            self._known(("fault",), fault, self.family.faults, "fault")
        stage = data.get("stage")
        if stage is not None:
            self._known(("stage",), stage, [s.id for s in self.family.header.stages], "stage")
        answers = {
            key: given for key, value in data["answers"].items() if (given := self._answer(key, value)) is not None
        }
        quantities = {q.id: q for q in self.family.header.batch}
        batch = {
            key: number
            for key, value in data.get("batch", {}).items()
            if (number := self._quantity(key, value, quantities)) is not None
        }
        if self.problems:
            raise CaseError(sorted(self.problems))
        service = data.get("service_in_min")
        return Case(self.family.id, fault, answers, batch, None if service is None else float(service), stage)

    def _known(self, path: PathKey, word: str, known: Collection[str], what: str) -> bool:
        if word in known:
            return True
        self._problem(path, f"unknown {what} '{word}'", choose_from(word, known))
        return False

    def _problem(self, path: PathKey, wrong: str, advice: str) -> None:
        self.problems.append(Problem(self.document.place(path), str(path[-1]), wrong, advice))

    def _answer(self, sign_id: str, value: Any) -> Given | None:
        path: PathKey = ("answers", sign_id)
        if not self._known(path, sign_id, self.family.signs, "sign"):
            return None
        sign = self.family.signs[sign_id]
        if value == CANT_TELL:
            return Given()
        if isinstance(value, str):
            return self._word(path, sign, value)
        number = self._number(path, value, sign.measure.unit if sign.measure else None, sign.id)
        if number is None:
            return None
        if sign.measure is None:
            self._problem(path, f"{sign_id} takes a word, not a number", choose_from("", sign.answer_ids))
            return None
        if not sign.measure.low <= number <= sign.measure.high:
            self._problem(
                path,
                f"{number:g} {sign.measure.unit} is out of range",
                _between(sign.measure.low, sign.measure.high, sign.measure.unit),
            )
            return None
        return Given(value=number)

    def _word(self, path: PathKey, sign: Sign, word: str) -> Given | None:
        choices = (*sign.answer_ids, *sign.loosely, CANT_TELL)
        if word in choices:
            return Given(answer=word)
        if sign.measure is not None and word[:1].isdigit() and nearest(word, choices) is None:
            self._problem(
                path,
                f"'{word}' is text, not a number",
                f"write the number alone, or {{value: 1, unit: {sign.measure.unit}}}",
            )
        else:
            self._problem(path, f"unknown answer '{word}'", choose_from(word, choices))
        return None

    def _quantity(self, key: str, value: Any, quantities: Mapping[str, Quantity]) -> float | None:
        path: PathKey = ("batch", key)
        if not self._known(path, key, quantities, "batch figure"):
            return None
        quantity = quantities[key]
        if isinstance(value, str):
            try:
                value = dict(zip(("value", "unit"), units.parse_quantity(value), strict=True))
            except UserError as error:
                self._problem(path, str(error), f"write a number in {quantity.unit}")
                return None
        number = self._number(path, value, quantity.unit, key)
        if number is not None and not quantity.low <= number <= quantity.high:
            self._problem(
                path,
                f"{number:g} {quantity.unit} is out of range",
                _between(quantity.low, quantity.high, quantity.unit),
            )
            return None
        return number

    def _number(self, path: PathKey, value: Any, unit: str | None, name: str) -> float | None:
        if isinstance(value, bool):
            self._problem(path, f"{name} cannot be true or false", "write an answer or a number")
            return None
        if not isinstance(value, dict):
            return float(value)
        if unit is None:
            return float(value["value"])
        try:
            return units.convert(float(value["value"]), str(value["unit"]), unit)
        except UserError as error:
            self._problem((*path, "unit"), str(error), f"write a unit that can become {unit}")
            return None


def _between(low: float, high: float, unit: str) -> str:
    return f"write a number from {low:g} to {high:g} {unit}".rstrip()
