"""One interview from the tile to the verdict: the same for the window, the terminal and tests.

A session holds a frozen ``State`` and the conclusion that follows from it.  Each
action makes a new state, saves it, and reasons again; going back loses nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from types import MappingProxyType

from troubleshoot.advice.verdict import Verdict, verdict
from troubleshoot.advice.wording import Wording
from troubleshoot.errors import CaseError
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import CANT_TELL, Given
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview import describe
from troubleshoot.interview.foresight import Foresight
from troubleshoot.interview.known import check_known
from troubleshoot.interview.shelf import Reading, Shelf
from troubleshoot.interview.state import FAMILY, FAULT, QUESTION, VERDICT, State
from troubleshoot.interview.views import (
    AnsweredLine,
    BatchField,
    FamilyTile,
    FaultLine,
    QuestionView,
    StageChoice,
    SuspectBar,
    WhyAsk,
)
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Place, Problem, choose_from

Saver = Callable[[State], None]

#: The time, aware and in UTC.
_utc_now = partial(datetime.now, UTC)


class Session:
    """An interview in progress."""

    def __init__(
        self,
        shelf: Shelf,
        wording: Wording | None = None,
        save: Saver | None = None,
        now: Callable[[], datetime] = _utc_now,
    ) -> None:
        """``save`` gets each new state; ``now`` says the time, aware and in UTC."""
        self.shelf = shelf
        self._now = now
        self.wording = wording or Wording()
        self.state = State()
        self._save = save
        self._foresight = Foresight()
        #: The rules that this interview began with, while newer ones are in force for others.
        self._held: tuple[RuleBase, Reasoner] | None = None
        #: Answers and batch figures that are known of this kitchen; they count as told until something else is said.
        self.known: Mapping[str, str | float] = {}
        self.known_batch: Mapping[str, float] = {}
        #: Makes the ranking heed what is common in this kitchen; None leaves it to the rule base.
        self.heed: Callable[[Reasoner], Reasoner] | None = None

    # -- where we are ------------------------------------------------------------------

    @property
    def step(self) -> str:
        """The step on show: family, fault, question or verdict."""
        return self.state.step

    @property
    def reasoner(self) -> Reasoner:
        """The reasoner of the chosen family."""
        if self.state.family is None:
            raise ValueError("no family has been chosen")
        if self._held is not None and self._held[1].family.id == self.state.family:
            reasoner = self._held[1]
        else:
            reasoner = self.shelf.reasoner(self.state.family)
        return reasoner if self.heed is None else self.heed(reasoner)

    @property
    def rules_version(self) -> str:
        """The digest of the rules that this interview rests on."""
        return self._rulebase().version

    @property
    def family(self) -> Family:
        """The chosen family."""
        return self.reasoner.family

    @property
    def conclusion(self) -> Conclusion:
        """What follows from everything said so far."""
        return self._foresight.of(self.reasoner, self.state.case())

    # -- actions -----------------------------------------------------------------------

    def restart(self) -> None:
        """Begin a new case."""
        self._held = None
        self._go(State())

    def resume(self, state: State) -> None:
        """Take up an interview where it was left.

        Raises RuleBaseError when its family cannot be read, CaseError when it names what the rule base no longer holds.
        """
        if state.family is not None:
            family = self.shelf.reasoner(state.family).family
            check_known(family, state)
        self._held = None
        self._go(replace(state, begun=state.begun or self._now()))

    def choose_family(self, family: str) -> None:
        """Choose what is being made.  Another choice than before begins a new case."""
        self.shelf.reasoner(family)
        if family != self.state.family:
            self._held = None
            self.state = State(family=family, begun=self._now())
        self._go(replace(self.state, step=FAULT))

    def choose_fault(self, fault: str | None) -> None:
        """Choose the complaint, or None when it is hard to say, and go to the first question."""
        if fault is not None and fault not in self.family.faults:
            raise CaseError(
                [Problem(Place("answer"), "fault", f"unknown fault '{fault}'", choose_from(fault, self.family.faults))]
            )
        self.state = replace(self._with_known(), fault=fault)
        self._forward(from_index=-1)

    def _with_known(self) -> State:
        """Return the state with what is known of the kitchen, where the family asks it and nothing was said yet."""
        state = self.state
        for sign_id, answer in self.known.items():
            if sign_id in self.family.signs and sign_id not in state.answers:
                state = state.with_answer(sign_id, self._given(sign_id, answer), self._now())
        figures = {quantity.id for quantity in self.family.header.batch}
        known = {name: value for name, value in self.known_batch.items() if name in figures}
        return replace(state, batch=MappingProxyType({**known, **state.batch}))

    def set_service(self, minutes: float | None) -> None:
        """Say in how many minutes it must be on the plate."""
        self._go(replace(self.state, service_in_min=minutes))

    def set_stage(self, stage: str | None) -> None:
        """Say how far the batch is, or leave it to where the complaint is noticed.  Raises CaseError for no stage."""
        known = [s.id for s in self.family.header.stages]
        if stage is not None and stage not in known:
            raise CaseError([Problem(Place("answer"), "stage", f"unknown stage '{stage}'", choose_from(stage, known))])
        self._go(replace(self.state, stage=stage))

    def set_batch(self, quantity: str, value: float | None) -> None:
        """Give or take back a batch figure, in its own unit.  Raises CaseError when it is out of range."""
        known = {q.id: q for q in self.family.header.batch}
        if quantity not in known:
            raise CaseError([Problem(Place("answer"), quantity, "unknown batch figure", choose_from(quantity, known))])
        q = known[quantity]
        if value is not None and not q.low <= value <= q.high:
            wrong, advice = f"{value:g} {q.unit} is out of range", f"give {q.low:g} to {q.high:g} {q.unit}"
            raise CaseError([Problem(Place("answer"), quantity, wrong, advice)])
        batch = {key: v for key, v in self.state.batch.items() if key != quantity}
        if value is not None:
            batch[quantity] = value
        self._go(replace(self.state, batch=MappingProxyType(batch)))

    def answer(self, answer: str | float) -> None:
        """Answer the question on show (an answer's id, a number in the unit shown, or ``cant-tell``) and go on."""
        sign_id = self._asked_now()
        self.state = self.state.with_answer(sign_id, self._given(sign_id, answer), self._now())
        self._forward(from_index=self.state.at)

    def think_ahead(self) -> bool:
        """Draw the conclusion of one answer that may be given next; False when there is none left to draw.

        It takes as long as one inference, and spares that time when the answer is given.
        """
        sign_id = self.state.current
        if sign_id is None:
            return False
        reasoner, sign = self.reasoner, self.family.signs[sign_id]
        for answer in (*sign.answer_ids, *sign.loosely, CANT_TELL):
            case = self.state.with_answer(sign_id, self._given(sign_id, answer)).case()
            if not self._foresight.knows(reasoner, case):
                self._foresight.of(reasoner, case)
                return True
        return False

    def volunteer(self, sign_id: str, answer: str | float) -> None:
        """Give or change the answer to any sign, asked or not, and stay where we are.

        Raises CaseError, changing nothing, when the answer cannot be one to this sign.
        """
        self._go(self.state.with_answer(sign_id, self._given(sign_id, answer), self._now()))

    def take_back(self, sign_id: str) -> None:
        """Take an answer back, as if it had never been given."""
        self._go(self.state.without_answer(sign_id))

    def show(self, sign_id: str) -> None:
        """Show the question about ``sign_id`` again, to change its answer in place."""
        if sign_id in self.state.asked:
            self._go(replace(self.state, step=QUESTION, at=self.state.asked.index(sign_id)))
        else:
            asked = (*self.state.asked, sign_id)
            self._go(replace(self.state, step=QUESTION, asked=asked, at=len(asked) - 1))

    def show_fault(self) -> None:
        """Show the complaints again, to change the one chosen; nothing else that was said is lost."""
        self._go(replace(self.state, step=FAULT))

    def forward(self) -> None:
        """Go on without changing the answer on show (an unanswered question counts as can't tell)."""
        sign_id = self._asked_now()
        if sign_id not in self.state.answers:
            self.answer(CANT_TELL)
        else:
            self._forward(from_index=self.state.at)

    def back(self) -> None:
        """Go one step back; nothing that was said is lost."""
        state = self.state
        if state.step == QUESTION and state.at > 0:
            self._go(replace(state, at=state.at - 1))
        elif state.step == QUESTION:
            self._go(replace(state, step=FAULT))
        elif state.step == VERDICT and state.asked:
            self._go(replace(state, step=QUESTION, at=len(state.asked) - 1))
        elif state.step == VERDICT:
            self._go(replace(state, step=FAULT))
        elif state.step == FAULT:
            self._go(replace(state, step=FAMILY))

    def to_verdict(self) -> None:
        """Show the verdict as things stand."""
        self._go(replace(self.state, step=VERDICT))

    def can_ask_more(self) -> bool:
        """Return whether any question is left that could still be asked."""
        return self._best_question() is not None

    def ask_more(self) -> None:
        """Ask one more question although asking had stopped."""
        best = self._best_question()
        if best is not None:
            asked = (*self.state.asked, best)
            self._go(replace(self.state, step=QUESTION, asked=asked, at=len(asked) - 1, more=self.state.more + 1))

    def attach(self, picture: str) -> None:
        """Keep a picture with the case, by the name it is stored under; once, however often it is attached."""
        if picture not in self.state.pictures:
            self._go(replace(self.state, pictures=(*self.state.pictures, picture)))

    def detach(self, picture: str) -> None:
        """Keep a picture no longer."""
        self._go(replace(self.state, pictures=tuple(p for p in self.state.pictures if p != picture)))

    # -- rules that were read again ----------------------------------------------------

    def take_rules(self, reading: Reading) -> bool:
        """Put rules that were read again in force; the interview goes on with those it had until ``renew``.

        Returns whether its family is among them.
        """
        family = self.state.family
        changed = family is not None and family in reading.bases
        if family is not None and changed and self._held is None:
            self._held = (self.shelf.rulebase(family), self.shelf.reasoner(family))
        self.shelf.take(reading)
        return changed

    def renew(self) -> bool:
        """Go on under the newest rules.  False, and nothing changes, when they no longer know what was said."""
        if self._held is None:
            return True
        held, self._held = self._held, None
        try:
            if self.state.family is not None:
                check_known(self.family, self.state)
        except CaseError:
            self._held = held
            return False
        return True

    # -- what to show ------------------------------------------------------------------

    def tiles(self) -> tuple[FamilyTile, ...]:
        """Return the families to choose from."""
        return describe.tiles(self.shelf.headers, self.wording)

    def faults(self) -> tuple[FaultLine, ...]:
        """Return the complaints of the chosen family, in the order of the making."""
        return describe.faults(self.family, self.wording)

    def complaint(self) -> str | None:
        """Return the complaint in words; None when none was chosen."""
        fault = self.state.fault
        return None if fault is None else self.wording.text(self.family.faults[fault].say)

    def question(self) -> QuestionView:
        """Return the question on show."""
        return describe.question(self.reasoner, self.state, self.conclusion, self.wording)

    def suspects(self) -> tuple[SuspectBar, ...]:
        """Return the live suspects, likeliest first."""
        return describe.suspects(self.reasoner, self.conclusion, self.wording)

    def answered(self) -> tuple[AnsweredLine, ...]:
        """Return what has been answered, in the order it was given."""
        return describe.answered(self.family, self.conclusion, self.wording)

    def settledness(self) -> float:
        """Return how settled the matter is, from 0 (anything could be) to 1."""
        return describe.settledness(self.reasoner, self.conclusion)

    def why_ask(self) -> WhyAsk:
        """Return why the question on show is asked."""
        return describe.why_ask(self.reasoner, self.conclusion, self._asked_now(), self.wording)

    def stages(self) -> tuple[StageChoice, ...]:
        """Return the stages of the making, the one the batch is at chosen."""
        return describe.stages(self.family, self.conclusion)

    def batch(self) -> tuple[BatchField, ...]:
        """Return the batch figures that can be given."""
        return describe.batch(self.family, self.state)

    def verdict(self) -> Verdict:
        """Return the verdict as things stand."""
        rulebase = self._rulebase()
        return verdict(self.reasoner, self.conclusion, rulebase.cautions, rulebase.sources, self.wording)

    # -- inside ------------------------------------------------------------------------

    def _rulebase(self) -> RuleBase:
        return self._held[0] if self._held is not None else self.shelf.rulebase(self.family.id)

    def _go(self, state: State) -> None:
        self.state = state
        if self._save is not None:
            self._save(state)

    def _forward(self, from_index: int) -> None:
        """Go to the next question: one asked before if there is one, else the best new one, else the verdict."""
        after = from_index + 1
        if after < len(self.state.asked):
            self._go(replace(self.state, step=QUESTION, at=after))
            return
        following = self.conclusion.next_question
        if following is None:
            self._go(replace(self.state, step=VERDICT))
        else:
            asked = (*self.state.asked, following.sign)
            self._go(replace(self.state, step=QUESTION, asked=asked, at=len(asked) - 1))

    def _best_question(self) -> str | None:
        ranked = self.reasoner.ranked_questions(self.conclusion)
        return next((worth.sign for worth in ranked if worth.sign not in self.state.asked), None)

    def _asked_now(self) -> str:
        sign_id = self.state.current
        if sign_id is None:
            raise ValueError("no question is on show")
        return sign_id

    def _given(self, sign_id: str, answer: str | float) -> Given:
        sign = self.family.signs.get(sign_id)
        if sign is None:
            raise CaseError(
                [Problem(Place("answer"), sign_id, "unknown sign", choose_from(sign_id, self.family.signs))]
            )
        if answer == CANT_TELL:
            return Given()
        if isinstance(answer, str):
            choices = (*sign.answer_ids, *sign.loosely)
            if answer not in choices:
                raise CaseError(
                    [Problem(Place("answer"), sign_id, f"unknown answer '{answer}'", choose_from(answer, choices))]
                )
            return Given(answer=answer)
        if sign.measure is None:
            raise CaseError([Problem(Place("answer"), sign_id, "this takes no number", "choose an answer")])
        number = describe.number_field(sign, None, self.wording)
        if not number.low <= answer <= number.high:
            advice = f"give {number.low:g} to {number.high:g} {number.unit}".rstrip()
            raise CaseError(
                [
                    Problem(
                        Place("answer"), sign_id, f"{answer:g} {number.unit} is out of range".replace("  ", " "), advice
                    )
                ]
            )
        return Given(value=describe.from_shown(float(answer), sign, self.wording))
