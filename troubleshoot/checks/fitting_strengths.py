"""The strengths that one cause gives to the answers of one sign must leave room for each other."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.checks.texts import also_file
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Problem


class FittingStrengths:
    """A batch gives one answer to a question, so what is nearly always seen leaves no room for a second answer."""

    id = "fitting-strengths"
    severity = ERROR
    about = "the strengths of a sign's answers leave room for each other, and say what is seen, not only what is not"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield lines of strengths that contradict themselves, and lines that say nothing."""
        also = also_file(family, rulebase)
        scale = rulebase.vocabulary.frequency
        rarely, half, always = scale["rarely"], scale["about-half"], scale["nearly-always"]
        for cause in family.causes.values():
            for sign, levels in cause.shows_as.items():
                place = rulebase.places.of_cause(cause.place, also, cause.id, "shows_as", sign)
                often = [answer for answer, level in levels.items() if level >= half]
                if max(levels.values()) >= always and len(often) > 1:
                    yield Problem(
                        place,
                        cause.id,
                        f"'{sign}' is nearly always one answer and yet half the time or more another",
                        f"lower one of {', '.join(often)}: together they can be seen in all batches, not in more",
                    )
                elif max(levels.values()) <= rarely:
                    yield Problem(
                        place,
                        cause.id,
                        f"'{sign}' is only said to be rarely {' or '.join(levels)}, which shifts nothing",
                        "say which answer is seen instead and how often, or drop the line",
                    )
