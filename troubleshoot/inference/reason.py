"""The reasoner: knowledge and a case in, one frozen conclusion out.

Going back or changing an answer is calling it again; nothing is kept between
calls but the compiled rules and the network, which depend on knowledge alone.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Self

from troubleshoot.errors import AmountError
from troubleshoot.inference import engine, nearmiss, questions, ranking, stopping
from troubleshoot.inference.compile import ANY_STAGE, MEMORY, WITNESS, compile_family
from troubleshoot.inference.conclusion import Clash, Conclusion, Suspect
from troubleshoot.inference.facts import Case, Fact, Firing, Given, NearMiss
from troubleshoot.inference.habits import Habits
from troubleshoot.inference.network import COMPLAINT, family_network, reweighed
from troubleshoot.inference.questions import Candidate, Worth
from troubleshoot.inference.ranking import Evidence, Standing
from troubleshoot.kitchen import registry
from troubleshoot.knowledge.model import Family, Sign, Vocabulary


@dataclass(frozen=True, slots=True)
class _Diagnosis:
    """What the first half of reasoning leads to: the causes still standing, before any advice or question."""

    stage: str | None
    numbers: Mapping[str, float]
    memory: frozenset[str]
    trace: tuple[Firing, ...]
    answers: Mapping[str, str]
    ruled_out: Mapping[str, str]
    doubted: Mapping[str, str]
    evidence: Sequence[Evidence]
    standing: Standing


class Reasoner:
    """Compiled knowledge of one family, ready to reason about any number of cases."""

    def __init__(self, family: Family, vocabulary: Vocabulary) -> None:
        self.family = family
        self.vocabulary = vocabulary
        self.network = family_network(family, vocabulary)
        #: What the ranking has learnt of a kitchen; None while it follows the rule base alone.
        self.habits: Habits | None = None
        self.rules = compile_family(family)
        self._stage_number = {stage.id: number for number, stage in enumerate(family.header.stages)}
        self._authored = [rule for rule in (*self.rules.diagnosis, *self.rules.advice) if rule.authored]
        self.diagnosis = engine.ruleset(f"{family.id}_diagnosis", self.rules.diagnosis)
        self.advice = engine.ruleset(f"{family.id}_advice", self.rules.advice)

    def heeding(self, habits: Habits) -> Self:
        """Return a reasoner on the same rules whose ranking begins from how common each cause is in a kitchen."""
        shares = habits.shares()
        heeding = copy.copy(self)
        heeding.network = reweighed(self.network, [shares[cause] for cause in self.network.causes], self.vocabulary)
        heeding.habits = habits
        return heeding

    def reason(self, case: Case) -> Conclusion:
        """Return what follows from ``case``.  Pure: the same case gives an equal conclusion."""
        found = self._diagnose(case)
        suspects = self._suspects(found.standing)
        second = self.advice.run(self._advice_facts(case, found.stage, found.numbers, found.trace, suspects))
        trace = (*found.trace, *second)
        concluded = [fact for firing in trace for fact in firing.concluded]
        barred = _causes(trace, "barred")
        called_for = [fact for firing in trace if not _idle(firing, barred) for fact in firing.concluded]
        ranked = self._questions(case, found.stage, found.standing, found.answers)
        stop = stopping.why_stop(
            self.family, self.vocabulary, case, found.standing, suspects_of(suspects), ranked, concluded
        )
        return Conclusion(
            case=case,
            suspects=suspects,
            unlisted=found.standing.unlisted,
            settled=suspects[0].cause if suspects and suspects[0].probability >= self.vocabulary.settled_at else None,
            ruled_out=found.ruled_out,
            doubted=found.doubted,
            answers=found.answers,
            numbers=found.numbers,
            from_memory=found.memory,
            findings=_names(called_for, "finding"),
            remedies=tuple(r for r in _names(concluded, "remedy") if r not in barred),
            barred=barred,
            cautions=_names(called_for, "caution"),
            stage=found.stage,
            next_question=None if stop else ranked[0],
            stop=stop,
            clash=self._clash(found.evidence, found.standing, found.ruled_out, found.doubted),
            trace=trace,
            standing=found.standing,
            evidence=tuple(found.evidence),
        )

    def suspects(self, case: Case) -> tuple[Suspect, ...]:
        """Return the suspects of ``reason`` alone, in half its time: without advice, questions and trace."""
        return self._suspects(self._diagnose(case).standing)

    def _diagnose(self, case: Case) -> _Diagnosis:
        stage = self.stage(case)
        numbers = self.numbers(case)
        memory = frozenset(s for s in case.answers if self.is_memory(self.family.signs[s], stage))
        trace = self.diagnosis.run(self._facts(case, stage, numbers, memory))
        answers = self._answers(case, trace)
        ruled_out, doubted = self._cleared(trace, memory)
        evidence = self._evidence(case, answers, memory, trace)
        standing = self._rank(evidence, ruled_out, doubted)
        return _Diagnosis(stage, numbers, memory, trace, answers, ruled_out, doubted, evidence, standing)

    def working_memory(self, case: Case) -> tuple[list[Fact], list[Fact]]:
        """Return the facts that the two rulesets start from in this case, for tests against other engines."""
        found = self._diagnose(case)
        suspects = self._suspects(found.standing)
        facts = self._facts(case, found.stage, found.numbers, found.memory)
        return facts, self._advice_facts(case, found.stage, found.numbers, found.trace, suspects)

    # -- what is known ---------------------------------------------------------------

    def near_misses(self, conclusion: Conclusion) -> tuple[NearMiss, ...]:
        """Return the plain rules that nearly fired in this case, each with the condition that stopped it."""
        _, facts = self.working_memory(conclusion.case)
        concluded = [fact for firing in conclusion.trace for fact in firing.concluded]
        return nearmiss.near_misses(self._authored, conclusion.trace, [*facts, *concluded])

    def stage(self, case: Case) -> str | None:
        """Return the stage the batch is at: as said, or where the complaint is noticed, or unknown."""
        if case.stage is not None:
            return case.stage
        return self.family.faults[case.fault].stage if case.fault is not None else None

    def is_memory(self, sign: Sign, stage: str | None) -> bool:
        """Return whether at ``stage`` a sign can only be remembered."""
        if sign.kind == "recalled":
            return True
        return stage is not None and self._stage_number[stage] > self._stage_number[sign.last_stage]

    def numbers(self, case: Case) -> dict[str, float]:
        """Return every number that rules may ask about: batch figures, measures, and what follows from them."""
        numbers: dict[str, float] = dict(case.batch)
        if case.service_in_min is not None:
            numbers["service_in_min"] = case.service_in_min
        for sign_id, given in case.answers.items():
            if given.value is not None:
                numbers[sign_id] = given.value
        for sign in self.family.signs.values():
            worked = self._worked_out(sign, case)
            if worked is not None:
                numbers[sign.id] = worked
        return numbers

    def _worked_out(self, sign: Sign, case: Case) -> float | None:
        given = case.answers.get(sign.id)
        if sign.worked_out is None or sign.measure is None or (given is not None and given.value is None):
            return None
        function = registry.FUNCTIONS[sign.worked_out.by]
        inputs: dict[str, float | str] = {}
        for parameter, source in sign.worked_out.inputs.items():
            value = case_input(source, case)
            if value is not None:
                inputs[parameter] = value
            elif parameter in function.required:
                return None
        try:
            result = next(iter(function.call(**inputs).values()))
        except AmountError:
            return None
        return min(max(result, sign.measure.low), sign.measure.high)

    def _facts(self, case: Case, stage: str | None, numbers: Mapping[str, float], memory: frozenset[str]) -> list[Fact]:
        facts = [
            Fact("stage", stage or ANY_STAGE),
            *(Fact("number", key, float(value)) for key, value in numbers.items()),
        ]
        if case.fault is not None:
            facts.append(Fact("fault", case.fault))
        for sign_id, given in case.answers.items():
            if given.answer is not None:
                facts.append(Fact("sign", sign_id, given.answer))
            if not given.cant_tell:
                facts.append(Fact("known_by", sign_id, MEMORY if sign_id in memory else WITNESS))
        facts.extend(
            Fact("known_by", key, WITNESS) for key in numbers if key in self.family.signs and key not in case.answers
        )
        return facts

    def _advice_facts(
        self,
        case: Case,
        stage: str | None,
        numbers: Mapping[str, float],
        first: Sequence[Firing],
        suspects: Sequence[Suspect],
    ) -> list[Fact]:
        facts = self._facts(case, stage, numbers, frozenset())
        facts.extend(fact for firing in first for fact in firing.concluded)
        header = self.family.header
        stages = range(len(header.stages)) if stage is None else (header.stage_index(stage),)
        for suspect in suspects:
            words = [word for word, least in self.vocabulary.standing.items() if suspect.probability >= least]
            facts.extend(Fact("suspect", suspect.cause, word) for word in words)
            if words:
                facts.extend(Fact("suspect_at", suspect.cause, float(number)) for number in stages)
        return facts

    def _answers(self, case: Case, firings: Sequence[Firing]) -> dict[str, str]:
        """Answers as given, then those that rules derive; what a person said stands against what a rule guesses."""
        answers = {sign: given.answer for sign, given in case.answers.items() if given.answer is not None}
        for firing in firings:
            for fact in firing.concluded:
                if fact.kind == "sign" and isinstance(fact.value, str):
                    answers.setdefault(fact.name, fact.value)
        return {sign: answers[sign] for sign in self.family.signs if sign in answers}

    def _cleared(self, firings: Sequence[Firing], memory: frozenset[str]) -> tuple[dict[str, str], dict[str, str]]:
        """Split what rules cleared into causes ruled out and causes only doubted, because memory is in it."""
        of_memory = [f for f in firings if any(fact.kind == "sign" and fact.name in memory for fact in f.facts)]
        firm = [f for f in firings if f not in of_memory]
        ruled_out = _causes(firm, "ruled_out")
        doubted = {**_causes(of_memory, "ruled_out"), **_causes(firings, "doubted")}
        return ruled_out, {cause: rule for cause, rule in doubted.items() if cause not in ruled_out}

    # -- ranking -----------------------------------------------------------------------

    def _evidence(
        self, case: Case, answers: Mapping[str, str], memory: frozenset[str], firings: Sequence[Firing]
    ) -> list[Evidence]:
        evidence = [Evidence(COMPLAINT, case.fault)] if case.fault is not None else []
        derived = self._derived(firings)
        for sign, answer in answers.items():
            weight = 1.0 if sign in case.answers else derived.get(sign, 1.0)
            if weight > 0.0:
                evidence.append(Evidence(sign, answer, sign in memory, weight))
        return evidence

    def _derived(self, firings: Sequence[Firing]) -> dict[str, float]:
        """Return how much each answer that a plain rule derived counts.

        What follows from the complaint alone adds nothing to it; what follows from other
        answers says the same thing again.
        """
        weights: dict[str, float] = {}
        for firing in firings:
            of_complaint = any(fact.kind == "fault" for fact in firing.facts)
            of_signs = any(fact.kind == "sign" for fact in firing.facts)
            for fact in firing.concluded:
                if fact.kind == "sign" and (of_complaint or of_signs):
                    weights.setdefault(fact.name, 0.0 if of_complaint else self.vocabulary.repeated_evidence)
        return weights

    def _rank(self, evidence: Sequence[Evidence], ruled_out: Iterable[str], doubted: Iterable[str]) -> Standing:
        return ranking.rank(
            self.network,
            evidence,
            self.family.header.same_evidence,
            tuple(ruled_out),
            tuple(doubted),
            self.vocabulary.recalled_rule_out,
            self.vocabulary.repeated_evidence,
        )

    def _suspects(self, standing: Standing) -> tuple[Suspect, ...]:
        pairs = [
            Suspect(cause, float(p)) for cause, p in zip(self.network.causes, standing.cause, strict=True) if p > 0.0
        ]
        return tuple(sorted(pairs, key=lambda s: (-round(s.probability, 12), s.cause)))

    # -- questions ---------------------------------------------------------------------

    def candidates(self, case: Case, stage: str | None, answers: Mapping[str, str]) -> list[Candidate]:
        """Return the questions that can still be asked at this stage."""
        now = None if stage is None else self._stage_number[stage]
        found = []
        for sign in self.family.signs.values():
            if not sign.asked or sign.id in case.answers or sign.id in answers:
                continue
            if now is not None and self._stage_number[sign.first_stage] > now:
                continue
            late = now is not None and now > self._stage_number[sign.last_stage]
            if late and sign.ask_later is None and sign.kind != "recalled":
                continue
            cost = self.vocabulary.asking_min
            if not late:
                cost += sign.minutes + sign.pieces * self.vocabulary.piece_min
            found.append(Candidate(sign.id, cost, late or sign.kind == "recalled", 1.25 if sign.early else 1.0))
        return found

    def ranked_questions(self, conclusion: Conclusion) -> tuple[Worth, ...]:
        """Return every question still open, best first, whether or not asking has stopped."""
        return self._questions(conclusion.case, conclusion.stage, conclusion.standing, conclusion.answers)

    def _questions(
        self, case: Case, stage: str | None, standing: Standing, answers: Mapping[str, str]
    ) -> tuple[Worth, ...]:
        return questions.rate(
            self.network,
            standing.posterior,
            self.candidates(case, stage, answers),
            self.family.header.same_evidence,
            tuple(answers),
            self.vocabulary.repeated_evidence,
        )

    # -- contradictions ----------------------------------------------------------------

    def _clash(
        self, evidence: Sequence[Evidence], standing: Standing, ruled_out: Mapping[str, str], doubted: Mapping[str, str]
    ) -> Clash | None:
        """Name the answers that do not go together, when they leave nothing or point outside the rule base."""
        signs = [one for one in evidence if one.node != COMPLAINT]
        if len(signs) < 2 or not (standing.nothing_left or standing.unlisted > 0.5):
            return None
        eased = []
        for one in signs:
            others = [other for other in evidence if other is not one]
            kept = [cause for cause, rule in ruled_out.items() if not rule.startswith(f"{one.node} ")]
            unlisted = self._rank(others, kept, doubted).unlisted
            eased.append((unlisted, 0 if one.from_memory else 1, one.node))
        eased.sort()
        return Clash(tuple(node for _, _, node in eased[:2]))


def suspects_of(suspects: Sequence[Suspect]) -> tuple[tuple[str, float], ...]:
    """Return suspects as plain pairs, for modules that do not know the class."""
    return tuple((suspect.cause, suspect.probability) for suspect in suspects)


def case_input(source: str | float, case: Case) -> float | str | None:
    """Return what an input of a calculation is in this case; None when it was not given."""
    if not isinstance(source, str):
        return source
    kind, name = source.split(".", 1)
    if kind == "batch":
        return case.batch.get(name)
    given: Given | None = case.answers.get(name)
    if given is None:
        return None
    return given.value if given.value is not None else given.answer


def _causes(firings: Iterable[Firing], kind: str) -> dict[str, str]:
    """Map what firings concluded of one kind to the first rule that concluded it."""
    found: dict[str, str] = {}
    for firing in firings:
        for fact in firing.concluded:
            if fact.kind == kind:
                found.setdefault(fact.name, firing.rule)
    return found


def _idle(firing: Firing, barred: Mapping[str, str]) -> bool:
    """Return whether a firing rests on a remedy that another rule bars: what it says is of no use then."""
    return any(
        woken.kind == "remedy" and woken.name in barred and Fact("barred", woken.name) not in firing.concluded
        for woken in firing.facts
    )


def _names(facts: Iterable[Fact], kind: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(fact.name for fact in facts if fact.kind == kind))
