"""Cause and effect to look through: pick a mistake, a sign, a complaint, or two mistakes, and follow the picture."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from troubleshoot.errors import UserError
from troubleshoot.practice.explorer import Explorer, Named, SignView
from ui.desk import in_words
from ui.practice import pictures
from ui.practice.base import FoundCards, PracticePage
from ui.practice.desk import translate
from ui.practice.job import ProgressPanel
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, WrapRow
from ui.widgets.picture import Picture
from ui.widgets.strips import Section
from ui.widgets.words import Words

if TYPE_CHECKING:
    from ui.practice_place import PracticePlace


@dataclass(frozen=True, slots=True)
class Shown:
    """What the page shows: a list to pick from (``id`` empty) or a picture.

    ``other`` is the second mistake while two are compared, or the answer of a sign.
    """

    kind: str = pictures.MISTAKE
    id: str = ""
    other: str = ""


#: Two mistakes side by side; the second is picked while ``other`` is empty.
COMPARE = "compare"


class ExplorePage(PracticePage):
    """The lists and the pictures of one family."""

    def __init__(self, place: PracticePlace) -> None:
        super().__init__(place)
        self._of = ""
        self.at = Shown()
        self._before: list[Shown] = []
        self.picture: Picture | None = None
        self.practice.busy_changed.connect(self._busy_changed)

    # -- going about -------------------------------------------------------------------

    def open(self, shown: Shown) -> None:
        """Show something; Back leads to what is shown now."""
        if shown != self.at:
            self._before.append(self.at)
            self.at = shown
        self.enter(stay=False)

    def begin_at(self, family: str, shown: Shown) -> None:
        """Show something of a family; Back leads out of the page."""
        self._of, self.at, self._before = family, shown, []

    def go_back(self) -> None:
        """Go back to what was shown before, or out of the page."""
        if self._before:
            self.at = self._before.pop()
            self.enter(stay=False)
        else:
            super().go_back()

    def follow(self, where: str) -> None:
        """Follow a spot of a picture."""
        kind, _, what = where.partition(" ")
        if kind:
            self.open(Shown(kind, what))

    def _busy_changed(self) -> None:
        if self.place.page is self:
            self.enter(stay=True)

    # -- the page ----------------------------------------------------------------------

    def fill(self) -> None:
        """Make the list or the picture."""
        self.picture = None
        explorer = self.practice.explorer
        if self.practice.job is not None:
            heading = Heading(self.tr("Cause and effect"), "display")
            busy = ProgressPanel(self.practice.job, self.tr("Reading the family"))
            self.hold(Column(heading, busy, gap=tokens.GAP), heading)
        elif explorer is None:
            self._pick_family()
        else:
            if self._of != self.practice.explored:
                self.begin_at(self.practice.explored, Shown())
            try:
                self._show(explorer)
            except UserError as error:  # the rule files were changed, and no longer hold what was shown
                self.begin_at(self._of, Shown())
                self._lists(explorer)
                self.desk.say(self.tr("That is no longer in the rule base."), "", in_words(error))

    def _show(self, explorer: Explorer) -> None:
        if not self.at.id or (self.at.kind == COMPARE and not self.at.other):
            self._lists(explorer)
        elif self.at.kind == COMPARE:
            self._two(explorer)
        elif self.at.kind == pictures.SIGN:
            self._sign(explorer.sign(self.at.id), [named.stage for named in explorer.mistakes()])
        elif self.at.kind == pictures.FAULT:
            view = explorer.fishbone(self.at.id)
            self._picture(view.say, pictures.of_complaint(view, translate), view.text)
        else:
            self._mistake(explorer)

    def _families(self) -> WrapRow:
        row = WrapRow()
        for tile in self.desk.interview.tiles():
            button = Button("", name=self.tr("Family: {0}").format(tile.name))
            button.setText(tile.name.replace("&", "&&"))
            button.setCheckable(True)
            button.setChecked(tile.family == self.practice.family and self.practice.explorer is not None)
            button.clicked.connect(partial(self._choose_family, tile.family))
            row.wrap.addWidget(button)
        return row

    def _choose_family(self, family: str, _checked: bool = False) -> None:
        self.practice.explore(family)
        self.enter(stay=True)

    def _pick_family(self) -> None:
        heading = Heading(self.tr("Cause and effect"), "display")
        about = Text(self.tr("Choose what is made. Then pick a mistake, a sign or a complaint."))
        content = Column(heading, about, self._families(), gap=tokens.GAP)
        content.column.addStretch(1)
        self.hold(content, heading)

    # -- lists -------------------------------------------------------------------------

    def _lists(self, explorer: Explorer) -> None:
        heading = Heading(self.tr("Cause and effect"), "display")
        content = Column(heading, gap=tokens.GAP)
        if self.at.kind == COMPARE and self.at.id:
            first = explorer.mistake(self.at.id)
            heading.setText(self.tr("Compare with which?"))
            content.add(Text(first.name, "strong"))
            names = [named for named in explorer.mistakes() if named.id != self.at.id]
            near = self.tr("Easily taken for it")
            groups = [(near, first.rivals)] if first.rivals else []
            self.found = self._cards([*groups, *_by_stage(names)], self._pick_second)
        else:
            content.add(self._families(), self._kinds())
            names = list(self._names(explorer))
            self.found = self._cards(_by_stage(names), self._pick_one)
        content.add(self.found)
        content.column.addStretch(1)
        self.hold(content, self.found.finder)

    def _kinds(self) -> WrapRow:
        row = WrapRow()
        for kind, words in (
            (pictures.MISTAKE, self.tr("Mistakes")),
            (pictures.SIGN, self.tr("Signs")),
            (pictures.FAULT, self.tr("Complaints")),
            (COMPARE, self.tr("Two mistakes")),
        ):
            button = Button(words, name=self.tr("Pick from: {0}").format(words))
            button.setCheckable(True)
            button.setChecked(kind == self.at.kind)
            button.clicked.connect(partial(self._pick_from, kind))
            row.wrap.addWidget(button)
        return row

    def _pick_from(self, kind: str, _checked: bool = False) -> None:
        self.at = Shown(kind)
        self.enter(stay=True)

    def _names(self, explorer: Explorer) -> Iterable[Named]:
        if self.at.kind == pictures.SIGN:
            return explorer.signs()
        return explorer.complaints() if self.at.kind == pictures.FAULT else explorer.mistakes()

    def _cards(self, groups: Sequence[tuple[str, Sequence[Named]]], pick: Callable[..., None]) -> FoundCards:
        made = []
        for title, names in groups:
            cards = []
            for named in names:
                card = Card(named.name)
                card.clicked.connect(partial(pick, named.id))
                cards.append((card, f"{named.name} {title}"))
            made.append((title, cards))
        return FoundCards(self.tr("Search the list"), self.tr("&Look for"), self.tr("egg, oven, base …"), made)

    def _pick_one(self, what: str, _checked: bool = False) -> None:
        self.open(Shown(self.at.kind, what))

    def _pick_second(self, what: str, _checked: bool = False) -> None:
        self.open(Shown(COMPARE, self.at.id, what))

    # -- pictures ----------------------------------------------------------------------

    def _picture(self, title: str, picture: Picture, text: str, above: QWidget | None = None) -> None:
        heading = Heading(title)
        content = Column(heading, gap=tokens.GAP)
        if above is not None:
            content.add(above)
        content.add(Text(self.tr("Arrow keys go along the picture, Enter follows."), "small", "soft"))
        self.picture = picture
        picture.followed.connect(self._followed)
        content.add(picture, Section(self.tr("The same in words"), lambda: Words(text), opened=True))
        content.column.addStretch(1)
        actions = []
        if self.at.kind == pictures.MISTAKE:
            two = Button(self.tr("Co&mpare"), "main", self.tr("Compare with another mistake"))
            two.clicked.connect(lambda: self.open(Shown(COMPARE, self.at.id)))
            actions.append(two)
        lists = Button(self.tr("To the l&ists"), name=self.tr("To the lists"))
        lists.clicked.connect(lambda: self.open(Shown(self.at.kind)))
        self.hold(content, heading, [lists, *actions])

    def _followed(self, where: str) -> None:
        # The picture that was pressed is put away by what follows, so it must have come to rest first.
        QTimer.singleShot(0, self, lambda: self.follow(where))

    def _mistake(self, explorer: Explorer) -> None:
        view = explorer.mistake(self.at.id)
        about = self.tr("Made at: {0}. How common: {1}.").format(view.stage, view.common)
        self._picture(view.name, pictures.of_mistake(view, translate), view.text, Text(about))

    def _two(self, explorer: Explorer) -> None:
        view = explorer.compare(self.at.id, self.at.other)
        title = self.tr("What parts the two")
        above = None if view.parts else Text(self.tr("Nothing that can be asked parts them."))
        self._picture(title, pictures.of_two(view, translate), view.text, above)

    def _sign(self, view: SignView, stages: Sequence[str]) -> None:
        able = [answer for answer in view.answers if answer.causes]
        chosen = next((answer for answer in able if answer.answer == self.at.other), None)
        if chosen is None:
            chosen = next((a for a in able if not a.normal), able[0] if able else view.answers[0])
        grid = CardGrid(tokens.CARD_WIDTH, 4)
        for answer in view.answers:
            note = self.tr("as it should be") if answer.normal else ""
            card = Card(answer.say, note)
            card.setCheckable(True)
            card.setChecked(answer is chosen)
            card.clicked.connect(partial(self._choose_answer, answer.answer))
            grid.add(card)
        above = Column(Text(view.look), grid, gap=tokens.GRID)
        if not chosen.causes:
            above.add(Text(self.tr("No mistake here makes it so.")))
        picture = pictures.of_answer(view.ask, chosen, stages, view.text, translate)
        self._picture(view.ask, picture, view.text, above)

    def _choose_answer(self, answer: str, _checked: bool = False) -> None:
        self.at = Shown(pictures.SIGN, self.at.id, answer)
        self.enter(stay=True)


def _by_stage(names: Iterable[Named]) -> list[tuple[str, list[Named]]]:
    groups: dict[str, list[Named]] = {}
    for named in names:
        groups.setdefault(named.stage, []).append(named)
    return list(groups.items())
