"""The place of the rule base: read it, search it, follow its links, and see at once what an edit changed."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from PySide6.QtCore import QTime
from PySide6.QtWidgets import QWidget

from troubleshoot.advice.fault_card import FaultCard, fault_card
from troubleshoot.errors import RuleBaseError
from troubleshoot.interview.library import FAULT, Library, WrittenCase
from troubleshoot.interview.library_entries import entry
from troubleshoot.interview.shelf import Reading, Shelf
from troubleshoot.problems import Problem
from ui.desk import Desk
from ui.pages.base import Page
from ui.rules_shown import CARD, Shown
from ui.rules_watch import Background, Job, RulesWatch, Then
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.layouts import Column, WrapRow
from ui.widgets.rules_card import CardView
from ui.widgets.rules_entry import EntryView
from ui.widgets.rules_list import RulesList
from ui.widgets.strips import ProblemList


class RulesPlace(Page):
    """A family's entries, or one of them; above it what is wrong with the files, if anything is."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.at = Shown()
        self._before: list[Shown] = []
        self._opened: dict[str, bool] = {}
        self._libraries: dict[str, Library] = {}
        self._cards: dict[tuple[str, str], FaultCard] = {}
        self._making: set[tuple[str, str]] = set()
        #: What is wrong with the files: found when they were looked at again, and when a family was first read.
        self._found: tuple[Problem, ...] = ()
        self._unread: dict[str, tuple[Problem, ...]] = {}
        self.told = ""
        self._shelf: Shelf | None = None
        self._wording = desk.settings.wording()
        self._background = Background(self)
        self._readied = False
        self._once_more = False
        self.watch = RulesWatch(self)
        self.watch.changed.connect(self.read_again)
        self.list: RulesList | None = None
        desk.restyled.connect(lambda: self.enter(stay=True))
        desk.changed.connect(self._desk_changed)

    # -- going about -------------------------------------------------------------------

    def open(self, what: Shown) -> None:
        """Show something; Back leads to what is shown now."""
        now, what = replace(self.at, family=self.family), replace(what, family=what.family or self.family)
        if what != now:
            self._before.append(now)
            self._opened = {}
        self.at = what
        self.enter(stay=False)

    def go_back(self) -> None:
        """Show what was shown before."""
        if not self._before:
            return
        left, self.at = self.at, self._before.pop()
        self._opened = {}
        self.enter(stay=False)
        if self.list is not None and left.id:
            title = self.library.title(left.kind or "", left.id) if self.library.holds(left.kind or "", left.id) else ""
            card = next((card for card in self.list.cards if card.title == title), None)
            if card is not None:
                card.setFocus()
                self.sheet.show_from_top(card)

    @property
    def family(self) -> str:
        """The family on show."""
        session = self.desk.session
        if self.at.family or session is None:
            return self.at.family
        return session.state.family or next((header.id for header in session.shelf.headers), "")

    @property
    def library(self) -> Library:
        """The entries of the family on show, once they were read."""
        return self._libraries[self.family]

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong with the rule files, as far as they were read."""
        return tuple(dict.fromkeys((*self._found, *self._unread.get(self.family, ()))))

    @property
    def busy(self) -> bool:
        """Whether rule files are being read."""
        return self._background.busy

    # -- what is on show ---------------------------------------------------------------

    def fill(self) -> None:
        """Make the list, an entry, or what stands in their place."""
        self.list = None
        session = self.desk.session
        again = Button(self.tr("Read a&gain"), name=self.tr("Read again"))
        again.clicked.connect(self.read_again)
        if session is None:
            self._fill_unreadable(again)
            return
        if session.shelf is not self._shelf:
            self._shelf, self._found, self._unread = session.shelf, (), {}
            self._libraries.clear()
            self._cards.clear()
        self._ready()
        content = Column(gap=tokens.GAP)
        if self.family not in self._libraries:
            self._fill_waiting(content, again)
        elif self.at.kind == CARD and self.library.holds(FAULT, self.at.id):
            self._fill_card(content, again)
        elif self.at.id and self.library.holds(self.at.kind or "", self.at.id):
            self._fill_entry(content, again)
        else:
            self._fill_list(content, again)

    def _fill_unreadable(self, again: Button) -> None:
        heading = Heading(self.tr("The rule files cannot be used"), "display")
        content = Column(heading, gap=tokens.GAP)
        content.add(Text(self.tr("Nothing was changed. Mend what is listed, then read the files again.")))
        content.add(ProblemList(self.desk.problems))
        content.column.addStretch(1)
        self.hold(content, heading, [again], back=False)

    def _fill_waiting(self, content: Column, again: Button) -> None:
        heading = Heading(self.tr("Rule base"), "display")
        content.add(self._families(heading))
        self._notices(content)
        if not self.problems:
            content.add(Text(self.tr("The rules are being read …"), "lead"))
        content.column.addStretch(1)
        self.hold(content, heading, [again], back=bool(self._before))

    def _fill_list(self, content: Column, again: Button) -> None:
        content.add(self._families(Heading(self.tr("Rule base"), "display")))
        self._notices(content)
        if self.at.id:
            content.add(Text(self.tr("What was shown here is no longer in the rule base."), "strong"))
        kind = None if self.at.id else self.at.kind
        self.list = RulesList(self.library, self.at.typed, kind, self._choose, self._remember)
        content.add(self.list)
        content.column.addStretch(1)
        self.hold(content, self.list.search, [again], back=bool(self._before))

    def _fill_entry(self, content: Column, again: Button) -> None:
        self._notices(content)
        view = EntryView(entry(self.library, self.at.kind or "", self.at.id), self._choose, self.try_case, self._opened)
        content.add(view)
        if self.at.kind == FAULT:
            card = Button(self.tr("Card for the wa&ll"), "main", self.tr("Card for the wall"))
            card.clicked.connect(partial(self._choose, CARD, self.at.id))
            view.column.insertWidget(1, WrapRow(card))
        actions = [again, self._everything()]
        self.hold(content, view.heading, actions, view.columns, back=bool(self._before))

    def _fill_card(self, content: Column, again: Button) -> None:
        self._notices(content)
        made = self._cards.get((self.family, self.at.id))
        if made is None:
            heading = Heading(self.library.title(FAULT, self.at.id), "title")
            content.add(heading, Text(self.tr("The card is being made …"), "lead"))
            content.column.addStretch(1)
            self.hold(content, heading, [again, self._everything()], back=bool(self._before))
            self._make_card()
            return
        view = CardView(made, self.desk)
        content.add(view)
        content.column.addStretch(1)
        whole = Button(self.tr("A&ll about it"), name=self.tr("All about it"))
        whole.clicked.connect(partial(self._choose, FAULT, self.at.id))
        self.hold(content, view.heading, [again, self._everything(), whole], back=bool(self._before))

    def _everything(self) -> Button:
        everything = Button(self.tr("E&verything"), name=self.tr("Everything"))
        everything.clicked.connect(lambda: self.open(Shown(self.family)))
        return everything

    def _families(self, heading: Heading) -> QWidget:
        row = WrapRow()
        for tile in self.desk.interview.tiles():
            button = Button(tile.name, name=tile.name)
            button.setCheckable(True)
            button.setChecked(tile.family == self.family)
            button.clicked.connect(partial(self._choose_family, tile.family))
            row.wrap.addWidget(button)
        return WrapRow(heading, row, gap=tokens.GAP)

    def _notices(self, content: Column) -> None:
        if self.problems:
            panel = Panel("caution")
            panel.add(
                Text(self.tr("The rule files cannot be used as they stand."), "strong"),
                Text(self.tr("The rules read before stay in force. Mend what is listed; a save is noticed at once.")),
            )
            content.add(panel, ProblemList(self.problems))
        if self.told:
            content.add(Text(self.told, "strong"))
        if not self.watch.complete:
            content.add(Text(self.tr("Saves are not noticed by themselves here. Press Read again after one.")))

    def _choose(self, kind: str, entry_id: str) -> None:
        self.open(Shown(self.family, kind, entry_id))

    def _choose_family(self, family: str) -> None:
        self.open(Shown(family, None if self.at.id else self.at.kind))

    def _remember(self, typed: str, kind: str | None) -> None:
        if not self.at.id:
            self.at = Shown(self.family, kind, "", typed)

    # -- a case ------------------------------------------------------------------------

    def try_case(self, case: WrittenCase) -> None:
        """Open a case written beside a cause as an interview; the case in hand can be taken up again."""
        if self.desk.open_case(case.state):
            self.desk.going.emit("case", None)

    def _make_card(self) -> None:
        """Make the card on show off the event loop: the rules of the family may have to be compiled first."""
        family, fault, shelf, wording = self.family, self.at.id, self._shelf, self._wording
        assert shelf is not None
        if (family, fault) in self._making:
            return
        self._making.add((family, fault))

        def make() -> FaultCard:
            base = shelf.rulebase(family)
            return fault_card(shelf.reasoner(family), fault, base.cautions, base.sources, wording)

        def made(brought: object) -> None:
            self._making.discard((family, fault))
            if shelf is not self._shelf or wording != self._wording:
                return
            if isinstance(brought, Exception):
                raise brought
            assert isinstance(brought, FaultCard)
            self._cards[family, fault] = brought
            self.enter(stay=True)

        self._do(make, made)

    # -- reading -----------------------------------------------------------------------

    def _do(self, job: Job, then: Then) -> None:
        """Do a job on the thread; when all are done, look again if the files changed meanwhile."""

        def done(brought: object) -> None:
            then(brought)
            if self._once_more and not self.busy:
                self._once_more = False
                self.read_again()

        self._background.do(job, done)

    def _ready(self) -> None:
        """See to it that the family on show is read, at once when it was read before, and watch its files."""
        family, shelf = self.family, self._shelf
        assert shelf is not None
        if family in self._libraries or family in self._unread:
            return
        wording = self._wording

        def read() -> Library:
            return Library(shelf.rulebase(family), family, wording)

        if shelf.holds(family):
            self._libraries[family] = read()
            self._watch()
        elif not self.busy:
            self._do(read, partial(self._have_read, shelf, family))

    def _have_read(self, shelf: Shelf, family: str, brought: object) -> None:
        if shelf is not self._shelf:
            return
        if isinstance(brought, Library):
            self._libraries[family] = brought
        elif isinstance(brought, RuleBaseError):
            self._unread[family] = brought.problems
        elif isinstance(brought, Exception):
            raise brought
        self._watch()
        self.enter(stay=True)

    def _watch(self) -> None:
        session = self.desk.session
        if session is not None:
            held = {family for family in (self.family, session.state.family) if family is not None}
            self.watch.watch(session.shelf.folder, sorted(held))
            if not self._readied:
                self._readied = True
                self._do(session.shelf.make_ready, _nothing_more)

    def read_again(self) -> None:
        """Look at the rule files again; what changed and can be read is in force at once."""
        session = self.desk.session
        if session is None:
            self.desk.reopen()
            return
        if self.busy:
            self._once_more = True
            return
        shelf, wording = session.shelf, self._wording

        def look() -> tuple[Reading, dict[str, Library]]:
            reading = shelf.look_again()
            return reading, {f: Library(base, f, wording) for f, base in reading.bases.items() if f in self._libraries}

        self._do(look, partial(self._have_looked, shelf))

    def _have_looked(self, shelf: Shelf, brought: object) -> None:
        session = self.desk.session
        if session is None or session.shelf is not shelf:
            return
        if isinstance(brought, Exception):
            raise brought
        assert isinstance(brought, tuple)
        reading, libraries = brought
        changed = session.take_rules(reading)
        self._libraries.update(libraries)
        self._cards = {key: card for key, card in self._cards.items() if key[0] not in reading.bases}
        self._found, self._unread = reading.problems, {}
        now = QTime.currentTime().toString("HH:mm:ss")
        self.told = "" if reading.problems else self.tr("Read again at {0}.").format(now)
        self.enter(stay=True)
        if changed and session.state.family is not None:
            family = session.state.family
            self._do(lambda: shelf.reasoner(family), partial(self._go_on, shelf))
        elif reading.base is not None:
            self.desk.changed.emit()
        # What was parsed is written for the next start only now that it is shown.
        self._do(shelf.keep, _nothing_more)

    def _go_on(self, shelf: Shelf, brought: object) -> None:
        """Let the open interview go on with the new rules, if they know what was said in it."""
        session = self.desk.session
        if session is None or session.shelf is not shelf:
            return
        if isinstance(brought, Exception):
            raise brought
        if session.renew():
            self.told += " " + self.tr("The open case goes on with the new rules.")
            self.desk.changed.emit()
        else:
            self.told += " " + self.tr("The open case goes on with the rules it began with.")
        self.enter(stay=True)

    def _desk_changed(self) -> None:
        """Follow the units that were set, and a rule base that was opened anew."""
        wording, session = self.desk.settings.wording(), self.desk.session
        if wording != self._wording or session is None or session.shelf is not self._shelf:
            self._wording = wording
            self._libraries.clear()
            self._cards.clear()
            self.enter(stay=True)


def _nothing_more(brought: object) -> None:
    """Take what a job brought that brings nothing but, perhaps, its exception."""
    if isinstance(brought, Exception):
        raise brought
