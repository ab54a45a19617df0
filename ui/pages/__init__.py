"""One page for each step of the interview, attached by the step's name."""

from __future__ import annotations

from types import MappingProxyType

from ui.pages.base import Page
from ui.pages.family import FamilyPage
from ui.pages.fault import FaultPage
from ui.pages.question import QuestionPage
from ui.pages.verdict import VerdictPage

#: The page of each step.
PAGES: MappingProxyType[str, type[Page]] = MappingProxyType(
    {page.step: page for page in (FamilyPage, FaultPage, QuestionPage, VerdictPage)}
)
