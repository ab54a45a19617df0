"""A set of batches for all: made by the trainer, given out by code or on paper, worked through by a learner."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QLineEdit, QWidget

from troubleshoot.practice.cases import LEVELS, MOST_NUMBER, CaseKey, PracticeCase, draw_case, key_of
from ui import printing
from ui.practice.base import PracticePage
from ui.practice.job import Job
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import Button, FieldLabel, NumberEdit, Panel, Text
from ui.widgets.layouts import Column, Labelled, WrapRow

#: A set has at most this many batches.
MOST_BATCHES = 30


class CodesField(Column):
    """Where a learner types or pastes the codes of a set that was given out."""

    def __init__(self, page: PracticePage) -> None:
        super().__init__(gap=tokens.GRID)
        self.page = page
        self.field = QLineEdit()
        self.field.setFont(look().font("lead"))
        self.field.setMinimumWidth(look().px(tokens.SIDE_WIDTH))
        self.field.setPlaceholderText(self.tr("choux-2-117 choux-2-9 …"))
        self.field.setAccessibleName(self.tr("Codes of the batches you were given"))
        self.field.returnPressed.connect(self.begin)
        begin = Button(self.tr("Be&gin these"), name=self.tr("Begin the batches you were given"))
        begin.clicked.connect(self.begin)
        label = FieldLabel(self.tr("Co&des"), self.field)
        about = Text(self.tr("Were you given a set? Type or paste its codes, with spaces between them."))
        self.add(about, WrapRow(Labelled(label, self.field)), WrapRow(begin))

    def begin(self) -> None:
        """Begin the batches typed; a code that is none is said, and nothing is begun."""
        keys: list[CaseKey] = []
        codes = [code for code in re.split(r"[\s,;]+", self.field.text()) if code]
        practice = self.page.practice
        if not codes:
            practice.desk.say(self.tr("No code is typed yet."), "", self.tr("Type one, such as choux-2-117."))
        elif practice.attempt(lambda: keys.extend(key_of(code) for code in codes)):
            practice.begin_set(keys)


class SetPanel(Column):
    """Where the trainer makes a set, and what can be done with the one made."""

    def __init__(self, page: PracticePage) -> None:
        super().__init__(gap=tokens.GAP)
        self.page, self.practice = page, page.practice
        self.add(Text(self.tr("A set for all"), "title"))
        self.add(Text(self.tr("Everybody who types the same codes gets the same batches. Or print them.")))
        self._choices()
        self.said = Text("", tone="soft")
        self.said.hide()
        if self.practice.made:
            self.add(self._made(self.practice.made))
        self.add(self.said)

    # -- making one --------------------------------------------------------------------

    def _choices(self) -> None:
        families, levels = WrapRow(), WrapRow()
        for tile in self.page.desk.interview.tiles():
            families.wrap.addWidget(self._choice(tile.name, tile.family == self._family(), "set_family", tile.family))
        for level in LEVELS:
            name = self.practice.phrases.level_name(level)
            levels.wrap.addWidget(self._choice(name, level == self.practice.set_level, "set_level", level))
        bounds = self.tr("1 to {0}").format(MOST_BATCHES)
        self.count = NumberEdit(self.tr("How many batches"), bounds)
        self.count.set_number(self.practice.set_count)
        make = Button(self.tr("&Make the set"), "main", self.tr("Make the set"))
        make.clicked.connect(self.make)
        label = FieldLabel(self.tr("How man&y"), self.count)
        self.add(families, levels, WrapRow(Labelled(label, self.count)), WrapRow(make))

    def _family(self) -> str:
        if not self.practice.set_family:
            self.practice.set_family = self.page.desk.interview.tiles()[0].family
        return self.practice.set_family

    def _choice(self, words: str, chosen: bool, what: str, value: str | int) -> Button:
        button = Button("", name=self.tr("For the set: {0}").format(words))
        button.setText(words.replace("&", "&&"))
        button.setCheckable(True)
        button.setChecked(chosen)
        button.clicked.connect(partial(self._choose, what, value))
        return button

    def _choose(self, what: str, value: str | int, _checked: bool = False) -> None:
        setattr(self.practice, what, value)
        self.page.enter(stay=True)

    def make(self) -> None:
        """Draw the batches, beside the event loop."""
        try:
            count = self.count.number()
        except ValueError:
            count = None
        if count is None or count != int(count) or not 1 <= count <= MOST_BATCHES:
            self.page.desk.say(
                self.tr("“{0}” is no number of batches.").format(self.count.text()),
                self.tr("No set was made."),
                self.tr("Type a whole number from 1 to {0}.").format(MOST_BATCHES),
            )
            return
        practice = self.practice
        practice.set_count = int(count)
        family, level = self._family(), practice.set_level
        numbers = random.sample(range(1, MOST_NUMBER + 1), practice.set_count)
        shelf = self.page.desk.interview.shelf

        def draw() -> Iterator[PracticeCase]:
            reasoner = shelf.reasoner(family)
            for number in sorted(numbers):
                yield draw_case(reasoner, CaseKey(family, level, number))

        practice.work(Job(draw, practice.set_count), practice.keep_set)

    # -- the one made ------------------------------------------------------------------

    def _made(self, cases: list[PracticeCase]) -> QWidget:
        panel = Panel("notice")
        codes = " ".join(case.key.code for case in cases)
        field = QLineEdit(codes)
        field.setReadOnly(True)
        field.setCursorPosition(0)
        field.setFont(look().font("lead"))
        field.setAccessibleName(self.tr("Codes of the set: {0}").format(codes))
        panel.add(Text(self.tr("The set: {0} batches").format(len(cases)), "heading"))
        panel.add(FieldLabel(self.tr("Its co&des, to be copied"), field), field)
        sheets: tuple[tuple[str, str, Callable[[], None]], ...] = (
            (self.tr("Work sheet as PD&F"), self.tr("Save the work sheet as PDF"), lambda: self.save(False)),
            (self.tr("A&nswer sheet as PDF"), self.tr("Save the answer sheet as PDF"), lambda: self.save(True)),
            (self.tr("Print work sheet"), self.tr("Print the work sheet"), lambda: self.print(False)),
            (self.tr("Print answer sheet"), self.tr("Print the answer sheet"), lambda: self.print(True)),
        )
        row = WrapRow()
        for words, name, do in sheets:
            button = Button(words, name=name)
            button.clicked.connect(do)
            row.wrap.addWidget(button)
        panel.add(row)
        return panel

    def save(self, answers: bool) -> None:
        """Ask where to, and save the work sheet or the answer sheet."""
        usual = "answer-sheet.pdf" if answers else "work-sheet.pdf"
        chosen, _ = QFileDialog.getSaveFileName(self, self.tr("Save as PDF"), usual, self.tr("PDF (*.pdf)"))
        if chosen:
            self.save_as(answers, Path(chosen))

    def save_as(self, answers: bool, path: Path) -> bool:
        """Save a sheet as PDF; what goes wrong is said."""
        title, blocks = self.practice.sheet(answers)
        try:
            printing.save_sheet(title, blocks, path)
        except OSError as error:
            self.page.desk.say(
                self.tr("The PDF could not be saved ({0}).").format(error.strerror or error),
                self.tr("The set is kept."),
                self.tr("Choose a folder you may write in."),
            )
            return False
        self._say(self.tr("Saved as {0}").format(path))
        return True

    def print(self, answers: bool) -> None:
        """Print the work sheet or the answer sheet."""
        if printing.print_sheet(self.practice.sheet(answers)[1], self):
            self._say(self.tr("Sent to the printer."))

    def _say(self, words: str) -> None:
        self.said.setText(words)
        self.said.show()
