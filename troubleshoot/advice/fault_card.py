"""A card for the wall: one complaint, what is behind it, the test that parts the causes, and what saves the batch."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from troubleshoot.advice.remedies import RemedyAdvice, advise
from troubleshoot.advice.report import Block, Translate
from troubleshoot.advice.wording import Wording
from troubleshoot.inference import questions
from troubleshoot.inference.conclusion import Conclusion, Suspect
from troubleshoot.inference.facts import Case
from troubleshoot.inference.questions import Worth
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.model import Caution, Family, Fault, Source

#: A card must be read from a step away and stand on one A5 page: so many causes, tests, further names and characters.
MOST_CAUSES, MOST_TESTS, MOST_OTHERS, MOST_CHARACTERS = 5, 2, 4, 3300

#: Where there is no room, so many causes are kept all the same, and the steps of the last rescues are left out.
KEPT_CAUSES = 3

#: A second test is worth its lines from this many causes on.
CAUSES_FOR_TWO_TESTS = 3

#: A cause is named for an answer that makes it likelier, and at least this probable.
LEAST_NAMED = 0.2

#: How common a cause is among batches with the complaint, from this share on.
SHARES = ((0.4, "most often"), (0.2, "often"), (0.1, "now and then"), (0.0, "seldom"))

RESCUES = ("now", "other-use")


@dataclass(frozen=True, slots=True)
class CardCause:
    """A cause on the card: its number, its name, how common it is in words, and the letter of its rescue, if any."""

    number: int
    cause: str
    name: str
    how_common: str
    rescue: str | None


@dataclass(frozen=True, slots=True)
class CardTest:
    """Something to look at, and the numbers of the causes that each answer speaks for."""

    sign: str
    ask: str
    look: str
    answers: tuple[tuple[str, tuple[int, ...]], ...]


@dataclass(frozen=True, slots=True)
class CardRescue:
    """What to do: its letter, the numbers of the causes it helps, the advice, and whether its steps have room."""

    letter: str
    causes: tuple[int, ...]
    advice: RemedyAdvice
    in_full: bool = True


@dataclass(frozen=True, slots=True)
class FaultCard:
    """All that stands on one card.  ``others`` are the names of less common causes."""

    family: str
    fault: str
    complaint: str
    stage: str
    causes: tuple[CardCause, ...]
    others: tuple[str, ...]
    tests: tuple[CardTest, ...]
    cautions: tuple[str, ...]
    first: tuple[RemedyAdvice, ...]
    rescues: tuple[CardRescue, ...]
    sources: tuple[str, ...]
    allergens: tuple[str, ...]


def fault_card(
    reasoner: Reasoner,
    fault_id: str,
    cautions: Mapping[str, Caution],
    sources: Mapping[str, Source],
    wording: Wording,
) -> FaultCard:
    """Return the card of one complaint, as if nothing else were known.  Raises KeyError when there is no such one.

    As many causes are shown as there is room for, the commonest first.
    """
    maker = _CardMaker(reasoner, reasoner.family.faults[fault_id], cautions, sources, wording)
    sizes = [(causes, tests, causes) for causes in range(MOST_CAUSES, KEPT_CAUSES - 1, -1) for tests in (MOST_TESTS, 1)]
    sizes += [(KEPT_CAUSES, 1, rescues) for rescues in range(KEPT_CAUSES - 1, 0, -1)]
    sizes += [(causes, 1, rescues) for rescues in (1, 0) for causes in range(KEPT_CAUSES - 1, 0, -1)]
    made = [maker.card(*sizes[0])]
    while len(as_text(made[-1])) > MOST_CHARACTERS and len(made) < len(sizes):
        made.append(maker.card(*sizes[len(made)]))
    return made[-1]


class _CardMaker:
    """Makes cards of one complaint, with more or fewer causes and tests."""

    def __init__(
        self,
        reasoner: Reasoner,
        fault: Fault,
        cautions: Mapping[str, Caution],
        sources: Mapping[str, Source],
        wording: Wording,
    ) -> None:
        self.reasoner, self.family, self.fault = reasoner, reasoner.family, fault
        self.known_cautions, self.known_sources, self.wording = cautions, sources, wording
        self.conclusion = reasoner.reason(Case(self.family.id, fault.id, {}))
        self.advice = advise(self.family, self.conclusion, wording, reasoner.vocabulary)
        possible = reasoner.vocabulary.standing["possible"]
        suspects = _suspects(self.family, fault, self.conclusion)
        self.likely = [s for place, s in enumerate(suspects) if s.probability >= possible or place == 0]
        self.suspects = suspects

    def card(self, most_causes: int, most_tests: int, most_in_full: int) -> FaultCard:
        """Return a card with at most so many causes, tests and rescues in full."""
        family, wording, text = self.family, self.wording, self.wording.text
        shown = self.likely[:most_causes]
        first = tuple(one for one in self.advice if one.urgent)
        rescues = _rescues(shown, [one for one in self.advice if not one.urgent], most_in_full)
        letters = {number: rescue.letter for rescue in rescues for number in rescue.causes}
        used = (*first, *(rescue.advice for rescue in rescues))
        cited = [source for suspect in shown for source in family.causes[suspect.cause].sources]
        cited += [source for one in used for source in one.sources]
        others = self.suspects[len(shown) :][:MOST_OTHERS]
        return FaultCard(
            family=family.name,
            fault=self.fault.id,
            complaint=text(self.fault.say),
            stage=family.header.stages[family.header.stage_index(self.fault.stage)].name,
            causes=tuple(
                CardCause(
                    number,
                    suspect.cause,
                    text(family.causes[suspect.cause].name),
                    next(words for least, words in SHARES if suspect.probability >= least),
                    letters.get(number),
                )
                for number, suspect in enumerate(shown, 1)
            ),
            others=tuple(text(family.causes[suspect.cause].name) for suspect in others),
            tests=_tests(self.reasoner, self.conclusion, shown, wording, most_tests),
            cautions=tuple(text(self.known_cautions[c].say) for c in _cautions(self.conclusion, self.advice, used)),
            first=first,
            rescues=rescues,
            sources=tuple(self.known_sources[source].title for source in dict.fromkeys(cited)),
            allergens=family.header.allergens,
        )


def _suspects(family: Family, fault: Fault, conclusion: Conclusion) -> list[Suspect]:
    """Return the causes that bring the complaint, or one that it covers, likeliest first."""
    faults = (fault, *(family.faults[covered] for covered in fault.covers))
    listed = {cause for one in faults for cause in one.causes}
    return [suspect for suspect in conclusion.suspects if suspect.cause in listed]


def _rescues(shown: list[Suspect], advice: list[RemedyAdvice], in_full: int) -> tuple[CardRescue, ...]:
    """Return the best rescue of each cause, each remedy once: what saves the batch, else what makes it again."""
    helped: dict[str, list[int]] = {}
    by_id = {one.remedy: one for one in advice}
    for number, suspect in enumerate(shown, 1):
        fitting = [one for one in advice if suspect.cause in one.causes and one.kind != "next-time"]
        best = next((one for one in fitting if one.kind in RESCUES), next(iter(fitting), None))
        if best is not None:
            helped.setdefault(best.remedy, []).append(number)
    return tuple(
        CardRescue(chr(ord("A") + place), tuple(numbers), by_id[remedy], place < in_full)
        for place, (remedy, numbers) in enumerate(helped.items())
    )


def _cautions(
    conclusion: Conclusion, advice: tuple[RemedyAdvice, ...], used: tuple[RemedyAdvice, ...]
) -> tuple[str, ...]:
    """Return the cautions of the steps on the card, and those that no remedy brings along."""
    of_steps = {caution for one in advice for caution in one.cautions}
    on_card = {caution for one in used for caution in one.cautions}
    called = [c for c in conclusion.cautions if c in on_card or c not in of_steps]
    return tuple(dict.fromkeys((*called, *(c for one in used for c in one.cautions))))


def _tests(
    reasoner: Reasoner, conclusion: Conclusion, shown: list[Suspect], wording: Wording, most: int
) -> tuple[CardTest, ...]:
    """Return the tests that tell most for a minute of work: what can be looked at now before what is remembered."""
    if len(shown) < 2:
        return ()
    ranked = [worth for worth in reasoner.ranked_questions(conclusion) if worth.bits >= reasoner.vocabulary.least_bits]
    ranked.sort(key=lambda worth: worth.from_memory)
    groups = reasoner.family.header.same_evidence
    chosen: list[Worth] = []
    for worth in ranked:
        same = any(worth.sign in group and before.sign in group for group in groups for before in chosen)
        if not same:
            chosen.append(worth)
    wanted = most if len(shown) >= CAUSES_FOR_TWO_TESTS else 1
    return tuple(_test(reasoner, conclusion, worth, shown, wording) for worth in chosen[:wanted])


def _test(reasoner: Reasoner, conclusion: Conclusion, worth: Worth, shown: list[Suspect], wording: Wording) -> CardTest:
    sign, network = reasoner.family.signs[worth.sign], reasoner.network
    after = questions.parts(network, conclusion.standing.posterior, sign.id, worth.from_memory)
    answers = []
    for answer in sign.answers:
        _, causes = after[answer.id]
        chance = {number: float(causes[network.causes.index(suspect.cause)]) for number, suspect in enumerate(shown, 1)}
        before = {number: suspect.probability for number, suspect in enumerate(shown, 1)}
        named = [number for number in chance if chance[number] >= LEAST_NAMED and chance[number] > before[number]]
        named.sort(key=lambda number: (-chance[number], number))
        answers.append((wording.text(answer.say), tuple(named)))
    ask = sign.ask_later if worth.from_memory and sign.ask_later else sign.ask
    look = "" if worth.from_memory else wording.text(sign.look)
    return CardTest(sign.id, wording.text(ask), look, tuple(answers))


def blocks(card: FaultCard, tr: Translate = str) -> tuple[Block, ...]:
    """Return a card as plain blocks of text, in reading order."""
    return tuple(_blocks(card, tr))


def as_text(card: FaultCard, tr: Translate = str) -> str:
    """Return a card as plain text."""
    lines: list[str] = []
    for block in blocks(card, tr):
        if block.kind == "heading":
            lines.append("")
        lines.append(f"   {block.text}" if block.kind == "step" else block.text)
    return "\n".join(lines) + "\n"


def _blocks(card: FaultCard, tr: Translate) -> Iterator[Block]:
    yield Block("title", card.complaint)
    yield Block("line", tr("{0}. Noticed at: {1}.").format(card.family, card.stage))
    yield Block("heading", tr("What is behind it"))
    for cause in card.causes:
        helped = tr("rescue {0}").format(cause.rescue) if cause.rescue else tr("nothing saves it")
        yield Block("step", f"{cause.number}. {cause.name} ({tr(cause.how_common)}; {helped})")
    if card.others:
        yield Block("line", tr("Less often: {0}.").format("; ".join(card.others)))
    yield from _test_blocks(card, tr)
    if card.cautions:
        yield Block("heading", tr("Caution"))
        yield from (Block("caution", tr("CAUTION: {0}").format(caution)) for caution in card.cautions)
    for advice in card.first:
        yield Block("heading", tr("First: {0}").format(advice.name))
        yield from _steps(advice, tr)
    for rescue in card.rescues:
        yield Block("heading", tr("Rescue {0}: {1}").format(rescue.letter, rescue.advice.name))
        helps = tr("Helps against {0}.").format(_numbers(rescue.causes, tr(" and ")))
        if rescue.advice.minutes:
            helps += " " + tr("Takes about {0} minutes.").format(f"{rescue.advice.minutes:g}")
        if rescue.in_full:
            yield Block("line", helps)
            yield from _steps(rescue.advice, tr)
        else:
            yield Block("line", helps + " " + tr("Ask the program for the steps."))
    yield Block("small", tr("Sources: {0}.").format("; ".join(card.sources)))
    allergens = tr("Allergens: {0}. Your local food code comes first.")
    yield Block("small", allergens.format(", ".join(card.allergens)))


def _test_blocks(card: FaultCard, tr: Translate) -> Iterator[Block]:
    if card.tests:
        several = len(card.tests) > 1
        yield Block("heading", tr("The tests that part them") if several else tr("The test that parts them"))
    for test in card.tests:
        yield Block("strong", f"{test.ask} {test.look}".strip())
        for said, numbers in test.answers:
            points = tr(", else ").join(map(str, numbers)) or tr("speaks for none of these")
            yield Block("step", f"{said}: {points}")


def _steps(advice: RemedyAdvice, tr: Translate) -> Iterator[Block]:
    if advice.assumed:
        yield Block("line", tr("Amounts for {0}.").format(", ".join(advice.assumed)))
    for number, step in enumerate(advice.steps, 1):
        yield Block("step", f"{number}. {step}")
    for wrong in advice.not_this[:1]:
        yield Block("line", tr("Do not try: {0}").format(wrong))


def _numbers(numbers: tuple[int, ...], joined: str) -> str:
    *before, last = map(str, numbers)
    return joined.join(filter(None, (", ".join(before), last)))
