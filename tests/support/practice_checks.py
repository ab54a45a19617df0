"""Whether a practice case is fair, checked apart from how it was drawn."""

from __future__ import annotations

import re
from collections.abc import Iterator
from types import MappingProxyType

from troubleshoot.inference.facts import Case, Given
from troubleshoot.inference.reason import Reasoner
from troubleshoot.practice.cases import LEVELS, PracticeCase
from troubleshoot.practice.phrases import Phrases
from troubleshoot.practice.round import Round

#: Endings that are cut off, the longest first, so that "lumps", "lumpy" and "lump" meet.
ENDINGS = ("ening", "ings", "ing", "ened", "edly", "ness", "ies", "ed", "es", "ly", "er", "en", "s", "y", "d")
LITTLE_WORDS = frozenset(
    {
        "with", "went", "were", "that", "this", "than", "then", "into", "from", "have", "been", "when", "while",
        "before", "after", "their", "there", "they", "them", "over", "under", "about", "only", "more", "most",
        "much", "very", "other", "another", "nothing", "wrong", "still", "again", "just", "because",
    }
)  # fmt: skip


def impossible(reasoner: Reasoner, case: PracticeCase) -> list[str]:
    """What in a batch cannot be so by the rule base, in words; empty when all of it can."""
    return list(_impossible(reasoner, case))


def _impossible(reasoner: Reasoner, case: PracticeCase) -> Iterator[str]:
    family = reasoner.family
    answers = MappingProxyType({sign: Given(answer=answer) for sign, answer in case.shows.items()})
    conclusion = reasoner.reason(Case(family.id, case.complaint, answers))
    for cause in case.causes:
        for sign, out in family.causes[cause].ruled_out_by.items():
            if case.shows.get(sign) in out:
                yield f"{sign} = {case.shows[sign]} rules out {cause}"
        if cause in conclusion.ruled_out or cause in conclusion.doubted:
            yield f"a rule speaks against {cause}"
        late = family.header.stage_index(family.causes[cause].stage) > family.header.stage_index(case.stage)
        if late:
            yield f"{cause} is made after the complaint is noticed"
    for firing in conclusion.trace:
        for fact in firing.concluded:
            if fact.kind == "sign" and fact.name in case.shows:
                covered = family.signs[fact.name].covers(str(fact.value))
                if case.shows[fact.name] not in covered:
                    yield f"rule {firing.rule} makes {fact.name} {fact.value}, not {case.shows[fact.name]}"
    for sign, answer in case.shows.items():
        if answer not in family.signs[sign].answer_ids:
            yield f"{sign} has no answer {answer}"


def given_away(reasoner: Reasoner, case: PracticeCase) -> list[str]:
    """The words of the description that only the hidden cause's name has, of all that it could be.

    The family's name tells nothing, nor does what stands in every description whatever is hidden.
    """
    family = reasoner.family
    story = Round(reasoner, case).story()
    told = " ".join((story.complaint, *story.lines, story.level_name, story.code))
    always = " ".join((*Phrases().story("", 2.0, 2.0, True), *(Phrases().level_name(level) for level in LEVELS)))
    varies = words(story.complaint) | (words(told) - words(always))
    fault = family.faults[case.complaint]
    could = set(fault.causes).union(*(family.faults[covered].causes for covered in fault.covers))
    found = []
    for cause in case.causes:
        name = family.causes[cause].name
        others = " ".join((family.name, *(family.causes[other].name for other in could if other != cause)))
        if name.casefold() in told.casefold():
            found.append(name)
        found.extend(sorted((words(name) - words(others)) & varies))
    return found


def words(text: str) -> set[str]:
    """The telling words of a text, without their endings."""
    return {_cut(word) for word in re.findall(r"[a-z]{4,}", text.casefold()) if word not in LITTLE_WORDS}


def _cut(word: str) -> str:
    for ending in ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= 4:
            return _cut(word[: -len(ending)])
    return word
