"""The pages of the place of practice, by name, and what they share."""

from __future__ import annotations

from ui.practice.base import PracticePage
from ui.practice.explore import ExplorePage
from ui.practice.learner import RecordPage
from ui.practice.marked import MarkedPage
from ui.practice.round import RoundPage
from ui.practice.start import StartPage
from ui.practice.trainer import TrainerPage
from ui.practice.verdict import NamePage, ReasonPage, RemedyPage

PAGES: dict[str, type[PracticePage]] = {
    "start": StartPage,
    "round": RoundPage,
    "remedy": RemedyPage,
    "name": NamePage,
    "reason": ReasonPage,
    "marked": MarkedPage,
    "explore": ExplorePage,
    "record": RecordPage,
    "trainer": TrainerPage,
}
