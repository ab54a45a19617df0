"""``batchmend card FAMILY FAULT``: a complaint on one card for the wall, as text or as a PDF of one A5 page."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from troubleshoot import settings
from troubleshoot.advice.fault_card import FaultCard, blocks, fault_card
from troubleshoot.commands import window
from troubleshoot.commands.output import print_text
from troubleshoot.errors import RuleBaseError, UserError
from troubleshoot.interview.shelf import Shelf
from troubleshoot.problems import Place, Problem, choose_from


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("card", help="a card for the wall: one complaint, its causes, tests and rescues")
    command.add_argument("family", metavar="FAMILY")
    command.add_argument("fault", metavar="FAULT")
    command.add_argument("--pdf", type=Path, metavar="FILE", help="write one A5 page to this file instead")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Print the card, or write it as PDF."""
    shelf = Shelf(rules)
    rulebase = shelf.rulebase(arguments.family)
    faults = rulebase.families[arguments.family].faults
    if arguments.fault not in faults:
        place = Place(str(rules / arguments.family / "faults.yaml"))
        advice = choose_from(arguments.fault, faults)
        raise RuleBaseError([Problem(place, arguments.fault, "there is no such complaint", advice)])
    wording = settings.load().settings.wording()
    reasoner = shelf.reasoner(arguments.family)
    card = fault_card(reasoner, arguments.fault, rulebase.cautions, rulebase.sources, wording)
    if arguments.pdf is None:
        _print(card)
    else:
        _write(card, arguments.pdf)
    return 0


def _print(card: FaultCard) -> None:
    for block in blocks(card):
        if block.kind == "heading":
            print()
        if block.kind == "step":
            print_text(block.text, "   ")
        else:
            print_text(block.text)


def _write(card: FaultCard, path: Path) -> None:
    try:
        window.save_card(card, path)
    except OSError as error:
        reason = error.strerror or error
        raise UserError(f"{path}: the PDF could not be written ({reason}); name a file you may write") from error
