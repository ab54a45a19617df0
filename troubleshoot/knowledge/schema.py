"""JSON Schema at the door: every breach of form as a located, plain problem."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from typing import TYPE_CHECKING, Any

from troubleshoot import resources
from troubleshoot.knowledge.places import PathKey
from troubleshoot.knowledge.yamlread import MAX_PROBLEMS, Document
from troubleshoot.problems import Problem, choose_from

if TYPE_CHECKING:
    from jsonschema import Draft202012Validator
    from jsonschema.exceptions import ValidationError


@cache
def _validator(kind: str) -> Draft202012Validator:
    # Costs more than reading a family that was read before, which needs no validator.
    from jsonschema import Draft202012Validator

    text = (resources.folder("rules") / "schema" / f"{kind}.schema.json").read_text(encoding="utf-8")
    return Draft202012Validator(json.loads(text))


def make_ready() -> None:
    """Load every schema: the first file that is not known from before would wait for them, by a tenth of a second."""
    for path in sorted((resources.folder("rules") / "schema").glob("*.schema.json")):
        _validator(path.name.removesuffix(".schema.json"))


def check_form(document: Document, kind: str) -> list[Problem]:
    """Return every breach of the schema called ``kind`` in a document that was read."""
    # The library tells of each missing key apart, and each of those errors names them all: a problem is kept once.
    problems: dict[Problem, None] = {}
    for error in _validator(kind).iter_errors(document.data):
        problems.update(dict.fromkeys(_explain(document, error)))
        if len(problems) >= MAX_PROBLEMS:
            break
    return list(problems)[:MAX_PROBLEMS]


def _explain(document: Document, error: ValidationError) -> Iterator[Problem]:
    path: PathKey = tuple(error.absolute_path)
    schema: dict[str, Any] = error.schema if isinstance(error.schema, dict) else {}
    keyword = str(error.validator)
    value: Any = error.instance
    limit: Any = error.validator_value
    subject = str(path[-1]) if path else document.file.rsplit("/", 1)[-1]
    place = document.place(path)

    def problem(wrong: str, advice: str) -> Problem:
        return Problem(place, subject, wrong, advice)

    if keyword == "additionalProperties":
        known = schema.get("properties", {})
        for key in value:
            if key not in known:
                yield Problem(
                    document.place((*path, key)), str(key), "this key is not known here", choose_from(key, known)
                )
    elif keyword == "required":
        for key in limit:
            if key not in value:
                yield problem(f"the key '{key}' is missing", f"add '{key}:'")
    elif keyword == "type":
        wanted = " or ".join(_type_name(name) for name in ([limit] if isinstance(limit, str) else limit))
        yield problem(f"{_shown(value)} is not {wanted}", f"write {wanted}")
    elif keyword == "enum":
        choices = [str(choice) for choice in limit]
        yield problem(f"{_shown(value)} is not one of the words that can stand here", choose_from(str(value), choices))
    elif keyword == "pattern":
        yield problem(f"{_shown(value)} is not a name of the expected form", "use small letters, digits and _ only")
    elif keyword in ("minLength", "maxLength"):
        yield problem(
            f"the text is {len(value)} characters long",
            f"keep it between {schema.get('minLength', 0)} and {schema.get('maxLength', '…')}",
        )
    elif keyword in ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"):
        yield problem(f"{_shown(value)} is out of range", _range(schema))
    elif keyword in ("minItems", "maxItems", "minProperties", "maxProperties"):
        low = schema.get("minItems", schema.get("minProperties", 0))
        yield problem(f"there are {len(value)} entries", f"write at least {low}" + _at_most(schema))
    elif keyword == "uniqueItems":
        yield problem("an entry stands twice", "keep one")
    elif keyword in ("oneOf", "anyOf"):
        yield from _explain_choice(document, error, place, subject)
    else:  # pragma: no cover - every keyword of our schemas is named above
        yield problem(error.message[:200], "compare with the schema")


def _explain_choice(document: Document, error: ValidationError, place: Any, subject: str) -> Iterator[Problem]:
    branches: Any = error.validator_value
    asked = [
        " with ".join(branch["required"]) for branch in branches if isinstance(branch, dict) and "required" in branch
    ]
    if asked and str(error.validator) == "oneOf":
        yield Problem(place, subject, "it must say exactly one thing", "write one of: " + ", ".join(asked))
    else:
        yield Problem(
            place,
            subject,
            f"{_shown(error.instance)} cannot stand here",
            "write a name, a number, or a list of names as the schema says",
        )


def _shown(value: Any) -> str:
    text = "a mapping" if isinstance(value, dict) else "a list" if isinstance(value, list) else f"'{value}'"
    return text if len(text) <= 60 else text[:57] + "…'"


def _type_name(name: str) -> str:
    return {
        "object": "a mapping (key: value)",
        "array": "a list (- item)",
        "string": "text",
        "number": "a number",
        "integer": "a whole number",
        "boolean": "true or false",
    }.get(name, name)


def _range(schema: dict[str, Any]) -> str:
    parts = [
        f"{words} {schema[key]}"
        for key, words in (
            ("minimum", "at least"),
            ("exclusiveMinimum", "more than"),
            ("maximum", "at most"),
            ("exclusiveMaximum", "less than"),
        )
        if key in schema
    ]
    return "write a number " + " and ".join(parts)


def _at_most(schema: dict[str, Any]) -> str:
    return f" and at most {schema['maxItems']}" if "maxItems" in schema else ""
