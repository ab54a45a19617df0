"""What an answer is said to speak for, and how often each cause is said to bring it, are held against each other.

The strengths of a rule base stand beside the causes.  Its differentials are the same knowledge told from the other
side, answer by answer, by somebody who does not look at the strengths meanwhile.  Where the two tellings disagree, one
of them is wrong, and only somebody who bakes can say which: until then the line is kept as disputed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from troubleshoot.checks.base import ERROR
from troubleshoot.inference.network import sign_node
from troubleshoot.knowledge.differential import Differential
from troubleshoot.knowledge.model import Cause, Family, RuleBase, Vocabulary
from troubleshoot.problems import Problem

#: An answer given in so small a share of batches is as good as never given (the bottom of the scale, twice).
NEXT_TO_NEVER = 0.06

#: Shares that differ by less are the same to anybody who looks.
SAME = 0.02

#: A line of a differential: where it stands in the file, its grade and cause, and how the strengths deny it if they do.
Line = tuple[Differential, str, int, str, str | None]


class DifferentialAgrees:
    """An answer points to causes that bring it, fits those that may, and speaks against or excludes the others."""

    id = "differential"
    severity = ERROR
    about = "what an answer speaks for and against agrees with how often each cause brings it"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield causes that stand in a grade which their strengths deny."""
        for one, grade, index, cause, denied in lines(family, family.differentials, rulebase.vocabulary):
            if denied is not None:
                yield Problem(
                    rulebase.places.at(one.place, "signs", one.sign, one.answer, grade, index),
                    f"{one.sign} {one.answer}",
                    f"it stands under '{grade}' for '{cause}', but {denied}",
                    f"ask what a baker sees, then mend this grade or '{one.sign}' of the cause",
                )


class DisputeIsOpen:
    """What is kept as disputed is still denied by the strengths."""

    id = "disputed"
    severity = ERROR
    about = "a line that is kept as disputed is one that the strengths deny"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield disputed lines that the strengths bear out by now."""
        for one, grade, index, cause, denied in lines(family, family.disputed, rulebase.vocabulary):
            if denied is None:
                yield Problem(
                    rulebase.places.at(one.place, "signs", one.sign, one.answer, grade, index),
                    f"{one.sign} {one.answer}",
                    f"the strengths of '{cause}' agree with this by now",
                    "move it to the differential",
                )


def lines(family: Family, differentials: Iterable[Differential], vocabulary: Vocabulary) -> Iterator[Line]:
    """Yield every line of some differentials with how the strengths of its cause deny it, or None."""
    told = tuple(differentials)
    causes = list(family.causes)
    rows = {cause: row for row, cause in enumerate(causes)}
    nodes = {sign: sign_node(family, sign, causes, vocabulary) for sign in {one.sign for one in told}}
    alone = {sign: node.alone() for sign, node in nodes.items()}
    for one in told:
        node = nodes[one.sign]
        column = node.answers.index(one.answer)
        for grade, index, cause in one.graded:
            with_it = float(alone[one.sign][rows[cause], column])
            if grade == "excludes":
                denied = _not_ruled_out(family.causes[cause], one)
            else:
                denied = _denied(grade, with_it, float(node.base[column]), vocabulary)
            yield one, grade, index, cause, denied


def _not_ruled_out(cause: Cause, one: Differential) -> str | None:
    """Return what to say when an answer that is said to exclude a cause does not rule it out, or None."""
    ruled_out = one.answer in cause.ruled_out_by.get(one.sign, ())
    return None if ruled_out else "its 'ruled_out_by' does not name this answer"


def _denied(grade: str, with_it: float, without: float, vocabulary: Vocabulary) -> str | None:
    """Return how the two shares of batches deny a grade, or None.

    The grades meet at "about half" and overlap by half a step of the scale to each side, since two people who agree
    about a thing may still call it by neighbouring words.  An answer that is next to never given with a cause speaks
    against it however rare it is anyway; one that nearly all sound batches give points to a cause that leaves it so.
    """
    scale = vocabulary.frequency
    half = scale["about-half"]
    shares = f"{with_it:.0%} of its batches show this answer, and {without:.0%} of sound ones"
    if grade == "speaks_against":
        return shares if with_it >= without and with_it > NEXT_TO_NEVER else None
    left_normal = without >= scale["usually"] - SAME and with_it > without - SAME
    if with_it <= without and not (grade == "points_to" and left_normal):
        return shares
    if grade == "points_to" and with_it < (scale["sometimes"] + half) / 2:
        return f"only {shares}: that is no more than 'fits'"
    brings = (half + scale["usually"]) / 2
    if grade == "fits" and with_it > brings + (1.0 - brings) * without:
        return f"{shares}: that is 'points_to'"
    return None
