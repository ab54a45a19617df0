"""One practice round: the learner looks, may take a remedy, names a cause, and chooses the reason.

The same for the window and the terminal.  A round moves through three steps::

    looking  -> look(sign), take(remedy) as often as wanted, then decide(cause)
    reason   -> reasons() may be shown only now, for they name the rivals; then choose(number)
    marked   -> marks()

Everything that was done is in ``state``, frozen plain data that can be kept and taken up again.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np

from troubleshoot.advice.wording import Wording
from troubleshoot.errors import CaseError
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.describe import drawing
from troubleshoot.knowledge.model import Remedy
from troubleshoot.practice import marking, pricing
from troubleshoot.practice.cases import PracticeCase, key_of
from troubleshoot.practice.hiding import leading_to
from troubleshoot.practice.phrases import Phrases, Translate
from troubleshoot.practice.views import (
    CauseLine,
    LookLine,
    Marks,
    ReasonCard,
    RemedyLine,
    Shown,
    Story,
    TakenLine,
    Tally,
)
from troubleshoot.problems import Place, Problem, choose_from

LOOKING, REASON, MARKED = "looking", "reason", "marked"

#: Chains to choose the reason from, where the family has as many rivals.
CHAINS = 4


@dataclass(frozen=True, slots=True)
class RoundState:
    """What was done in a round.

    ``taken`` has each remedy with the number of looks made before it.  ``also`` is a second cause, for batches that
    may hide two.  ``reason`` is the number of the chain chosen.
    """

    code: str
    looks: tuple[str, ...] = ()
    taken: tuple[tuple[str, int], ...] = ()
    cause: str | None = None
    also: str | None = None
    reason: int | None = None

    def to_data(self) -> dict[str, Any]:
        """Return the state as plain data for a file."""
        return {**asdict(self), "looks": list(self.looks), "taken": [list(one) for one in self.taken]}


def state_of(data: Any) -> RoundState:
    """Return the state that plain data describes.  Raises ValueError, KeyError or TypeError when it is none."""
    reason = data["reason"]
    return RoundState(
        code=key_of(str(data["code"])).code,
        looks=tuple(str(sign) for sign in data["looks"]),
        taken=tuple((str(remedy), int(after)) for remedy, after in data["taken"]),
        cause=None if data["cause"] is None else str(data["cause"]),
        also=None if data["also"] is None else str(data["also"]),
        reason=None if reason is None else int(reason),
    )


class Round:
    """A round in progress on one case."""

    def __init__(
        self,
        reasoner: Reasoner,
        case: PracticeCase,
        wording: Wording | None = None,
        tr: Translate = str,
        state: RoundState | None = None,
    ) -> None:
        """Begin a round, or take one up.  Raises CaseError when ``state`` names what the family does not hold."""
        self.reasoner, self.case = reasoner, case
        self.family = reasoner.family
        self.wording = wording or Wording()
        self.phrases = Phrases(tr)
        self.state = RoundState(case.key.code)
        self._effects: list[pricing.Effect] = []
        self._marks: Marks | None = None
        self._conclusion: tuple[tuple[str, ...], Conclusion] | None = None
        if state is not None:
            self._replay(state)

    # -- where we are ------------------------------------------------------------------

    @property
    def step(self) -> str:
        """The step on show: looking, reason or marked."""
        if self.state.cause is None:
            return LOOKING
        return REASON if self.state.reason is None else MARKED

    def story(self) -> Story:
        """Return the batch as it is handed over."""
        case, header, fault = self.case, self.family.header, self.family.faults[self.case.complaint]
        stage = header.stages[header.stage_index(case.stage)].name
        return Story(
            code=case.key.code,
            family=self.family.id,
            family_name=self.family.name,
            level=case.key.level,
            level_name=self.phrases.level_name(case.key.level),
            complaint=self.wording.text(fault.say),
            lines=self.phrases.story(stage, case.pieces, case.service_in_min, case.hard),
            drawing=drawing(fault.drawing),
            hard=case.hard,
        )

    def tally(self) -> Tally:
        """Return what was spent so far, and what is left until service."""
        minutes, pieces = self._spent()
        left_min = max(0.0, self.case.service_in_min - minutes)
        left_pieces = max(0.0, self.case.pieces - pieces)
        said = self.phrases.tally(minutes, pieces, left_min, left_pieces)
        return Tally(minutes, pieces, left_min, left_pieces, said)

    # -- looking -----------------------------------------------------------------------

    def looks(self) -> tuple[LookLine, ...]:
        """Return everything that can be looked at, in the order of the making; what is known has ``shown`` set."""
        header = self.family.header
        signs = sorted(self.case.shows, key=lambda s: header.stage_index(self.family.signs[s].first_stage))
        return tuple(self._line(sign) for sign in signs)

    def seen(self) -> tuple[LookLine, ...]:
        """Return the looks made, in the order they were made."""
        return tuple(self._line(sign) for sign in self.state.looks)

    def look(self, sign: str) -> LookLine:
        """Look at a sign and return what it shows.  A second look at the same sign costs nothing and changes nothing.

        Raises CaseError when there is no such look at this stage, or the verdict has been given.
        """
        self._open()
        if sign not in self.case.shows:
            raise _error(sign, "this cannot be looked at here", choose_from(sign, self.case.shows))
        if sign not in self.state.looks and not self._line(sign).free:
            self.state = replace(self.state, looks=(*self.state.looks, sign))
        return self._line(sign)

    def remedies(self) -> tuple[RemedyLine, ...]:
        """Return the remedies that can be taken at this stage, whether they help or not, by name."""
        done = {remedy for remedy, _ in self.state.taken}
        lines = [
            RemedyLine(r.id, self.wording.text(r.name), r.kind, self.phrases.kind(r.kind), r.minutes, r.id in done)
            for r in self.family.remedies.values()
            if r.kind != "next-time" and self._at_hand(r)
        ]
        return tuple(sorted(lines, key=lambda line: line.name.casefold()))

    def take(self, remedy: str) -> TakenLine:
        """Take a remedy now and return what came of it; its minutes are spent.

        Raises CaseError when it cannot be taken here, was taken already, or the verdict has been given.
        """
        self._open()
        lines = {line.remedy: line for line in self.remedies()}
        if remedy not in lines:
            raise _error(remedy, "this cannot be done at this stage", choose_from(remedy, lines))
        if lines[remedy].taken:
            raise _error(remedy, "this was done already", "take another, or give the verdict")
        minutes, pieces = self._spent()
        effect = pricing.effect(self.reasoner, self.case.start(), self.case, remedy, minutes, pieces)
        self._effects.append(effect)
        self.state = replace(self.state, taken=(*self.state.taken, (remedy, len(self.state.looks))))
        return self.taken()[-1]

    def taken(self) -> tuple[TakenLine, ...]:
        """Return the remedies taken, in order, and what came of each."""
        return tuple(self._taken_line(effect) for effect in self._effects)

    # -- the verdict -------------------------------------------------------------------

    def causes(self) -> tuple[CauseLine, ...]:
        """Return every cause that can be named, in the order of the making, whatever the batch."""
        header = self.family.header
        causes = sorted(self.family.causes.values(), key=lambda c: (header.stage_index(c.stage), c.name.casefold()))
        return tuple(
            CauseLine(
                c.id,
                self.wording.text(c.name),
                header.stages[header.stage_index(c.stage)].name,
                " ".join((c.name, *c.why)).casefold(),
            )
            for c in causes
        )

    def decide(self, cause: str, also: str | None = None) -> None:
        """Name the cause, and a second one where two are suspected.  There is no more looking after this.

        Raises CaseError when there is no such cause, or one was named already.
        """
        self._open()
        for named in (cause, *([] if also is None else [also])):
            if named not in self.family.causes:
                raise _error(named, "there is no such cause", choose_from(named, self.family.causes))
        self.state = replace(self.state, cause=cause, also=None if also == cause else also)

    def reasons(self) -> tuple[ReasonCard, ...]:
        """Return the chains of why to choose from: the right one, that of the cause named, and their rivals'.

        Raises CaseError before a cause was named, for the chains would tell what is suspected.
        """
        return tuple(
            ReasonCard(number, tuple(self.wording.text(link) for link in self.family.causes[cause].why))
            for number, cause in enumerate(self._chains(), 1)
        )

    def choose(self, number: int) -> Marks:
        """Choose the reason by its number, and return the marks.  Raises CaseError when there is no such number."""
        chains = self._chains()
        if self.state.reason is not None:
            raise _error("reason", "a reason was chosen already", "begin another case")
        if not 1 <= number <= len(chains):
            raise _error("reason", f"there is no reason {number}", f"write a number from 1 to {len(chains)}")
        self.state = replace(self.state, reason=number)
        return self.marks()

    def marks(self) -> Marks:
        """Return the marks of a finished round.  Raises CaseError before the reason was chosen."""
        if self.state.reason is None or self.state.cause is None:
            raise _error("marks", "the round is not finished", "name a cause and choose a reason")
        if self._marks is None:
            chain = self._chains()[self.state.reason - 1]
            done = marking.Done(self.state.looks, tuple(self._effects), self.state.cause, self.state.also, chain)
            self._marks = marking.mark(self.reasoner, self.case, done, self.wording, self.phrases)
        return self._marks

    def chain_chosen(self) -> str:
        """Return the cause whose chain was chosen as the reason.  Raises CaseError before one was."""
        if self.state.reason is None:
            raise _error("reason", "no reason was chosen yet", "choose one first")
        return self._chains()[self.state.reason - 1]

    # -- inside ------------------------------------------------------------------------

    def _replay(self, state: RoundState) -> None:
        for number in range(len(state.looks) + 1):
            for remedy, after in state.taken:
                if after == number:
                    self.take(remedy)
            if number < len(state.looks):
                self.look(state.looks[number])
        if state.cause is not None:
            self.decide(state.cause, state.also)
            if state.reason is not None:
                self.choose(state.reason)

    def _open(self) -> None:
        if self.step != LOOKING:
            raise _error("verdict", "the verdict has been given", "begin another case")

    def _spent(self) -> tuple[float, float]:
        minutes, pieces = pricing.spent(self.reasoner, self.case.stage, self.state.looks)
        return minutes + sum(effect.minutes for effect in self._effects), pieces

    def _known(self) -> Conclusion:
        """Return what follows from what was seen so far."""
        if self._conclusion is None or self._conclusion[0] != self.state.looks:
            seen = {sign: self.case.shows[sign] for sign in self.state.looks}
            conclusion = self.reasoner.reason(pricing.known(self.case.start(), seen))
            self._conclusion = (self.state.looks, conclusion)
        return self._conclusion[1]

    def _line(self, sign_id: str) -> LookLine:
        sign = self.family.signs[sign_id]
        stage = self.family.header.stages[self.family.header.stage_index(sign.first_stage)]
        minutes, pieces = pricing.look_cost(self.reasoner, sign, self.case.stage)
        memory = self.reasoner.is_memory(sign, self.case.stage)
        looked = sign_id in self.state.looks
        said = self.case.shows[sign_id] if looked else self._known().answers.get(sign_id)
        shown = None
        if said is not None:
            loose = said in sign.loosely
            shown = Shown(
                said, self.wording.text(sign.said(said)), drawing(None if loose else sign.answer(said).drawing)
            )
        return LookLine(
            sign=sign_id,
            ask=self.wording.text(sign.ask_later if memory and sign.ask_later else sign.ask),
            look=self.wording.text(sign.look),
            stage=stage.name,
            minutes=minutes,
            pieces=pieces,
            cost=self.phrases.cost(minutes, pieces),
            from_memory=memory,
            shown=shown,
            free=shown is not None and not looked,
        )

    def _at_hand(self, remedy: Remedy) -> bool:
        header = self.family.header
        return self.case.stage in header.stages_between(remedy.first_stage, remedy.last_stage)

    def _taken_line(self, effect: pricing.Effect) -> TakenLine:
        why = self.wording.text(effect.why)
        return TakenLine(
            remedy=effect.remedy,
            name=self.wording.text(self.family.remedies[effect.remedy].name),
            minutes=effect.minutes,
            saved=effect.saved,
            in_time=effect.in_time,
            helps=effect.helps,
            barred=effect.barred,
            say=self.phrases.taken(effect.saved, effect.in_time, effect.helps, effect.barred, why),
        )

    def _chains(self) -> tuple[str, ...]:
        """Return the causes whose chains are shown, shuffled the same way each time."""
        if self.state.cause is None:
            raise _error("reason", "no cause has been named yet", "name the cause first")
        case = self.case
        right = self.state.cause if self.state.cause in case.causes else case.causes[0]
        rivals = [r.cause for r in self.family.causes[right].told_apart_from]
        wanted = dict.fromkeys((right, self.state.cause, *rivals, *case.program.suspects, *self._complained_of()))
        # The chain of a second mistake is right as well, so it is no choice to be got wrong.
        fit = [cause for cause in wanted if cause == right or cause not in case.causes][:CHAINS]
        order = np.random.default_rng(case.key.number).permutation(len(fit))
        return tuple(fit[i] for i in order)

    def _complained_of(self) -> tuple[str, ...]:
        causes = leading_to(self.family, self.family.faults[self.case.complaint])
        return tuple(sorted(causes, key=lambda cause: (-causes[cause], cause)))


def _error(subject: str, wrong: str, advice: str) -> CaseError:
    return CaseError([Problem(Place("practice"), subject, wrong, advice)])
