"""One page for each step of the interview, in the file of the step's name; each is imported when it is first shown."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from types import MappingProxyType
from typing import TYPE_CHECKING

from troubleshoot.interview.state import FAMILY, FAULT, QUESTION, VERDICT

if TYPE_CHECKING:
    from ui.pages.base import Page

#: The page of each step, by the name of its class.
PAGES: Mapping[str, str] = MappingProxyType(
    {FAMILY: "FamilyPage", FAULT: "FaultPage", QUESTION: "QuestionPage", VERDICT: "VerdictPage"}
)


def page_for(step: str) -> type[Page]:
    """Return the page of a step."""
    page: type[Page] = getattr(import_module(f"{__name__}.{step}"), PAGES[step])
    return page
