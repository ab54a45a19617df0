"""Cause and effect laid open: what a mistake does, what can make a sign, what parts two mistakes.

Every picture is a frozen view, and ``text`` says the same in sentences, for a screen reader and the terminal.
The links are the rule base's own: those from a mistake to its signs are those from a sign to its mistakes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from troubleshoot.advice.chain import ChainLink, chain_of
from troubleshoot.advice.wording import Wording
from troubleshoot.errors import CaseError
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.model import Cause, Sign
from troubleshoot.practice import parting
from troubleshoot.practice.explorer_words import ExplorerWords
from troubleshoot.practice.hiding import leading_to
from troubleshoot.practice.phrases import Translate
from troubleshoot.problems import Place, Problem, choose_from


@dataclass(frozen=True, slots=True)
class Named:
    """Something that can be picked to explore: its id for handing back, its words, and the stage it belongs to."""

    id: str
    name: str
    stage: str


@dataclass(frozen=True, slots=True)
class SignLink:
    """A sign that a mistake shows as: the answer, how often (0..1) and in words; ``normal`` when it is no fault."""

    sign: str
    ask: str
    answer: str
    say: str
    share: float
    often: str
    normal: bool


@dataclass(frozen=True, slots=True)
class CauseLink:
    """A mistake that leads to a sign or complaint: how often (0..1) and in words."""

    cause: str
    name: str
    stage: str
    share: float
    often: str


@dataclass(frozen=True, slots=True)
class StageSigns:
    """The signs of one stage of the making."""

    stage: str
    signs: tuple[SignLink, ...]


@dataclass(frozen=True, slots=True)
class StageCauses:
    """The mistakes made at one stage of the making."""

    stage: str
    causes: tuple[CauseLink, ...]


@dataclass(frozen=True, slots=True)
class MistakeView:
    """What a mistake does: its chain link by link, its signs by stage, its complaints, and what it is taken for.

    ``excluded`` are answers that show it was not this.  ``rivals`` can be handed to ``compare``.
    """

    cause: str
    name: str
    stage: str
    common: str
    chain: tuple[ChainLink, ...]
    signs: tuple[StageSigns, ...]
    complaints: tuple[tuple[str, str, str], ...]
    excluded: tuple[tuple[str, str, str, str], ...]
    rivals: tuple[Named, ...]
    remedies: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class AnswerView:
    """One answer to a sign: the mistakes that make it, the likeliest first, and those that it shows were not made."""

    answer: str
    say: str
    normal: bool
    causes: tuple[CauseLink, ...]
    excludes: tuple[Named, ...]


@dataclass(frozen=True, slots=True)
class SignView:
    """What can make a sign, answer by answer."""

    sign: str
    ask: str
    look: str
    answers: tuple[AnswerView, ...]
    text: str


@dataclass(frozen=True, slots=True)
class PartLink:
    """A sign that parts two mistakes: what each mostly shows and how often, and why, where an author says so.

    ``first_share`` and ``second_share`` are how often each shows ``say``, the answer they differ most in.
    """

    sign: str
    ask: str
    answer: str
    say: str
    first_share: float
    second_share: float
    first_often: str
    second_often: str
    minutes: float
    because: str


@dataclass(frozen=True, slots=True)
class CompareView:
    """What parts two mistakes, the test an author names first, then by how much a look tells for its minutes."""

    first: Named
    second: Named
    first_chain: tuple[str, ...]
    second_chain: tuple[str, ...]
    parts: tuple[PartLink, ...]
    alike: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class FishboneView:
    """A complaint and what can cause it, by stage of the making in its order; within a stage the likeliest first."""

    fault: str
    say: str
    stage: str
    stages: tuple[StageCauses, ...]
    text: str


class Explorer:
    """The cause-and-effect explorer of one family.  Every method raises CaseError for an id it does not know."""

    def __init__(self, reasoner: Reasoner, wording: Wording | None = None, tr: Translate = str) -> None:
        self.reasoner = reasoner
        self.family = reasoner.family
        self.wording = wording or Wording()
        self.words = ExplorerWords(reasoner.vocabulary, tr)

    # -- what can be picked ------------------------------------------------------------

    def mistakes(self) -> tuple[Named, ...]:
        """Return every mistake in the order of the making."""
        return tuple(self._named(cause) for cause in self._in_order(self.family.causes))

    def signs(self) -> tuple[Named, ...]:
        """Return every sign in the order of the making."""
        header = self.family.header
        ordered = sorted(self.family.signs.values(), key=lambda s: header.stage_index(s.first_stage))
        return tuple(Named(s.id, self.wording.text(s.ask), self._stage(s.first_stage)) for s in ordered)

    def complaints(self) -> tuple[Named, ...]:
        """Return every complaint in the order of the making."""
        header = self.family.header
        ordered = sorted(self.family.faults.values(), key=lambda f: header.stage_index(f.stage))
        return tuple(Named(f.id, self.wording.text(f.say), self._stage(f.stage)) for f in ordered)

    # -- pictures ----------------------------------------------------------------------

    def mistake(self, cause_id: str) -> MistakeView:
        """Return what a mistake does."""
        cause = self._cause(cause_id)
        faults = [f for f in self.family.faults.values() if cause_id in f.causes]
        faults.sort(key=lambda f: (-f.causes[cause_id], f.id))
        view = MistakeView(
            cause=cause_id,
            name=self.wording.text(cause.name),
            stage=self._stage(cause.stage),
            common=self.words.common(cause.how_common),
            chain=chain_of(self.family, cause, self.wording),
            signs=self._signs_of(cause),
            complaints=tuple((f.id, self.wording.text(f.say), self.words.often(f.causes[cause_id])) for f in faults),
            excluded=tuple(
                (sign, self._ask(sign), answer, self._said(sign, answer))
                for sign, answers in cause.ruled_out_by.items()
                for answer in answers
            ),
            rivals=tuple(self._named(r.cause) for r in cause.told_apart_from),
            remedies=tuple(self.wording.text(self.family.remedies[r].name) for r in cause.remedies),
            text="",
        )
        return replace(view, text=self.words.mistake(view))

    def sign(self, sign_id: str) -> SignView:
        """Return what can make a sign."""
        if sign_id not in self.family.signs:
            raise _unknown("sign", sign_id, self.family.signs)
        sign = self.family.signs[sign_id]
        view = SignView(
            sign=sign_id,
            ask=self.wording.text(sign.ask),
            look=self.wording.text(sign.look),
            answers=tuple(self._answer(sign, answer) for answer in sign.answer_ids),
            text="",
        )
        return replace(view, text=self.words.sign(view))

    def compare(self, first: str, second: str) -> CompareView:
        """Return what parts two mistakes.  Raises CaseError when they are the same."""
        a, b = self._cause(first), self._cause(second)
        if first == second:
            raise CaseError([Problem(Place("explore"), first, "both are the same mistake", "choose two")])
        found = parting.parted(self.reasoner, first, second)
        parting_signs = {one.sign for one in found}
        view = CompareView(
            first=self._named(first),
            second=self._named(second),
            first_chain=tuple(self.wording.text(link) for link in a.why),
            second_chain=tuple(self.wording.text(link) for link in b.why),
            parts=tuple(self._part(a, b, one) for one in found),
            alike=tuple(self._ask(sign) for sign in a.shows_as if sign in b.shows_as and sign not in parting_signs),
            text="",
        )
        return replace(view, text=self.words.compare(view))

    def fishbone(self, fault_id: str) -> FishboneView:
        """Return what can cause a complaint, by stage of the making."""
        if fault_id not in self.family.faults:
            raise _unknown("complaint", fault_id, self.family.faults)
        fault = self.family.faults[fault_id]
        causes = self.fault_causes(fault_id)
        stages = []
        for stage in self.family.header.stages:
            here = [c for c in causes if self.family.causes[c].stage == stage.id]
            if here:
                links = sorted((self._cause_link(c, causes[c]) for c in here), key=lambda c: (-c.share, c.name))
                stages.append(StageCauses(stage.name, tuple(links)))
        view = FishboneView(fault_id, self.wording.text(fault.say), self._stage(fault.stage), tuple(stages), "")
        return replace(view, text=self.words.fishbone(view))

    def fault_causes(self, fault_id: str) -> Mapping[str, float]:
        """Return the mistakes behind a complaint and how often each gives it; a vague one has those it covers."""
        return leading_to(self.family, self.family.faults[fault_id])

    # -- inside ------------------------------------------------------------------------

    def _signs_of(self, cause: Cause) -> tuple[StageSigns, ...]:
        groups = []
        for stage in self.family.header.stages:
            links = [
                link
                for sign in cause.shows_as
                if self.family.signs[sign].first_stage == stage.id
                for link in self._sign_links(cause, self.family.signs[sign])
            ]
            if links:
                groups.append(StageSigns(stage.name, tuple(links)))
        return tuple(groups)

    def _sign_links(self, cause: Cause, sign: Sign) -> list[SignLink]:
        levels = cause.shows_as[sign.id]
        return [
            SignLink(
                sign=sign.id,
                ask=self.wording.text(sign.ask),
                answer=answer,
                say=self._said(sign.id, answer),
                share=share,
                often=self.words.often(share),
                normal=answer in sign.normal_ids,
            )
            for answer, share in sorted(levels.items(), key=lambda item: (-item[1], item[0]))
        ]

    def _answer(self, sign: Sign, answer: str) -> AnswerView:
        causes = self.family.causes.values()
        makes = {c.id: c.shows_as[sign.id][answer] for c in causes if answer in c.shows_as.get(sign.id, {})}
        excludes = [c.id for c in causes if answer in c.ruled_out_by.get(sign.id, ())]
        return AnswerView(
            answer=answer,
            say=self._said(sign.id, answer),
            normal=answer in sign.normal_ids,
            causes=tuple(
                sorted((self._cause_link(c, share) for c, share in makes.items()), key=lambda c: (-c.share, c.name))
            ),
            excludes=tuple(self._named(cause) for cause in self._in_order(excludes)),
        )

    def _part(self, a: Cause, b: Cause, one: parting.Parted) -> PartLink:
        network = self.reasoner.network
        node = network.nodes[one.sign]
        table = node.alone()
        shares = [table[network.causes.index(cause.id)] for cause in (a, b)]
        most = int(abs(shares[0] - shares[1]).argmax())
        first, second = float(shares[0][most]), float(shares[1][most])
        return PartLink(
            sign=one.sign,
            ask=self._ask(one.sign),
            answer=node.answers[most],
            say=self._said(one.sign, node.answers[most]),
            first_share=first,
            second_share=second,
            first_often=self.words.often(first),
            second_often=self.words.often(second),
            minutes=self.reasoner.vocabulary.asking_min + self.family.signs[one.sign].minutes,
            because=self.wording.text(one.written),
        )

    def _cause_link(self, cause: str, share: float) -> CauseLink:
        named = self._named(cause)
        return CauseLink(cause, named.name, named.stage, share, self.words.often(share))

    def _in_order(self, causes: Iterable[str]) -> list[str]:
        header = self.family.header
        return sorted(causes, key=lambda c: (header.stage_index(self.family.causes[c].stage), self._name(c)))

    def _named(self, cause: str) -> Named:
        return Named(cause, self._name(cause), self._stage(self.family.causes[cause].stage))

    def _name(self, cause: str) -> str:
        return self.wording.text(self.family.causes[cause].name)

    def _stage(self, stage: str) -> str:
        return self.family.header.stages[self.family.header.stage_index(stage)].name

    def _ask(self, sign: str) -> str:
        return self.wording.text(self.family.signs[sign].ask)

    def _said(self, sign: str, answer: str) -> str:
        return self.wording.text(self.family.signs[sign].said(answer))

    def _cause(self, cause: str) -> Cause:
        if cause not in self.family.causes:
            raise _unknown("mistake", cause, self.family.causes)
        return self.family.causes[cause]


def _unknown(kind: str, word: str, known: Iterable[str]) -> CaseError:
    return CaseError([Problem(Place("explore"), kind, f"unknown {kind} '{word}'", choose_from(word, known))])
