"""The trainer's view: what is known and what is confused, progress over weeks, and the results as a file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog, QWidget

from troubleshoot.casebook import shown
from troubleshoot.practice.record import Finished
from troubleshoot.practice.trainer import confusions, known_causes, weeks, write_table
from ui.practice.base import PracticePage
from ui.practice.job import ProgressPanel
from ui.practice.sets import SetPanel
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.layouts import Column, WrapRow
from ui.widgets.matrix import MatrixView
from ui.widgets.measures import Bar
from ui.widgets.words import Words

if TYPE_CHECKING:
    from ui.practice_place import PracticePlace

#: Confusions that are told in words; the matrix holds all.
MOST_CONFUSED = 5


class TrainerPage(PracticePage):
    """What the records of one learner, or of all, say of one family; below it a set for all."""

    def __init__(self, place: PracticePlace) -> None:
        super().__init__(place)
        self.learner = ""
        self.family = ""
        self.practice.busy_changed.connect(self._busy_changed)

    def _busy_changed(self) -> None:
        if self.place.page is self:
            self.enter(stay=True)

    # -- the page ----------------------------------------------------------------------

    def fill(self) -> None:
        """Make what the records say, and the set."""
        heading = Heading(self.tr("For the trainer"), "display")
        content = Column(heading, gap=tokens.GAP)
        self.done = Text("", tone="soft")
        self.done.hide()
        self.matrix: MatrixView | None = None
        if self.practice.job is not None:
            making = self.tr("Making the set") if self.practice.job.of > 1 else self.tr("Reading the family")
            content.add(ProgressPanel(self.practice.job, making))
        else:
            self.set_panel = SetPanel(self)
            content.add(*self._results(), self.done, self.set_panel)
        content.column.addStretch(1)
        self.hold(content, heading)

    def _results(self) -> list[QWidget]:
        names = self.practice.learners()
        rounds = self.practice.rounds_of(self.learner)
        if not names:
            none = self.tr("No batch has been finished under a name yet. Make a set below and give it out.")
            return [Text(none)]
        parts: list[QWidget] = [Text(self.tr("Whose batches"), "heading"), self._whose(names)]
        families = sorted({one.family for _, one in rounds})
        parts += [Text(self.tr("Of what"), "heading"), self._of_what(families)]
        if self.family not in families or self.practice.explored != self.family:
            parts.append(Text(self.tr("Choose what is made to see what is known and what is confused."), tone="soft"))
        else:
            parts += self._family([one for _, one in rounds if one.family == self.family])
        save = Button(self.tr("Sa&ve the results as CSV"), name=self.tr("Save the results as CSV"))
        save.clicked.connect(self.save_csv)
        return [*parts, WrapRow(save)]

    def _whose(self, names: Sequence[str]) -> WrapRow:
        row = WrapRow()
        for name in ("", *names):
            words = name or self.tr("All learners")
            button = Button("", name=self.tr("Batches of {0}").format(words))
            button.setText(words.replace("&", "&&"))
            button.setCheckable(True)
            button.setChecked(name == self.learner)
            button.clicked.connect(partial(self._choose_learner, name))
            row.wrap.addWidget(button)
        return row

    def _choose_learner(self, name: str, _checked: bool = False) -> None:
        self.learner = name
        self.enter(stay=True)

    def _of_what(self, families: Sequence[str]) -> WrapRow:
        row = WrapRow()
        names = {tile.family: tile.name for tile in self.desk.interview.tiles()}
        for family in families:
            words = names.get(family, family)
            button = Button("", name=self.tr("Batches of the family {0}").format(words))
            button.setText(words.replace("&", "&&"))
            button.setCheckable(True)
            button.setChecked(family == self.family)
            button.clicked.connect(partial(self.choose_family, family))
            row.wrap.addWidget(button)
        return row

    def choose_family(self, family: str, _checked: bool = False) -> None:
        """Choose the family whose batches are looked at."""
        self.family = family
        self.practice.explore(family)

    # -- what a family's batches say ---------------------------------------------------

    def _family(self, rounds: Sequence[Finished]) -> list[QWidget]:
        explorer = self.practice.explorer
        names = {named.id: named.name for named in explorer.mistakes()} if explorer is not None else {}
        taken = confusions(rounds, names)
        self.matrix = MatrixView(taken)
        about = self.tr("A row is what was at work, a column what was named. The framed cells were named rightly.")
        parts: list[QWidget] = [Text(self.tr("What was taken for what"), "title"), Text(about), self.matrix]
        words = [self.tr("“{0}” was taken for “{1}” ({2} ×)").format(*pair) for pair in taken.wrong()[:MOST_CONFUSED]]
        parts.append(Words("\n".join(words) if words else self.tr("Nothing was confused.")))
        return [*parts, *self._known(rounds, names), *self._weeks(rounds)]

    def _known(self, rounds: Sequence[Finished], names: Mapping[str, str]) -> list[QWidget]:
        parts: list[QWidget] = [Text(self.tr("Which causes are known"), "title")]
        causes = known_causes(rounds, names)
        for title, known in ((self.tr("Not yet"), False), (self.tr("Known"), True)):
            here = [one for one in causes if one.known == known]
            panel = Panel()
            panel.add(Text(title, "heading"))
            for one in here:
                panel.add(Text(self.tr("{0}: named in {1} of {2} batches").format(one.name, one.named, one.met)))
            if not here:
                panel.add(Text(self.tr("None."), tone="soft"))
            parts.append(panel)
        parts.append(Text(self.tr("Known: named rightly the last two times."), "small", "soft"))
        return parts

    def _weeks(self, rounds: Sequence[Finished]) -> list[QWidget]:
        panel = Panel()
        for week in weeks(rounds):
            when = shown.day(week.monday, self.tr)
            said = self.tr("Week of {0}: batches {1}, cause right in {2}, passed {3}, {4} minutes (the program {5})")
            figures = (week.rounds, week.right, week.passed, f"{week.minutes:.0f}", f"{week.program_minutes:.0f}")
            panel.add(Text(said.format(when, *figures)), Bar(week.right / week.rounds, "accent"))
        return [Text(self.tr("From week to week"), "title"), panel]

    # -- the results as a file ---------------------------------------------------------

    def save_csv(self) -> None:
        """Ask where to, and save the results of those chosen."""
        kinds = self.tr("CSV (*.csv)")
        chosen, _ = QFileDialog.getSaveFileName(self, self.tr("Save the results"), "practice.csv", kinds)
        if chosen:
            self.save_csv_as(Path(chosen))

    def save_csv_as(self, path: Path) -> bool:
        """Save the results; what goes wrong is said."""
        try:
            with path.open("w", encoding="utf-8", newline="") as stream:
                write_table(self.practice.rounds_of(self.learner), stream)
        except OSError as error:
            self.desk.say(
                self.tr("The results could not be saved ({0}).").format(error.strerror or error),
                self.tr("The records are as they were."),
                self.tr("Choose a folder you may write in."),
            )
            return False
        self.done.setText(self.tr("Saved as {0}").format(path))
        self.done.show()
        return True
