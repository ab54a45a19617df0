"""Who practises: a nickname or a number, what is kept of them, and taking it along or away."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QFileDialog, QLineEdit, QWidget

from troubleshoot.casebook import shown
from troubleshoot.practice import schedule
from troubleshoot.practice.record import MOST_LETTERS, Finished
from ui.practice.base import PracticePage
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Button, FieldLabel, Heading, Panel, Text
from ui.widgets.layouts import Column, Labelled, WrapRow
from ui.widgets.measures import Bar

#: Learners offered to be pressed; more are found by typing their name.
MOST_SHOWN = 12


def due_by_family(rounds: Sequence[Finished]) -> Counter[str]:
    """Return how many pairs of each family are due now."""
    now = datetime.now(UTC)
    return Counter(pair.family for pair, card in schedule.cards(rounds).items() if card.due <= now)


def _batches(count: int) -> str:
    tr = QCoreApplication.translate
    return tr("Learner", "1 batch") if count == 1 else tr("Learner", "{0} batches").format(count)


def _pairs_due(count: int) -> str:
    tr = QCoreApplication.translate
    if count == 1:
        return tr("Learner", "1 pair is due today.")
    return tr("Learner", "{0} pairs are due today.").format(count)


class LearnerPanel(Panel):
    """Says who practises, or asks for a name; without one nothing is kept."""

    def __init__(self, page: PracticePage) -> None:
        super().__init__("card")
        self.page = page
        self.practice = page.practice
        if self.practice.learner:
            self._known()
        else:
            self._unknown()

    def _known(self) -> None:
        rounds = self.practice.rounds()
        self.add(Text(self.tr("Practising: {0}").format(self.practice.learner), "heading"))
        if self.practice.notice:
            self.add(Text(self.practice.notice, "strong"))
        if rounds:
            passed, due = sum(one.passed for one in rounds), sum(due_by_family(rounds).values())
            said = self.tr("{0}, {1} passed. {2}").format(_batches(len(rounds)), passed, _pairs_due(due))
            self.add(Text(said))
        else:
            self.add(Text(self.tr("No batch is finished yet. Choose what is made below, and begin.")))
        record = Button(self.tr("&Your record"), name=self.tr("Your record"))
        record.clicked.connect(lambda: self.page.place.go("record"))
        other = Button(self.tr("So&mebody else"), name=self.tr("Somebody else practises"))
        other.clicked.connect(self._leave)
        self.add(WrapRow(record, other))

    def _unknown(self) -> None:
        about = self.tr(
            "Without a name nothing is kept. A nickname or a number is enough, and all that is kept of you."
        )
        self.add(Text(self.tr("Who practises?"), "heading"), Text(about))
        self.field = QLineEdit()
        self.field.setFont(look().font("lead"))
        self.field.setMaxLength(MOST_LETTERS)
        self.field.setMinimumWidth(look().px(tokens.FIELD_WIDTH))
        self.field.setAccessibleName(self.tr("Nickname or number"))
        self.field.setAccessibleDescription(self.tr("You can leave this empty"))
        self.field.returnPressed.connect(lambda: self._use(self.field.text()))
        use = Button(self.tr("&Use it"), name=self.tr("Practise under this name"))
        use.clicked.connect(lambda: self._use(self.field.text()))
        beside = Column()  # the button stands by the field, not by its label
        beside.column.addStretch(1)
        beside.add(use)
        row = WrapRow(Labelled(FieldLabel(self.tr("Nickname or nu&mber"), self.field), self.field), beside)
        self.add(row)
        names = self.practice.learners()
        buttons = WrapRow()
        for name in names[:MOST_SHOWN]:
            button = Button("", name=self.tr("Practise as {0}").format(name))
            button.setText(name.replace("&", "&&"))
            button.clicked.connect(partial(self._pressed, name))
            buttons.wrap.addWidget(button)
        if names:
            self.add(Text(self.tr("Or press yours:")), buttons)
        unread = len(list(self.practice.store.folder.glob("*.jsonl"))) - len(names)
        if unread > 0:
            said = self.tr("{0} record cannot be read. It was left as it is, in {1}.")
            self.add(Text(said.format(unread, self.practice.store.folder), tone="soft"))

    def _pressed(self, name: str, _checked: bool = False) -> None:
        self._use(name)

    def _use(self, name: str) -> None:
        if self.practice.use(name):
            self.page.enter(stay=False)

    def _leave(self) -> None:
        self.practice.leave()
        self.page.enter(stay=False)


class RecordPage(PracticePage):
    """What is kept of a learner, and what can be done with it."""

    def fill(self) -> None:
        """Make a line for each family, the last batches, and the actions."""
        self._asked = False
        heading = Heading(self.tr("What is kept of {0}").format(self.practice.learner), "display")
        content = Column(heading, gap=tokens.GAP)
        rounds = self.practice.rounds()
        if not rounds:
            content.add(Text(self.tr("Nothing yet: no batch is finished.")))
        names = {tile.family: tile.name for tile in self.desk.interview.tiles()}
        due = due_by_family(rounds)
        for family in sorted({one.family for one in rounds}):
            content.add(self._family(names.get(family, family), [r for r in rounds if r.family == family], due[family]))
        if rounds:
            content.add(Text(self.tr("The last batches"), "title"), *(self._line(one) for one in rounds[:-6:-1]))
        self.done = Text("", tone="soft")
        self.done.hide()
        content.add(self._actions(), self.done)
        content.column.addStretch(1)
        self.hold(content, heading)

    def _family(self, name: str, rounds: Sequence[Finished], due: int) -> QWidget:
        panel, passed = Panel(), sum(one.passed for one in rounds)
        panel.add(Text(name, "heading"))
        said = self.tr("{0} of {1} passed. {2}").format(passed, _batches(len(rounds)), _pairs_due(due))
        level = self.practice.phrases.level_name(schedule.level_of(rounds, rounds[0].family))
        panel.add(Text(said), Bar(passed / len(rounds), "accent"), Text(self.tr("Level: {0}").format(level)))
        return panel

    def _line(self, one: Finished) -> QWidget:
        when = shown.day(one.at.astimezone().date(), self.tr)
        passed = self.tr("passed") if one.passed else self.tr("not passed yet")
        return Text(self.tr("{0}: {1}, {2} marks, {3}").format(when, one.code, one.total, passed))

    # -- carrying it, and forgetting ---------------------------------------------------

    def _saving(self) -> str:
        return self.tr("Save the record as a file")

    def _adding(self) -> str:
        return self.tr("Add a record that was saved as a file")

    def _actions(self) -> QWidget:
        out = Button(self.tr("Save as a f&ile"), name=self._saving())
        out.clicked.connect(self.export)
        into = Button(self.tr("&Add one from a file"), name=self._adding())
        into.clicked.connect(self.take_in)
        forget = Button(self.tr("&Forget me"), name=self.tr("Forget me: delete all that is kept"))
        forget.clicked.connect(self.forget)
        self._forget = WrapRow(out, into, forget)
        return self._forget

    def export(self) -> None:
        """Ask where to, and save the record."""
        kinds = self.tr("Records (*.json)")
        chosen, _ = QFileDialog.getSaveFileName(self, self._saving(), "practice-record.json", kinds)
        if chosen and self.practice.attempt(lambda: self.practice.store.export(self.practice.learner, Path(chosen))):
            self._say(self.tr("Saved as {0}").format(chosen))

    def take_in(self) -> None:
        """Ask which file, and take its rounds in; those that are there already are not added again."""
        chosen, _ = QFileDialog.getOpenFileName(self, self._adding(), "", self.tr("Records (*.json)"))
        found: list[tuple[str, int]] = []
        if chosen and self.practice.attempt(lambda: found.append(self.practice.store.take_in(Path(chosen)))):
            learner, new = found[0]
            self.enter(stay=True)
            self._say(self.tr("Added to the record of {1}: {0}.").format(_batches(new), learner))

    def forget(self) -> None:
        """Ask whether to delete all that is kept; once is enough."""
        if self._asked:
            return
        self._asked = True
        panel = Panel("caution")
        panel.add(
            Text(
                self.tr("Delete all that is kept of {0}? It cannot be brought back.").format(self.practice.learner),
                "strong",
            )
        )
        yes = Button(self.tr("&Delete it"), name=self.tr("Delete it all"))
        yes.clicked.connect(self._forget_all)
        no = Button(self.tr("&No, keep it"), "main", self.tr("Keep it"))
        no.clicked.connect(lambda: self.enter(stay=True))
        panel.add(WrapRow(no, yes))
        content = self._forget.parentWidget()
        assert isinstance(content, Column)
        content.column.insertWidget(content.column.indexOf(self._forget) + 1, panel)
        panel.show()  # now, not when the window next comes to it: what is not shown has no place to scroll to
        no.setFocus()
        self.sheet.show_from_top(panel)

    def _forget_all(self) -> None:
        learner = self.practice.learner
        if self.practice.attempt(lambda: self.practice.store.forget(learner)):
            self.practice.leave()
            self.place.go("start")

    def _say(self, words: str) -> None:
        self.done.setText(words)
        self.done.show()
