"""A cause cannot be ruled out by the very answer that it nearly always shows."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.checks.texts import also_file
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Problem


class Contradiction:
    """Rule-outs and strengths agree."""

    id = "contradiction"
    severity = ERROR
    about = "an answer that rules a cause out is not one the cause shows about half the time or more"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield causes whose rule-outs contradict their strengths."""
        also = also_file(family, rulebase)
        often = rulebase.vocabulary.frequency["about-half"]
        for cause in family.causes.values():
            for sign, answers in cause.ruled_out_by.items():
                for answer in answers:
                    if cause.shows_as.get(sign, {}).get(answer, 0.0) >= often:
                        yield Problem(
                            rulebase.places.of_cause(cause.place, also, cause.id, "ruled_out_by", sign),
                            cause.id,
                            f"'{sign}: {answer}' rules it out and is also what it often shows",
                            "drop one of the two",
                        )
