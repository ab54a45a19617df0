"""What a chain of why leads to is what the cause shows, and what it mostly shows is led to by its chain."""

from __future__ import annotations

from collections.abc import Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.checks.texts import also_file
from troubleshoot.knowledge.model import Cause, Family, RuleBase
from troubleshoot.problems import Problem

#: A look that takes so many minutes is a trial: it shows what a change would do, which no chain leads to.
TRIAL_MIN = 10.0


class ChainShows:
    """The chain and the strengths are two tellings of one thing, so they must agree."""

    id = "chain-shows"
    severity = ERROR
    about = "a link is seen as what the cause shows, and each fault that it usually shows is seen in some link"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield links seen as what the cause does not show, and what it shows though no link leads there."""
        also = also_file(family, rulebase)
        rarely, usually = rulebase.vocabulary.frequency["rarely"], rulebase.vocabulary.frequency["usually"]
        for cause in family.causes.values():
            for index, link in enumerate(cause.links):
                for sign, answer in link.shown:
                    if cause.shows_as.get(sign, {}).get(answer, 0.0) <= rarely:
                        yield Problem(
                            rulebase.places.of_cause(cause.place, also, cause.id, "why", index, "seen_as", sign),
                            cause.id,
                            f"a link is seen as '{sign}: {answer}', which the cause shows rarely or not at all",
                            "give it a strength under 'shows_as', or take it out of the link",
                        )
            for sign, answer in _unexplained(family, cause, usually):
                yield Problem(
                    rulebase.places.of_cause(cause.place, also, cause.id, "shows_as", sign, answer),
                    cause.id,
                    f"'{sign}: {answer}' is said to be seen usually, but no link of the chain leads to it",
                    "add it to 'seen_as' of the link that makes it, write that link, or lower the strength",
                )


def _unexplained(family: Family, cause: Cause, usually: float) -> Iterator[tuple[str, str]]:
    """Yield the faults (sign, answer) that a cause usually shows and that its chain does not lead to."""
    led_to = {pair for link in cause.links for pair in link.shown}
    for sign_id, levels in cause.shows_as.items():
        sign = family.signs[sign_id]
        if cause.nothing_wrong or sign.kind == "recalled" or sign.minutes >= TRIAL_MIN:
            continue
        for answer, level in levels.items():
            if level >= usually and answer not in sign.normal_ids and (sign_id, answer) not in led_to:
                yield sign_id, answer
