"""A verdict as text: for the terminal, the clipboard and a plain file."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.advice.remedies import RemedyAdvice
from troubleshoot.advice.verdict import Verdict, Weighed
from troubleshoot.advice.wording import percent
from troubleshoot.commands.output import print_list, print_text

#: Remedies and answers shown before the rest is left to ``--json`` or the window.
SHOWN_RESCUES, SHOWN_NEXT, SHOWN_EVIDENCE = 3, 3, 5


def print_verdict(verdict: Verdict) -> None:
    """Print a verdict: the cause, how sure, cautions, rescue, next time, and why."""
    print_text(verdict.headline + ".")
    if verdict.cause is not None:
        print_text(f"How sure: {verdict.sure} ({percent(verdict.probability)}).")
    if verdict.unlisted_advice:
        print_text(verdict.unlisted_advice)
    _print_unsure(verdict)
    for line in verdict.clash[:1]:
        print_text(line, first="These answers do not go together. Check this one again: ")
    for finding in verdict.findings:
        print_text(finding, first="- ")
    if verdict.cautions:
        print("\nCAUTION")
        for caution in verdict.cautions:
            print_text(caution.say, first="! ")
    for number, advice in enumerate(verdict.rescue[:SHOWN_RESCUES], 1):
        print()
        _print_remedy(advice, f"{'Do this' if number == 1 else 'Or'}: ")
    if verdict.next_time:
        print("\nNext time")
        for advice in verdict.next_time[:SHOWN_NEXT]:
            print_text(f"{advice.name}. {' '.join(advice.steps)}", first="- ")
    _print_why(verdict)
    print()
    print_text("Allergens in this family: " + ", ".join(verdict.allergens) + ". Your local food code comes first.")


def _print_unsure(verdict: Verdict) -> None:
    if verdict.settled or len(verdict.suspects) < 2:
        return
    print("\nNot settled. Still possible:")
    for suspect in verdict.suspects:
        print_text(f"{suspect.name} ({percent(suspect.probability)})", first="- ")
    if verdict.settling_test:
        print_text(verdict.settling_test, first="What would settle it: ")


def _print_remedy(advice: RemedyAdvice, head: str) -> None:
    print_text(f"{head}{advice.name}")
    print_text(", ".join(_facts(advice)) + ".", "   ")
    print_list(advice.steps, "   ")
    if advice.assumed:
        print_text(f"Worked out for {', '.join(advice.assumed)}; give your own weights for your own figures.", "   ")
    for note in advice.notes:
        print_text(note, "   ")
    print_text(advice.because, "   ", "Why: ")
    for wrong in advice.not_this:
        print_text(wrong, "   ", "Not this: ")


def _facts(advice: RemedyAdvice) -> Iterator[str]:
    yield f"{advice.minutes:g} minutes"
    if advice.ready_in_min > advice.minutes:
        yield f"on the plate in about {advice.ready_in_min:g}"
    if advice.in_time is False:
        yield "too late for service"
    elif advice.pieces_saved >= 1:
        yield f"saves about {advice.pieces_saved:.0f} pieces"


def _print_why(verdict: Verdict) -> None:
    if not verdict.chain:
        return
    print("\nWhy")
    print_list(verdict.chain)
    _print_evidence("Speaks for it", verdict.evidence_for)
    _print_evidence("Speaks against it", verdict.evidence_against)
    if verdict.rivals:
        print("\nEasily taken for")
        for rival in verdict.rivals:
            print_text(f"{rival.name} ({percent(rival.probability)}). {rival.because}", first="- ")


def _print_evidence(head: str, lines: tuple[Weighed, ...]) -> None:
    if lines:
        print(f"\n{head}")
        for line in lines[:SHOWN_EVIDENCE]:
            memory = ", from memory" if line.from_memory else ""
            print_text(f"{line.ask} {line.said} ({strength(line.decibans)}{memory})", first="- ")


def strength(decibans: float) -> str:
    """Return the word for a weight of evidence (bounds after Jeffreys' grades, in decibans)."""
    weight = abs(decibans)
    return "decides nearly alone" if weight >= 20 else "strong" if weight >= 10 else "fair" if weight >= 5 else "slight"
