"""Marking a round: cause, reason, rescue, and thrift against what the program spent on the same batch."""

from __future__ import annotations

import math
from dataclasses import dataclass

from troubleshoot.advice.chain import chain_of
from troubleshoot.advice.wording import Wording
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.questions import Worth
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.describe import why_ask
from troubleshoot.practice import parting, pricing
from troubleshoot.practice.cases import PracticeCase
from troubleshoot.practice.phrases import Phrases
from troubleshoot.practice.pricing import Effect
from troubleshoot.practice.views import Marks, Point, StepReview

#: Marks for each point; they add up to 100.  The cause weighs most, for everything else follows from it.
CAUSE, REASON, RESCUE, THRIFT = 40, 20, 20, 20

#: From this many marks on, with the right cause, a round is passed.
PASS = 70

#: A question worth this share of the best one is as good.
AS_GOOD = 0.8

#: Spending this many times what the program spent earns nothing for thrift.
WASTEFUL = 4.0


@dataclass(frozen=True, slots=True)
class Done:
    """What a learner did: looks, what the remedies did, the cause (and perhaps a second), whose chain was chosen."""

    looks: tuple[str, ...]
    effects: tuple[Effect, ...]
    cause: str
    also: str | None
    chain: str


def mark(reasoner: Reasoner, case: PracticeCase, done: Done, wording: Wording, phrases: Phrases) -> Marks:
    """Return the marks of a finished round."""
    return _Marking(reasoner, case, done, wording, phrases).marks()


class _Marking:
    def __init__(self, reasoner: Reasoner, case: PracticeCase, done: Done, wording: Wording, phrases: Phrases) -> None:
        self.reasoner, self.case, self.done = reasoner, case, done
        self.wording, self.phrases = wording, phrases
        self.family = reasoner.family
        self.right = done.cause in case.causes
        self.minutes, self.pieces = pricing.spent(reasoner, case.stage, done.looks)
        self.saved = max((effect.saved for effect in done.effects), default=0.0)

    def marks(self) -> Marks:
        case, run, phrases = self.case, self.case.program, self.phrases
        points = (self._cause(), self._reason(), self._rescue(), self._thrift())
        total = sum(point.got for point in points)
        passed = self.right and total >= PASS
        return Marks(
            code=case.key.code,
            total=total,
            passed=passed,
            said=phrases.said(passed, self.right, total),
            points=points,
            steps=self._steps(),
            causes=case.causes,
            cause_names=tuple(self._name(cause) for cause in case.causes),
            chains=tuple(chain_of(self.family, self.family.causes[c], self.wording, case.shows) for c in case.causes),
            named=self.done.cause,
            named_name=self._name(self.done.cause),
            parts=""
            if self.right
            else parting.sentence(self.reasoner, case.causes[0], self.done.cause, self.wording, self.phrases),
            minutes=self.minutes,
            pieces=self.pieces,
            saved=self.saved,
            program_minutes=run.minutes,
            program_pieces=run.pieces,
            program_saved=run.saved,
            program_looks=tuple(self._ask(sign) for sign in run.asked),
            next_time=tuple(
                self.wording.text(self.family.remedies[r].name)
                for r in self.family.causes[case.causes[0]].remedies
                if self.family.remedies[r].kind == "next-time"
            ),
        )

    # -- points ------------------------------------------------------------------------

    def _cause(self) -> Point:
        also_right = None if self.done.also is None else self.done.also in self.case.causes
        names = [self._name(cause) for cause in self.case.causes]
        say = self.phrases.cause(self.right, self._name(self.done.cause), names, also_right)
        return self._point("cause", CAUSE if self.right else 0, CAUSE, say)

    def _reason(self) -> Point:
        right = self.done.chain in self.case.causes
        return self._point("reason", REASON if right else 0, REASON, self.phrases.reason(right))

    def _rescue(self) -> Point:
        """Mark pieces saved in time as a share of what the program's own rescue saved."""
        run, took = self.case.program, bool(self.done.effects)
        could = run.saved
        if could < pricing.LEAST_SAVED:
            share = 1.0 if self.saved > 0 or not took else 0.5
            return self._point("rescue", round(RESCUE * share), RESCUE, self.phrases.rescue(self.saved, 0, took, None))
        share = min(1.0, self.saved / could)
        name = None if run.remedy is None else self.wording.text(self.family.remedies[run.remedy].name)
        got = math.floor(RESCUE * share + 1e-9)
        say = self.phrases.rescue(self.saved, could if share < 1.0 else self.saved, took, name)
        return self._point("rescue", got, RESCUE, say)

    def _thrift(self) -> Point:
        """Mark what looking cost: in full up to what the program spent, nothing from four times that on."""
        run, piece_min = self.case.program, self.reasoner.vocabulary.piece_min
        mine, best = self.minutes + piece_min * self.pieces, run.minutes + piece_min * run.pieces
        if mine <= best:
            share = 1.0
        else:
            floor = max(best, self.reasoner.vocabulary.asking_min)
            share = max(0.0, 1.0 - (mine - best) / ((WASTEFUL - 1.0) * floor))
        phrases = self.phrases
        say = phrases.thrift(
            self.right, phrases.cost(self.minutes, self.pieces), phrases.cost(run.minutes, run.pieces), share
        )
        return self._point("thrift", math.floor(THRIFT * share + 1e-9) if self.right else 0, THRIFT, say)

    def _point(self, point: str, got: int, most: int, say: str) -> Point:
        return Point(point, self.phrases.point_name(point), got, most, say)

    # -- the questions looked back on --------------------------------------------------

    def _steps(self) -> tuple[StepReview, ...]:
        seen: dict[str, str] = {}
        steps = []
        for number, sign in enumerate(self.done.looks, 1):
            steps.append(self._step(number, sign, self._known(seen)))
            seen[sign] = self.case.shows[sign]
        last = self._known(seen)
        if last.next_question is not None:
            steps.append(self._missed(len(steps) + 1, last))
        return tuple(steps)

    def _known(self, seen: dict[str, str]) -> Conclusion:
        return self.reasoner.reason(pricing.known(self.case.start(), seen))

    def _step(self, number: int, sign: str, before: Conclusion) -> StepReview:
        ranked = self.reasoner.ranked_questions(before)
        mine = next((worth for worth in ranked if worth.sign == sign), None)
        best = ranked[0] if ranked else None
        shown = self.wording.text(self.family.signs[sign].said(self.case.shows[sign]))
        settled = before.next_question is None
        good = not settled and mine is not None and best is not None and mine.score >= AS_GOOD * best.score
        if settled or best is None:
            why = self.phrases.step_settled()
        elif good:
            why = self.phrases.step_good(why_ask(self.reasoner, before, sign, self.wording).sentence)
        else:
            why = self.phrases.step_best(*self._why(before, best))
        best_sign = "" if settled or best is None else sign if good else best.sign
        return StepReview(number, sign, self._ask(sign), shown, best_sign, self._ask(best_sign), why, good, settled)

    def _missed(self, number: int, last: Conclusion) -> StepReview:
        best = last.next_question
        assert best is not None
        why = self.phrases.step_more(*self._why(last, best))
        return StepReview(number, "", "", "", best.sign, self._ask(best.sign), why, False)

    def _why(self, before: Conclusion, best: Worth) -> tuple[str, str]:
        sentence = why_ask(self.reasoner, before, best.sign, self.wording).sentence
        cost = pricing.look_cost(self.reasoner, self.family.signs[best.sign], self.case.stage)
        return sentence, self.phrases.cost(*cost)

    # -- words -------------------------------------------------------------------------

    def _ask(self, sign: str) -> str:
        if not sign:
            return ""
        one = self.family.signs[sign]
        memory = self.reasoner.is_memory(one, self.case.stage)
        return self.wording.text(one.ask_later if memory and one.ask_later else one.ask)

    def _name(self, cause: str) -> str:
        return self.wording.text(self.family.causes[cause].name)
