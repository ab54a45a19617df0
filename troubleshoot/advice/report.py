"""A verdict as plain blocks of text: what the terminal shows and the window prints, saves and copies.

``tr`` puts a phrase into the language of whoever shows it; the window passes Qt's
translation, the terminal nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from troubleshoot.advice.remedies import RemedyAdvice
from troubleshoot.advice.verdict import CautionLine, Verdict, Weighed
from troubleshoot.advice.wording import percent, weight_word

Translate = Callable[[str], str]

#: What the terminal shows of each list; the rest is for the window and ``--json``.
SHORT_REMEDIES, SHORT_EVIDENCE = 3, 5

#: A cause less likely than this is not put into the heading; one less likely still is not put forward at all.
LEAST_NAMED, LEAST_PUT_FORWARD = 0.4, 0.2


@dataclass(frozen=True, slots=True)
class Block:
    """A stretch of text.  ``kind`` is title, heading, strong, line, step or caution."""

    kind: str
    text: str


def names_its_cause(verdict: Verdict) -> bool:
    """Return whether the heading may name the cause: it is likely enough, or settled."""
    return verdict.cause is not None and (verdict.settled or verdict.probability >= LEAST_NAMED)


def puts_forward(verdict: Verdict) -> bool:
    """Return whether any cause stands out enough for its chain to be shown."""
    return verdict.cause is not None and (verdict.settled or verdict.probability >= LEAST_PUT_FORWARD)


def headline(verdict: Verdict, tr: Translate = str) -> str:
    """Return the cause as the heading says it: held back as long as the matter is not settled."""
    if verdict.settled or verdict.cause is None:
        return verdict.headline
    if verdict.probability < LEAST_NAMED:
        return tr("Not settled yet")
    return tr("Probably: {0}").format(verdict.headline)


def sure_line(verdict: Verdict, tr: Translate = str) -> str:
    """Return how sure the verdict is, in a word and a number."""
    if verdict.cause is None:
        return tr("No cause is named.")
    sure = tr("{0} ({1})").format(verdict.sure, percent(verdict.probability))
    if not puts_forward(verdict):
        return tr("No cause stands out yet.")
    if verdict.probability < LEAST_NAMED:
        return tr("Likeliest so far: {0}, {1}.").format(verdict.headline, sure)
    return tr("How sure: {0}.").format(sure)


def habit_line(verdict: Verdict, tr: Translate = str) -> str:
    """Return what the ranking has learnt of this kitchen about the cause; empty when it follows the rules alone."""
    habit = verdict.habit
    if habit is None:
        return ""
    if not habit.count:
        return tr("The ranking heeds your case book: in none of its {0} confirmed cases was it this.").format(habit.of)
    said = tr("The ranking heeds your case book: in this kitchen it was this in {0} of {1} confirmed cases.")
    return said.format(habit.count, habit.of)


def facts_line(advice: RemedyAdvice, tr: Translate = str) -> str:
    """Return what a remedy costs and saves."""
    facts = [tr("{0} minutes").format(f"{advice.minutes:g}")]
    if advice.kind == "next-time":
        return tr("Adds {0}.").format(facts[0]) if advice.minutes else tr("Adds no time.")
    facts.append(tr("on the plate in about {0} minutes").format(f"{advice.ready_in_min:g}"))
    saved = round(advice.pieces_saved)
    facts.append(tr("saves about 1 piece") if saved == 1 else tr("saves about {0} pieces").format(saved))
    if advice.in_time is False:
        facts[-1] = tr("too late for service")
    elif advice.in_time:
        facts.append(tr("in time for service"))
    line = ", ".join(facts) + "."
    return line[:1].upper() + line[1:]


def kind_word(advice: RemedyAdvice, tr: Translate = str) -> str:
    """Return what a remedy is for."""
    words = {
        "now": tr("Save this batch"),
        "other-use": tr("Use it otherwise"),
        "remake": tr("Make it again"),
        "next-time": tr("Next time"),
    }
    return words[advice.kind]


def blocks(verdict: Verdict, tr: Translate = str, short: bool = False) -> tuple[Block, ...]:
    """Return a verdict from headline to allergens; ``short`` keeps to what fits on a screen."""
    return tuple(_Report(verdict, tr, short).blocks())


def as_text(verdict: Verdict, tr: Translate = str) -> str:
    """Return a verdict as plain text for the clipboard."""
    lines: list[str] = []
    for block in blocks(verdict, tr):
        if block.kind in ("heading", "title") and lines:
            lines.append("")
        lines.append(f"   {block.text}" if block.kind == "step" else block.text)
    return "\n".join(lines) + "\n"


def allergens_line(verdict: Verdict, tr: Translate = str) -> str:
    """Return the allergens of the family."""
    return tr("Allergens: {0}. Your local food code comes first.").format(", ".join(verdict.allergens))


class _Report:
    """Puts one verdict into blocks, part by part."""

    def __init__(self, verdict: Verdict, tr: Translate, short: bool) -> None:
        self.verdict = verdict
        self.tr = tr
        self.most_remedies = SHORT_REMEDIES if short else len(verdict.rescue) + len(verdict.next_time)
        self.most_evidence = SHORT_EVIDENCE if short else len(verdict.evidence_for) + len(verdict.evidence_against)
        self.short = short
        self.said: set[str] = set()

    def blocks(self) -> Iterator[Block]:
        verdict, tr = self.verdict, self.tr
        yield Block("title", headline(verdict, tr))
        yield Block("strong", sure_line(verdict, tr))
        if verdict.habit is not None:
            yield Block("line", habit_line(verdict, tr))
        if verdict.unlisted_advice:
            yield Block("line", verdict.unlisted_advice)
        yield from self._unsure()
        for finding in verdict.findings:
            yield Block("line", finding)
        with_steps = {caution for advice in (*verdict.rescue, *verdict.next_time) for caution in advice.cautions}
        for caution in verdict.cautions:
            if caution.caution not in with_steps:
                yield self._caution(caution)
        yield from self._remedies(tr("Rescue"), verdict.rescue)
        yield from self._remedies(tr("Next time"), verdict.next_time)
        yield from self._why()
        if verdict.allergens:
            yield Block("strong", allergens_line(verdict, tr))

    def _unsure(self) -> Iterator[Block]:
        verdict, tr = self.verdict, self.tr
        if not verdict.settled and len(verdict.suspects) > 1:
            yield Block("heading", tr("Still possible"))
            for suspect in verdict.suspects:
                yield Block("line", f"{suspect.name} ({percent(suspect.probability)})")
            if verdict.settling_test:
                yield Block("line", tr("What would settle it: {0}").format(verdict.settling_test))
        if verdict.clash:
            yield Block("strong", tr("These answers do not go together. Check the first again."))
            for line in verdict.clash:
                yield Block("line", line)

    def _remedies(self, heading: str, remedies: tuple[RemedyAdvice, ...]) -> Iterator[Block]:
        if remedies:
            yield Block("heading", heading)
        for advice in remedies[: self.most_remedies]:
            yield from self._remedy(advice)

    def _remedy(self, advice: RemedyAdvice) -> Iterator[Block]:
        tr = self.tr
        yield Block("strong", advice.name)
        yield Block("line", facts_line(advice, tr))
        if advice.assumed:
            given = tr("Worked out for {0}. Give your own weights for your own figures.")
            yield Block("line", given.format(", ".join(advice.assumed)))
        for note in advice.notes:
            yield Block("line", note)
        for caution in self.verdict.cautions:
            if caution.caution in advice.cautions and caution.caution not in self.said:
                self.said.add(caution.caution)
                yield self._caution(caution)
        for number, step in enumerate(advice.steps, 1):
            yield Block("step", f"{number}. {step}")
        yield Block("line", tr("Why it works: {0}").format(advice.because))
        for wrong in advice.not_this:
            yield Block("line", tr("Do not try: {0}").format(wrong))

    def _caution(self, caution: CautionLine) -> Block:
        why = "" if self.short else f" {caution.why}"
        return Block("caution", self.tr("CAUTION: {0}").format(caution.say) + why)

    def _why(self) -> Iterator[Block]:
        verdict, tr = self.verdict, self.tr
        if verdict.chain:
            yield Block("heading", tr("Why"))
            for number, link in enumerate(verdict.chain, 1):
                yield Block("step", f"{number}. {link.text}")
                if link.seen_words:
                    yield Block("line", tr("Seen here: {0}").format(link.seen_words))
        yield from self._evidence(tr("What speaks for it"), verdict.evidence_for)
        yield from self._evidence(tr("What speaks against it"), verdict.evidence_against)
        if verdict.rivals:
            yield Block("heading", tr("Easily taken for"))
            for rival in verdict.rivals:
                yield Block("line", f"{rival.name} ({percent(rival.probability)}). {rival.because}")
        if self.short:
            return
        if verdict.ruled_out:
            yield Block("heading", tr("Ruled out"))
            for name, rule in verdict.ruled_out:
                yield Block("line", tr("{0} (rule: {1})").format(name, rule))
        if verdict.sources:
            yield Block("heading", tr("Sources"))
            for source in verdict.sources:
                yield Block("line", f"{source.title} ({source.standing})")

    def _evidence(self, title: str, lines: tuple[Weighed, ...]) -> Iterator[Block]:
        if not lines:
            return
        yield Block("heading", title)
        for line in lines[: self.most_evidence]:
            memory = self.tr(", from memory") if line.from_memory else ""
            yield Block("line", f"{line.ask} {line.said} ({self.tr(weight_word(line.decibans))}{memory})")
