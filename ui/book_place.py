"""The place of the case book: the cases, what keeps coming back, and whether the verdicts were right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import cast

from PySide6.QtWidgets import QFileDialog, QWidget

from troubleshoot.casebook import demo, demobook
from troubleshoot.casebook.errors import BookError
from troubleshoot.casebook.figures import CauseRow
from troubleshoot.casebook.record import Record
from troubleshoot.casebook.shown import CaseView
from ui import book_read
from ui.book_case import CasePanel, Change
from ui.book_filters import Chosen, Filters, in_words
from ui.book_lists import CaseList, Causes, Habits, Rightness, Weeks
from ui.book_read import Added, Listed, Taught
from ui.desk import Desk
from ui.pages.base import Page
from ui.practice.job import Job, ProgressPanel
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.layouts import Column, TwoColumns, WrapRow
from ui.widgets.strips import Section


@dataclass(frozen=True, slots=True)
class At:
    """What the place shows: a view over many cases, or the case ``id``."""

    view: str = "cases"
    id: str = ""
    offset: int = 0
    measure: str = "pieces"


class BookPlace(Page):
    """Shows what was read last, and reads again when something else is asked for or the book has changed."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.at = At()
        self.chosen = Chosen()
        self.job: Job | None = None
        self._before: list[At] = []
        self._filters_open = False
        self.told = ""
        self._brought: object = None
        self._asked = 0
        self._stay = False
        self._learns = desk.settings.learn
        desk.restyled.connect(lambda: self.enter(stay=True))
        desk.book.changed.connect(self.read)
        desk.changed.connect(self._follow)
        self.read()

    # -- going about -------------------------------------------------------------------

    def open(self, case_id: str) -> None:
        """Open a case of the kitchen's own book."""
        if self.desk.book.demo:
            self.desk.book.demo = False
        self._go(At("case", case_id))

    def show_case(self, case_id: str) -> None:
        """Open a case of the book on show."""
        self._go(At("case", case_id))

    def go_back(self) -> None:
        """Go back to what was shown before."""
        if self._before:
            self.at = self._before.pop()
            self._stay = False
            self.read()

    def _go(self, at: At) -> None:
        if at != self.at:
            self._before.append(self.at)
        self.at, self._stay = at, False
        self.read()

    def _view(self, view: str) -> None:
        self._before.clear()
        self.at, self._stay = At(view, measure=self.at.measure), True
        self.read()

    def choose(self, chosen: Chosen) -> None:
        """Show other cases."""
        self.chosen, self._stay = chosen, True
        self.at = replace(self.at, offset=0)
        self.read()

    # -- reading -----------------------------------------------------------------------

    def read(self) -> None:
        """Read what is to be shown; what was shown before stays until it is there."""
        session = self.desk.session
        if session is None:
            return
        book, shelf, wanted = self.desk.book, session.shelf, self.chosen.filter()
        self._asked += 1
        jobs: dict[str, Callable[[], object]] = {
            "cases": partial(book_read.listed, book, shelf, wanted, self.at.offset),
            "habits": partial(book_read.taught, book, shelf, self.desk.settings.kitchen or None),
            "case": partial(book_read.opened, book, shelf, self.desk.settings.wording(), self.at.id),
        }
        book.do(jobs.get(self.at.view, partial(book_read.added, book, shelf, wanted)), partial(self._show, self._asked))

    def _follow(self) -> None:
        """Read as soon as the rule base is there; show what was switched in the settings."""
        if not self._asked:
            self.read()
        elif self._learns != self.desk.settings.learn:
            self._learns = self.desk.settings.learn
            self.enter(stay=True)

    def _show(self, asked: int, brought: object) -> None:
        if asked != self._asked:
            return  # something else was asked for meanwhile
        if isinstance(brought, Exception) and not isinstance(brought, BookError):
            raise brought
        self._brought = brought
        self.enter(stay=self._stay or not self.isVisible())
        self._stay = True

    # -- what is on show ---------------------------------------------------------------

    def fill(self) -> None:
        """Make what was read last, or say what stands in its place."""
        brought = self._brought
        if self.job is not None:
            self._fill_inventing(self.job)
        elif isinstance(brought, BookError):
            self._fill_trouble(brought)
        elif isinstance(brought, CaseView):
            self._fill_case(brought)
        elif isinstance(brought, Listed | Added | Taught):
            if brought.held:
                self._fill_view(brought)
            else:
                self._fill_empty()
        else:
            heading = Heading(self.tr("Case book"), "display")
            unread = self.tr("The rule files cannot be used; the case book needs them for the names of things.")
            told = self.tr("Reading the case book …") if self.desk.session is not None else unread
            self._hold(Column(heading, Text(told, "lead"), gap=tokens.GAP), heading)

    def _hold(
        self, content: Column, first: QWidget, actions: list[QWidget] | None = None, columns: TwoColumns | None = None
    ) -> None:
        content.column.addStretch(1)
        self.hold(content, first, actions or [], columns, back=bool(self._before))

    def _fill_trouble(self, error: BookError) -> None:
        heading = Heading(self.tr("The case book cannot be read"), "display")
        panel = Panel("caution")
        panel.add(
            Text(str(error), "strong"),
            Text(self.tr("The interview works without it. Finished cases wait and go in when it can be opened again.")),
        )
        again = Button(self.tr("&Try again"), "main", self.tr("Try again"))
        again.clicked.connect(self.read)
        self._hold(Column(heading, panel, gap=tokens.GAP), heading, [again, *self._leave_demo()])

    def _fill_empty(self) -> None:
        heading = Heading(self.tr("The case book is empty"), "display")
        content = Column(heading, gap=tokens.GAP)
        content.add(
            Text(
                self.tr(
                    "Every case that comes to its verdict goes in when you begin a new one, or when you press "
                    "“Put in the book” beside the verdict. Say here afterwards whether the verdict was right: then "
                    "the book shows what keeps coming back, and the ranking learns what is common in this kitchen."
                ),
                "lead",
            ),
            Text(self.tr("To see what it looks like when it is full, have a season of invented cases made.")),
        )
        invent = Button(self.tr("Show me a &demo book"), "main", self.tr("Show me a demo book"))
        invent.clicked.connect(self.show_demo)
        self._hold(content, heading, [invent, *self._leave_demo()])

    def _fill_inventing(self, job: Job) -> None:
        heading = Heading(self.tr("Case book"), "display")
        self._hold(
            Column(heading, ProgressPanel(job, self.tr("A season of cases is being invented")), gap=tokens.GAP), heading
        )

    def _fill_case(self, view: CaseView) -> None:
        panel = CasePanel(view, self.change, self._refuse)
        self._hold(panel, panel.heading, columns=panel.columns)

    def _fill_view(self, brought: Listed | Added | Taught) -> None:
        heading = Heading(self.tr("Demo book") if self.desk.book.demo else self.tr("Case book"), "display")
        content = Column(heading, gap=tokens.GAP)
        self._notice(content, brought)
        if self.told:
            content.add(Text(self.told, "strong"))
            self.told = ""
        views = WrapRow()
        for view, words in (
            ("cases", self.tr("Cases")),
            ("causes", self.tr("What comes back")),
            ("weeks", self.tr("Week by week")),
            ("right", self.tr("How often right")),
            ("habits", self.tr("What was learnt")),
        ):
            button = Button(words, name=words)
            button.setCheckable(True)
            button.setChecked(view == self.at.view)
            button.clicked.connect(lambda _=False, view=view: self._view(view))
            views.wrap.addWidget(button)
        content.add(views)
        if not isinstance(brought, Taught):
            content.add(self._filters())
        content.add(self._body(brought))
        export = Button(self.tr("E&xport"), name=self.tr("Export"))
        export.clicked.connect(self.export)
        self._hold(content, heading, [export, *self._leave_demo()])

    def _body(self, brought: Listed | Added | Taught) -> QWidget:
        book = self.desk.book
        if isinstance(brought, Listed):
            return CaseList(brought, self.show_case, lambda offset: self._turn(offset))
        if isinstance(brought, Taught):
            return Habits(brought, dict(self._families()), self.desk.settings.learn, self.switch_learning)
        if not brought.figures.cost.cases:
            return Text(self.tr("No case fits. Choose less narrowly above."), "lead")
        if self.at.view == "weeks":
            return Weeks(book, brought)
        if self.at.view == "right":
            return Rightness(book, brought)
        return Causes(book, brought, self.at.measure, self._measure, self._open_cause)

    def _notice(self, content: Column, brought: Listed | Added | Taught) -> None:
        if self.desk.book.demo:
            panel = Panel("notice")
            panel.add(
                Text(self.tr("All of these cases are invented."), "strong"),
                Text(self.tr("They lie in a book of their own, and nothing is learnt from them.")),
            )
            away = Button(self.tr("Throw the &demo book away"), name=self.tr("Throw the demo book away"))
            away.clicked.connect(self._throw_away)
            panel.add(WrapRow(away))
            content.add(panel)
        elif brought.invented:
            content.add(Text(self.tr("{0} of these cases are invented.").format(brought.invented), "strong"))

    def _filters(self) -> QWidget:
        families = self._families()
        title = self.tr("On show: {0}").format(in_words(self.chosen, families, self.tr))
        section = Section(title, lambda: Filters(self.chosen, families, self.choose), self._filters_open)
        section.head.toggled.connect(lambda on: setattr(self, "_filters_open", on))
        return section

    def _families(self) -> list[tuple[str, str]]:
        return [(tile.family, tile.name) for tile in self.desk.interview.tiles()]

    def _turn(self, offset: int) -> None:
        self._stay = False
        self.at = replace(self.at, offset=offset)
        self.read()

    def _measure(self, measure: str) -> None:
        self.at = replace(self.at, measure=measure)
        self.enter(stay=True)

    def _open_cause(self, row: CauseRow, name: str) -> None:
        self.chosen = replace(self.chosen, family=row.family, cause=(row.cause, name) if row.cause else None)
        self._go(At("cases"))

    # -- changing ----------------------------------------------------------------------

    def change(self, change: Change) -> None:
        """Change the case on show, in the book."""
        session = self.desk.interview
        self.desk.mended.emit("action")
        job = partial(
            book_read.changed, self.desk.book, session.shelf, self.desk.settings.wording(), self.at.id, change
        )
        self._asked += 1
        self.desk.book.do(job, partial(self._changed, self._asked))

    def _changed(self, asked: int, brought: object) -> None:
        if isinstance(brought, BookError):
            self.desk.say(self.tr("That could not be noted."), self.tr("The case is as it was."), str(brought))
            self.read()
            return
        self._show(asked, brought)
        if not self.desk.book.demo:
            self.desk.book.learn(self.desk.interview, self.desk.settings)

    def _refuse(self, text: str) -> None:
        self.desk.say(
            self.tr("“{0}” is no number of pieces or minutes.").format(text),
            self.tr("What stood there before is kept."),
            self.tr("Type digits alone, or leave the field empty."),
        )

    def switch_learning(self, learns: bool) -> None:
        """Let the ranking heed this kitchen, or the rules alone."""
        self.desk.set_settings(replace(self.desk.settings, learn=learns))

    # -- taking away -------------------------------------------------------------------

    def export(self) -> None:
        """Ask where to, and write the cases that fit."""
        chosen, _ = QFileDialog.getSaveFileName(
            self,
            self.tr("Export"),
            "cases.jsonl",
            self.tr("Cases (*.jsonl);;Table (*.csv)"),
            options=QFileDialog.Option.DontConfirmOverwrite,
        )
        if chosen:
            self.export_to(Path(chosen))

    def export_to(self, path: Path) -> None:
        """Write the cases that fit, as a table where the name ends in .csv; what goes wrong is said."""
        job = partial(book_read.exported, self.desk.book, self.chosen.filter(), path)
        self.desk.book.do(job, partial(self._exported, path))

    def _exported(self, path: Path, brought: object) -> None:
        kept = self.tr("The book is as it was.")
        if isinstance(brought, FileExistsError):
            self.desk.say(self.tr("There is a file {0} already.").format(path), kept, self.tr("Choose another name."))
        elif isinstance(brought, OSError | BookError):
            reason = getattr(brought, "strerror", None) or brought
            self.desk.say(
                self.tr("The cases could not be exported ({0}).").format(reason),
                kept,
                self.tr("Choose a folder you may write in."),
            )
        elif isinstance(brought, Exception):
            raise brought
        else:
            written, pictures = cast("tuple[int, int]", brought)
            self.told = self.tr("Cases written: {0}. They are in {1}.").format(written, path)
            if pictures:
                self.told += " " + self.tr("Pictures are named in it, not held.")
            self.enter(stay=True)

    # -- the demo book -----------------------------------------------------------------

    def show_demo(self) -> None:
        """Show the demo book, made first when there is none."""
        if demo.place().exists():
            self._to_demo(None)
            return
        shelf = self.desk.interview.shelf
        self.job = Job(lambda: (record for _, record in demo.season(shelf)), demo.how_many())
        self.job.done.connect(self._invented)
        self.job.failed.connect(self._not_invented)
        self.job.stopped.connect(self._not_invented)
        self.job.begin()
        self.enter(stay=False)

    def _invented(self, records: list[Record]) -> None:
        self.job = None
        self.desk.book.do(partial(demobook.make, records), self._to_demo)

    def _not_invented(self, error: object = None) -> None:
        self.job = None
        if error is not None:
            happened = self.tr("The demo book could not be made, or not thrown away.")
            self.desk.say(happened, self.tr("Your own book is as it was."), str(error))
        self.enter(stay=False)

    def _to_demo(self, brought: object) -> None:
        if isinstance(brought, Exception):
            self._not_invented(brought)
            return
        self._switch(demo=True)

    def _switch(self, demo: bool) -> None:
        self.desk.book.demo = demo
        self._before.clear()
        self.at, self.chosen, self._stay = At("causes" if demo else "cases"), Chosen(), False
        self.read()

    def _leave_demo(self) -> list[QWidget]:
        if not self.desk.book.demo:
            return []
        own = Button(self.tr("&Your own book"), "main", self.tr("Your own book"))
        own.clicked.connect(lambda: self._switch(demo=False))
        return [own]

    def _throw_away(self) -> None:
        self.desk.book.do(demobook.throw_away, self._thrown_away)

    def _thrown_away(self, brought: object) -> None:
        if isinstance(brought, Exception):
            self._not_invented(brought)
        self._switch(demo=False)
