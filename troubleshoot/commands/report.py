"""A verdict in the terminal."""

from __future__ import annotations

from troubleshoot.advice import report
from troubleshoot.advice.verdict import Verdict
from troubleshoot.commands.output import print_text


def print_verdict(verdict: Verdict) -> None:
    """Print a verdict: the cause, how sure, cautions, rescue, next time, and why."""
    before = ""
    for block in report.blocks(verdict, short=True):
        if block.kind == "heading" or (block.kind == "strong" and before not in ("heading", "title")):
            print()
        before = block.kind
        if block.kind == "heading":
            print_text(block.text.upper())
        elif block.kind == "step":
            number, _, text = block.text.partition(" ")
            print_text(text, "   ", f"{number} ")
        else:
            print_text(block.text, first="! " if block.kind == "caution" else None)
