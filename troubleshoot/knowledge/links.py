"""Every name in the rule base must lead somewhere, and every band must meet the next."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

from troubleshoot.kitchen import registry
from troubleshoot.knowledge.differential import Differential
from troubleshoot.knowledge.model import Cause, Family, Fault, Remedy, RuleBase, Sign
from troubleshoot.knowledge.rule import ABSENT, Condition, NearMiss, Rule
from troubleshoot.problems import Place, Problem, choose_from

#: Numbers that a rule may ask about beside measured signs and batch figures.
CONTEXT_NUMBERS = ("service_in_min", "pieces")


def check(rulebase: RuleBase, unread: Collection[tuple[str, str]] = ()) -> list[Problem]:
    """Return every dangling or contradictory link of the families that were read.

    ``unread`` names the files, by kind and id, that have problems of their own: links to what they hold are not
    told of as well.
    """
    problems: list[Problem] = []
    for family in rulebase.families.values():
        problems.extend(_FamilyLinks(rulebase, family, frozenset(unread)).check())
    problems.extend(
        Problem(caution.place, caution.id, f"unknown source '{source}'", choose_from(source, rulebase.sources))
        for caution in rulebase.cautions.values()
        for source in caution.sources
        if source not in rulebase.sources and ("sources", "sources") not in unread
    )
    return problems


class _FamilyLinks:
    def __init__(self, rulebase: RuleBase, family: Family, unread: frozenset[tuple[str, str]]) -> None:
        self.rulebase = rulebase
        self.family = family
        self.unread = unread
        self.unread_kinds = {kind for kind, _ in unread}
        self.stages = {stage.id for stage in family.header.stages}
        self.quantities = {quantity.id: quantity for quantity in family.header.batch}
        self.answers = {sign.id: frozenset(sign.answer_ids) for sign in family.signs.values()}
        self.findings = {c.name for rule in family.rules for c in rule.then if c.kind == "finding"}

    def check(self) -> Iterator[Problem]:
        yield from self._header()
        for sign in self.family.signs.values():
            yield from self._sign(sign)
        for fault in self.family.faults.values():
            yield from self._fault(fault)
        for cause in self.family.causes.values():
            yield from self._cause(cause)
        for remedy in self.family.remedies.values():
            yield from self._remedy(remedy)
        seen: dict[str, Place] = {}
        for rule in self.family.rules:
            if rule.id in seen:
                yield Problem(
                    rule.place, rule.id, f"a rule of this name stands at {seen[rule.id]}", "give it a name of its own"
                )
            seen.setdefault(rule.id, rule.place)
            yield from self._rule(rule)
        yield from self._differentials(self.family.differentials)
        yield from self._differentials(self.family.disputed)

    def _known(self, word: str, known: Collection[str], what: str, place: Place, subject: str) -> Iterator[Problem]:
        if word not in known and not self._in_unread(word, what):
            new = self.rulebase.renamed.get(word)
            advice = f"it is now called '{new}'" if new is not None and new in known else choose_from(word, known)
            yield Problem(place, subject, f"unknown {what} '{word}'", advice)

    def _in_unread(self, word: str, what: str) -> bool:
        """Return whether what is missing may stand in a file that could not be read."""
        if (what, word) in self.unread:
            return True
        return {"fault": "faults", "source": "sources", "caution": "cautions", "finding": "rules"}.get(
            what
        ) in self.unread_kinds

    def _header(self) -> Iterator[Problem]:
        header = self.family.header
        for group in header.same_evidence:
            for sign in group:
                place = self.rulebase.places.at(header.place, "same_evidence")
                yield from self._known(sign, self.family.signs, "sign", place, "same_evidence")
        place = self.rulebase.places.at(header.place, "remake")
        yield from self._known(header.remake, self.family.remedies, "remedy", place, "remake")

    def _span(self, first: str, last: str, place: Place, subject: str) -> Iterator[Problem]:
        unknown = [stage for stage in (first, last) if stage not in self.stages]
        for stage in unknown:
            yield from self._known(stage, self.stages, "stage", place, subject)
        if not unknown and self.family.header.stage_index(first) > self.family.header.stage_index(last):
            yield Problem(place, subject, f"'{first}' comes after '{last}'", "put the earlier stage in 'from'")

    def _sign(self, sign: Sign) -> Iterator[Problem]:
        at = self.rulebase.places.at
        yield from self._span(sign.first_stage, sign.last_stage, at(sign.place, "from"), sign.id)
        for loose, covered in sign.loosely.items():
            if loose in sign.answer_ids:
                yield Problem(sign.place, sign.id, f"'{loose}' is both a loose and a precise answer", "rename one")
            for answer in covered:
                yield from self._known(answer, sign.answer_ids, "answer", at(sign.place, "loosely", loose), sign.id)
        if sign.measure is not None:
            yield from self._bands(sign)
        if sign.worked_out is not None:
            if sign.measure is None:
                yield Problem(
                    sign.place, sign.id, "it is worked out but has no measure", "add the unit and bands of the number"
                )
            place = at(sign.place, "worked_out", "by")
            yield from self._inputs(sign.worked_out.by, sign.worked_out.inputs, place, sign.id)

    def _bands(self, sign: Sign) -> Iterator[Problem]:
        assert sign.measure is not None
        if sign.measure.unit not in self.rulebase.vocabulary.units:
            place = self.rulebase.places.at(sign.place, "measure", "unit")
            yield from self._known(sign.measure.unit, self.rulebase.vocabulary.units, "unit", place, sign.id)
        edge: float | None = None
        for index, band in enumerate(sign.measure.bands):
            place = self.rulebase.places.at(sign.place, "measure", "bands", index)
            yield from self._known(band.answer, sign.answer_ids, "answer", place, sign.id)
            if index and band.at_least != edge:
                yield Problem(
                    place,
                    sign.id,
                    f"the bands leave a gap or overlap before '{band.answer}'",
                    f"let it begin at {edge}",
                )
            edge = band.below
        if sign.measure.bands[0].at_least is not None or edge is not None:
            place = self.rulebase.places.at(sign.place, "measure", "bands")
            yield Problem(
                place, sign.id, "the first band must be open below and the last open above", "drop that bound"
            )

    def _inputs(self, by: str, inputs: Mapping[str, str | float], place: Place, subject: str) -> Iterator[Problem]:
        function = registry.FUNCTIONS.get(by)
        if function is None:
            yield Problem(place, subject, f"the kitchen has no calculation '{by}'", choose_from(by, registry.FUNCTIONS))
            return
        for parameter, source in inputs.items():
            yield from self._known(parameter, function.parameters, f"input of {by}", place, subject)
            if isinstance(source, str):
                kind, name = source.split(".", 1)
                known: Collection[str] = self.quantities if kind == "batch" else self.family.signs
                yield from self._known(name, known, "batch figure" if kind == "batch" else "sign", place, subject)
        for parameter in function.required - set(inputs):
            yield Problem(place, subject, f"{by} also needs '{parameter}'", f"add '{parameter}:' under 'from'")

    def _fault(self, fault: Fault) -> Iterator[Problem]:
        def at(*path: str | int) -> Place:
            return self.rulebase.places.at(fault.place, "faults", fault.id, *path)

        yield from self._known(fault.stage, self.stages, "stage", at("stage"), fault.id)
        for cause in fault.causes:
            yield from self._known(cause, self.family.causes, "cause", at("causes", cause), fault.id)
        for covered in fault.covers:
            precise = [key for key, other in self.family.faults.items() if not other.covers]
            yield from self._known(covered, precise, "fault", at("covers"), fault.id)

    def _answer(self, sign_id: str, answer: str, place: Place, subject: str) -> Iterator[Problem]:
        if sign_id not in self.family.signs:
            yield from self._known(sign_id, self.family.signs, "sign", place, subject)
        else:
            yield from self._known(
                answer, self.family.signs[sign_id].answer_ids, f"answer to {sign_id}", place, subject
            )

    def _cause(self, cause: Cause) -> Iterator[Problem]:
        subject = cause.id
        also = str(self.rulebase.folder / self.family.id / "also.yaml")

        def at(*path: str | int) -> Place:
            return self.rulebase.places.of_cause(cause.place, also, cause.id, *path)

        yield from self._known(cause.stage, self.stages, "stage", at("stage"), subject)
        for index, link in enumerate(cause.links):
            for sign, answer in link.shown:
                if answer not in self.answers.get(sign, ()):
                    yield from self._answer(sign, answer, at("why", index, "seen_as", sign), subject)
        # Some thousand answers are right for each that is wrong, and a place takes longer to find than an answer.
        for sign, levels in cause.shows_as.items():
            for answer in sorted(levels.keys() - self.answers.get(sign, frozenset())):
                yield from self._answer(sign, answer, at("shows_as", sign, answer), subject)
        for sign, answers in cause.ruled_out_by.items():
            for index, answer in enumerate(answers):
                if answer not in self.answers.get(sign, ()):
                    yield from self._answer(sign, answer, at("ruled_out_by", sign, index), subject)
        for rival in cause.told_apart_from:
            place = at("told_apart_from", rival.cause)
            yield from self._known(rival.cause, self.family.causes, "cause", place, subject)
            place = at("told_apart_from", rival.cause, "by")
            yield from self._known(rival.by, self.family.signs, "sign", place, subject)
        for index, remedy in enumerate(cause.remedies):
            yield from self._known(remedy, self.family.remedies, "remedy", at("remedies", index), subject)
        yield from self._sources(cause.sources, cause.place, subject)
        for example in cause.examples:
            yield from self._example(example.answers, example.place, subject)
            if example.fault is not None:
                yield from self._known(example.fault, self.family.faults, "fault", example.place, subject)
            if example.instead is not None:
                yield from self._known(example.instead, self.family.causes, "cause", example.place, subject)

    def _example(self, answers: Mapping[str, str | float], place: Place, subject: str) -> Iterator[Problem]:
        for sign_id, value in answers.items():
            sign = self.family.signs.get(sign_id)
            if sign is None:
                yield from self._known(sign_id, self.family.signs, "sign", place, subject)
            elif isinstance(value, str):
                choices = (*sign.answer_ids, *sign.loosely, "cant-tell")
                yield from self._known(value, choices, f"answer to {sign_id}", place, subject)
            elif sign.measure is None:
                yield Problem(place, subject, f"{sign_id} takes no number", choose_from(str(value), sign.answer_ids))
            elif not sign.measure.low <= value <= sign.measure.high:
                yield Problem(
                    place,
                    subject,
                    f"{value} is out of range for {sign_id}",
                    f"write {sign.measure.low} to {sign.measure.high}",
                )

    def _remedy(self, remedy: Remedy) -> Iterator[Problem]:
        place = self.rulebase.places.at(remedy.place, "from")
        yield from self._span(remedy.first_stage, remedy.last_stage, place, remedy.id)
        for index, caution in enumerate(remedy.cautions):
            place = self.rulebase.places.at(remedy.place, "cautions", index)
            yield from self._known(caution, self.rulebase.cautions, "caution", place, remedy.id)
        yield from self._sources(remedy.sources, remedy.place, remedy.id)
        for index, amounts in enumerate(remedy.amounts):
            place = self.rulebase.places.at(remedy.place, "amounts", index, "by")
            yield from self._inputs(amounts.by, amounts.inputs, place, remedy.id)

    def _rule(self, rule: Rule) -> Iterator[Problem]:
        yield from self._sources(rule.sources, rule.place, rule.id)
        for condition in rule.when:
            yield from self._condition(rule, condition)
        for near_miss in rule.near_misses:
            yield from self._near_miss(rule, near_miss)
        for conclusion in rule.then:
            place = conclusion.place
            if conclusion.kind == "answer":
                yield from self._answer(conclusion.name, conclusion.value or "", place, rule.id)
            else:
                known: dict[str, Collection[str]] = {
                    "rule_out": self.family.causes,
                    "offer": self.family.remedies,
                    "bar": self.family.remedies,
                    "caution": self.rulebase.cautions,
                    "finding": self.findings,
                }
                what = {"rule_out": "cause", "offer": "remedy", "bar": "remedy"}.get(conclusion.kind, conclusion.kind)
                yield from self._known(conclusion.name, known[conclusion.kind], what, place, rule.id)

    def _near_miss(self, rule: Rule, near_miss: NearMiss) -> Iterator[Problem]:
        if near_miss.about == "without":
            known: list[str] = []
            for condition in rule.when:
                known += [name for name in condition.names if condition.about in ABSENT]
            what = "finding, suspect or remedy of this rule"
            yield from self._known(near_miss.name, known, what, near_miss.place, rule.id)
        else:
            values = () if near_miss.value is None else (str(near_miss.value),)
            bound = near_miss.value if isinstance(near_miss.value, float) else None
            if near_miss.about == "number" and bound is None:
                wrong = f"'{near_miss.value}' is no number"
                yield Problem(near_miss.place, rule.id, wrong, "write the figure, as in 'is: 40'")
                return
            condition = Condition(near_miss.about, near_miss.name, values, bound, place=near_miss.place)
            yield from self._condition(rule, condition)

    def _condition(self, rule: Rule, condition: Condition) -> Iterator[Problem]:
        place, subject = condition.place, rule.id
        if condition.about == "sign":
            for answer in condition.values:
                yield from self._answer(condition.name, answer, place, subject)
        elif condition.about == "number":
            measured = [key for key, sign in self.family.signs.items() if sign.measure is not None]
            known = [*measured, *self.quantities, *CONTEXT_NUMBERS]
            yield from self._known(condition.name, known, "number", place, subject)
            if condition.at_least is None and condition.below is None:
                yield Problem(place, subject, "the number has no bound", "add 'at_least:' or 'below:'")
        elif condition.about == "suspect":
            yield from self._known(condition.name, self.family.causes, "cause", place, subject)
        elif condition.about == "finding":
            yield from self._known(condition.name, self.findings, "finding", place, subject)
        else:
            choices: Collection[str] = {
                "fault": self.family.faults,
                "stage": self.stages,
                "remedy": self.family.remedies,
            }[condition.about]
            for value in condition.values:
                yield from self._known(value, choices, condition.about, place, subject)

    def _differentials(self, differentials: Iterable[Differential]) -> Iterator[Problem]:
        first: dict[tuple[str, str], Place] = {}
        for one in differentials:
            subject = f"{one.sign} {one.answer}"
            yield from self._answer(one.sign, one.answer, one.place, subject)
            known = first.setdefault((one.sign, one.answer), one.place)
            if known is not one.place:
                yield Problem(one.place, subject, f"what it speaks for stands at {known} too", "keep one of the two")
            graded: dict[str, str] = {}
            for grade, index, cause in one.graded:
                # What excludes a cause speaks against it as well, and may stand in both lists.
                twice = cause in graded and (graded[cause], grade) != ("speaks_against", "excludes")
                if twice or cause not in self.family.causes:
                    place = self.rulebase.places.at(one.place, "signs", one.sign, one.answer, grade, index)
                    yield from self._known(cause, self.family.causes, "cause", place, subject)
                    if twice:
                        wrong = f"'{cause}' stands under '{graded[cause]}' too"
                        yield Problem(place, subject, wrong, "an answer has one grade for a cause: keep the right one")
                graded.setdefault(cause, grade)

    def _sources(self, sources: tuple[str, ...], place: Place, subject: str) -> Iterator[Problem]:
        for index, source in enumerate(sources):
            where = self.rulebase.places.at(place, "sources", index)
            yield from self._known(source, self.rulebase.sources, "source", where, subject)
