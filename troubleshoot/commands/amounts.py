"""``batchmend amounts``: the calculations that the remedies use, on their own."""

from __future__ import annotations

import argparse
import dataclasses
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from troubleshoot import profile, settings, worked
from troubleshoot.advice.wording import Wording
from troubleshoot.commands.output import print_json, print_text
from troubleshoot.errors import AmountError
from troubleshoot.kitchen import plots, registry
from troubleshoot.kitchen.card import Card, card, topics
from troubleshoot.kitchen.inputs import Choice, Input, Record
from troubleshoot.kitchen.tables import TABLES, Table
from troubleshoot.plotting import write_plot
from troubleshoot.problems import choose_from

EPILOG = (
    "Units may be written: butter_g='4 oz', celsius='140 F', altitude_m='4500 ft'. A bare number is in the unit that "
    "the name ends in."
)


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("amounts", help="list the calculations, or do one", epilog=EPILOG)
    command.add_argument("name", nargs="?", metavar="NAME")
    command.add_argument("inputs", nargs="*", metavar="key=value", help="such as flour_g=150 or flour_g='5 oz'")
    command.add_argument("--json", action="store_true", help="print as JSON")
    command.add_argument(
        "--plot", type=Path, metavar="FILE", help="also draw it, as .png or .svg, where there is a plot"
    )
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """List the calculations, show what one needs, or do it."""
    if arguments.name is None:
        _list(as_json=arguments.json)
        return 0
    if arguments.name in TABLES:
        _show_table(arguments)
        return 0
    if arguments.name not in registry.FUNCTIONS:
        names = (*registry.FUNCTIONS, *TABLES)
        raise AmountError(f"amounts: there is no calculation '{arguments.name}'; {choose_from(arguments.name, names)}")
    chosen = card(arguments.name)
    kitchen = settings.load().settings
    wording = kitchen.wording()
    typed = _typed(chosen, arguments.inputs)
    # Machine output does not depend on this kitchen's settings: the same input gives the same bytes.
    known = {} if arguments.json or not typed else _known(chosen, typed, profile.inputs(kitchen))
    if not typed and any(given.needed for given in chosen.inputs) and not arguments.plot and not arguments.json:
        _about(chosen, wording)
        return 0
    try:
        inputs, result = worked.work_out(chosen, {**typed, **known})
    except AmountError as error:
        raise AmountError(f"amounts: {error}") from None
    if arguments.plot is not None:
        write_plot(plots.plot_of(chosen.name, inputs), arguments.plot, wording)
    if arguments.json:
        print_json({"calculation": chosen.name, "inputs": inputs, "result": result, "about": as_data(chosen)})
        return 0
    for figure in worked.figures(result, wording):
        print_text(f"{figure.words}: {figure.shown}  ({figure.name} = {figure.value:.6g})")
    for given in chosen.inputs:
        if given.name in known:
            print_text(f"{worked.label(given, wording)}: {known[given.name]}, from your kitchen's profile")
    print()
    _rests_on(chosen)
    if arguments.plot is not None:
        print_text(str(arguments.plot), first="Drawn: ")
    return 0


def as_data(chosen: Card) -> dict[str, Any]:
    """Return a card as plain data."""
    return {
        "name": chosen.name,
        "topic": chosen.topic,
        "does": chosen.does,
        "formula": chosen.formula,
        "units": chosen.units,
        "limits": chosen.limits,
        "refuses": chosen.errors,
        "source": chosen.source,
        "contested": chosen.contested,
        "inputs": [
            {"name": given.name, "words": worked.label(given), "needed": given.needed, "usual": given.usual}
            | (
                {"unit": given.about.unit, "low": given.about.low, "high": given.about.high}
                if isinstance(given.about, Input)
                else {"answers": list(given.about.answers)}
                if isinstance(given.about, Choice)
                else {"how": given.about.how}
            )
            for given in chosen.inputs
        ],
    }


def _list(as_json: bool) -> None:
    if as_json:
        print_json([as_data(one) for cards in topics().values() for one in cards])
        return
    for topic, cards in topics().items():
        print(topic)
        for one in cards:
            print_text(one.does, "  ", f"{one.name}: ")
        for table in (make() for make in TABLES.values()):
            if table.topic == topic:
                print_text(f"{table.title}. {table.note}", "  ", f"{table.name}: ")
        print()
    print_text("batchmend amounts NAME shows what a calculation needs, or a table.")


def _about(chosen: Card, wording: Wording) -> None:
    print_text(chosen.does)
    print()
    for given in chosen.inputs:
        about = given.about
        span = _possible(about)
        without = "" if given.needed else f"; {given.usual} unless you say otherwise"
        print_text(f"{worked.label(given, wording)}, {span}{without}", "  ", f"{given.name}: ")
    print()
    _rests_on(chosen)
    example = " ".join(
        f"{given.name}={_quoted(worked.usual_text(given, Wording()))}" for given in chosen.inputs if given.needed
    )
    print_text(f"batchmend amounts {chosen.name} {example}", first="For example: ")


def _rests_on(chosen: Card) -> None:
    for head, text in (
        ("Formula", chosen.formula),
        ("Units", chosen.units),
        ("Holds for", chosen.limits),
        ("Refused", chosen.errors),
        ("Source", chosen.source),
        ("Sources differ", chosen.contested),
    ):
        if text:
            print_text(text, first=f"{head}: ")


def _possible(about: Input | Choice | Record) -> str:
    """Return in words what can be typed for an input."""
    if isinstance(about, Choice):
        return " or ".join(about.answers)
    return worked.bounds(about) if isinstance(about, Input) else about.how


def _quoted(text: str) -> str:
    return f"'{text}'" if " " in text else text


def _show_table(arguments: argparse.Namespace) -> None:
    """Print a table.  Errors: inputs, or a plot, that a table does not have."""
    table = TABLES[arguments.name]()
    if arguments.inputs:
        raise AmountError(f"amounts: {table.name} is a table and takes no inputs; write batchmend amounts {table.name}")
    if arguments.plot is not None:
        raise AmountError(f"amounts: {table.name} is a table and has no plot; leave out --plot")
    if arguments.json:
        print_json(dataclasses.asdict(table))
        return
    _print_table(table, settings.load().settings.wording())


def _print_table(table: Table, wording: Wording) -> None:
    print_text(f"{table.title}. {table.preface}")
    for group in table.groups:
        print()
        print_text(group.heading)
        for entry in group.entries:
            source = f" Source: {entry.source}." if entry.source else ""
            print_text(wording.text(" ".join((f"{entry.says}.", *entry.mind))) + source, "  ")


def _known(chosen: Card, typed: Mapping[str, str], kitchen: Mapping[str, float | str]) -> dict[str, str]:
    """Return the inputs that were not typed and that the kitchen's profile knows."""
    return {
        given.name: worked.usual_text(given, Wording(), kitchen)
        for given in chosen.inputs
        if given.name in kitchen and given.name not in typed
    }


def _typed(chosen: Card, words: list[str]) -> dict[str, str]:
    typed: dict[str, str] = {}
    for word in words:
        key, separator, text = word.partition("=")
        if not separator or not text.strip():
            first = next((given.name for given in chosen.inputs), "flour_g")
            spaces = "" if separator else ", and quotes round a value with a space, as in flour_g='5 oz'"
            raise AmountError(f"amounts: '{word}' is not key=value; write {first}=150{spaces}")
        if key in typed:
            raise AmountError(f"amounts: {key} stands twice; write it once")
        typed[key] = text
    return typed
