"""Small cases for tests of the rule base: a complaint, a few answers, and what follows."""

from __future__ import annotations

from troubleshoot.advice.remedies import RemedyAdvice, advise
from troubleshoot.advice.wording import Wording
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.inference.facts import Case, Given
from troubleshoot.inference.reason import Reasoner


def given(answers: dict[str, str | float]) -> dict[str, Given]:
    """Answers as a person gives them: words or numbers."""
    return {s: Given(answer=a) if isinstance(a, str) else Given(value=float(a)) for s, a in answers.items()}


def concluded(
    reasoner: Reasoner, fault: str | None, batch: dict[str, float] | None = None, **answers: str | float
) -> Conclusion:
    """What follows from a complaint and a few answers."""
    return reasoner.reason(Case(reasoner.family.id, fault, given(answers), batch or {}))


def first(reasoner: Reasoner, fault: str | None, **answers: str | float) -> str:
    """The likeliest cause."""
    return concluded(reasoner, fault, None, **answers).suspects[0].cause


def advice(reasoner: Reasoner, conclusion: Conclusion) -> dict[str, RemedyAdvice]:
    """The remedies on offer, by id, best first."""
    return {a.remedy: a for a in advise(reasoner.family, conclusion, Wording(), reasoner.vocabulary)}


def words_of(reasoner: Reasoner, cause: str) -> str:
    """Everything the program says of a cause: its chain, its remedies' steps, reasons and what not to try."""
    family = reasoner.family
    parts = [family.causes[cause].name, *family.causes[cause].why]
    for remedy in (family.remedies[r] for r in family.causes[cause].remedies):
        parts += [remedy.name, *remedy.steps, remedy.because, *remedy.not_this]
    return " ".join(parts).casefold()
