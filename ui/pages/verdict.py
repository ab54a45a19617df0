"""The verdict: the cause and how sure, the rescue first, then next time, then why."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QFileDialog, QWidget

from troubleshoot.advice import report
from troubleshoot.advice.chain import ChainLink
from troubleshoot.advice.remedies import RemedyAdvice
from troubleshoot.advice.verdict import CautionLine, Verdict, Weighed
from troubleshoot.advice.wording import percent
from troubleshoot.interview.state import VERDICT
from troubleshoot.interview.views import BatchField, StageChoice
from ui import printing
from ui.book_seen import SeenBefore
from ui.desk import Desk
from ui.pages.base import Page
from ui.style import tokens
from ui.widgets.basic import Button, Heading, NumberEdit, Panel, Text
from ui.widgets.chain import Chain
from ui.widgets.layouts import Column, TwoColumns, WrapRow
from ui.widgets.measures import Bar, WeightLine
from ui.widgets.pictures import Attaching, Pictures, images
from ui.widgets.remedy import RemedyCard
from ui.widgets.strips import CautionStrip, Section


class VerdictPage(Page):
    """The page of the verdict."""

    step = VERDICT

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self._opened: set[str] = set()
        self._of: object = None
        self.attaching = Attaching(desk, self)

    def fill(self) -> None:
        """Make the verdict."""
        interview = self.desk.interview
        if self._of != (interview.state.answers, interview.state.fault):
            self._of = (interview.state.answers, interview.state.fault)
            self._opened.clear()
        self.verdict = verdict = interview.verdict()
        self.fields = {field.quantity: field for field in interview.batch()}
        self.cautions = {caution.caution: caution for caution in verdict.cautions}
        self.sections: list[Section] = []
        heading = Heading(report.headline(verdict, self.tr), "display")
        content = Column(heading, self._sureness(verdict), gap=tokens.GAP)
        self._unsure(content, verdict)
        main, side = Column(gap=tokens.GAP), Column(gap=tokens.GAP)
        self._rescue(main, verdict)
        self._next_time(main, verdict)
        if verdict.allergens:
            main.add(Text(report.allergens_line(verdict, self.tr), "strong"))
        self._take_away(side)
        side.add(self._section(self.tr("Seen before?"), lambda: SeenBefore(self.desk)))
        self._why(side, verdict)
        main.column.addStretch(1)
        side.column.addStretch(1)
        columns = TwoColumns(main, side)
        content.add(columns)
        new = Button(self.tr("&New case"), name=self.tr("New case"))
        new.clicked.connect(self.desk.new_case)
        self.hold(content, heading, [new] if self._more is None else [self._more, new], columns)

    # -- the cause ---------------------------------------------------------------------

    def _sureness(self, verdict: Verdict) -> QWidget:
        box = Column(Text(report.sure_line(verdict, self.tr), "lead"), gap=tokens.HALF)
        if verdict.habit is not None:
            box.add(Text(report.habit_line(verdict, self.tr)))
        if report.names_its_cause(verdict):
            bar = Bar(verdict.probability, "accent")
            bar.setMaximumWidth(bar.sizeHint().width() * 4)
            box.add(bar)
        return box

    def _unsure(self, content: Column, verdict: Verdict) -> None:
        if verdict.unlisted_advice:
            content.add(Text(verdict.unlisted_advice))
        if verdict.clash:
            panel = Panel("notice")
            panel.add(Text(self.tr("These answers do not go together. Check the first again."), "strong"))
            panel.add(*(Text(line) for line in verdict.clash))
            content.add(panel)
        for finding in verdict.findings:
            content.add(Text(finding))
        more = None
        if not verdict.settled and self.desk.interview.can_ask_more():
            kind = "main" if len(verdict.suspects) > 1 else "plain"
            more = Button(self.tr("Ask me &more"), kind, self.tr("Ask me more"))
            more.clicked.connect(lambda: self.desk.act(self.desk.interview.ask_more))
        if not verdict.settled and len(verdict.suspects) > 1:
            panel = Panel("notice")
            panel.add(Text(self.tr("Not settled. These are still possible:"), "strong"))
            for suspect in verdict.suspects:
                panel.add(Text(f"{percent(suspect.probability)}  {suspect.name}"), Bar(suspect.probability))
            if verdict.settling_test:
                panel.add(Text(self.tr("What would settle it"), "strong"), Text(verdict.settling_test))
            if more is not None:
                panel.add(WrapRow(more))
            content.add(panel)
            more = None
        self._more = more

    def _take_away(self, content: Column) -> None:
        prints = Button(self.tr("Pr&int"), name=self.tr("Print"))
        prints.clicked.connect(self.print)
        pdf = Button(self.tr("Save as P&DF"), name=self.tr("Save as PDF"))
        pdf.clicked.connect(self.save_pdf)
        copy = Button(self.tr("Copy as &text"), name=self.tr("Copy as text"))
        copy.clicked.connect(self.copy)
        book = Button(self.tr("Put in the boo&k"), name=self.tr("Put in the book"))
        book.clicked.connect(self.put_in_book)
        self.done = Text("", tone="soft")
        self.done.hide()
        content.add(WrapRow(prints, pdf, copy, book), self.done, Pictures(self.attaching))

    # -- what to do --------------------------------------------------------------------

    def _rescue(self, content: Column, verdict: Verdict) -> None:
        shown = {caution for advice in verdict.rescue for caution in advice.cautions}
        others = [caution for caution in verdict.cautions if caution.caution not in shown]
        if others:
            content.add(CautionStrip(others))
        where = self._section(self._where(), self._stages)
        if not verdict.rescue:
            content.add(where)
            return
        content.add(Text(self.tr("Rescue"), "title"))
        content.add(self._card(verdict.rescue[0], titled=True), where)
        if len(verdict.rescue) > 1:
            content.add(Text(self.tr("Or else, best first"), "heading"))
        for advice in verdict.rescue[1:]:
            content.add(self._section(self._summary(advice), partial(self._card, advice, titled=False)))

    def _where(self) -> str:
        now = next((choice.name for choice in self.desk.interview.stages() if choice.chosen), None)
        if now is None:
            return self.tr("Say how far the batch is")
        return self.tr("The batch is at: {0}").format(now)

    def _stages(self) -> QWidget:
        return WrapRow(*(self._stage(choice) for choice in self.desk.interview.stages()))

    def _stage(self, choice: StageChoice) -> Button:
        button = Button(choice.name, "main" if choice.chosen else "plain", choice.name)
        button.clicked.connect(lambda: self.desk.act(lambda: self.desk.interview.set_stage(choice.stage)))
        return button

    def _next_time(self, content: Column, verdict: Verdict) -> None:
        if not verdict.next_time:
            return
        content.add(Text(self.tr("Next time"), "title"))
        for place, advice in enumerate(verdict.next_time):
            make = partial(self._card, advice, titled=False)
            content.add(self._section(advice.name, make, opened=place == 0))

    def _summary(self, advice: RemedyAdvice) -> str:
        if advice.in_time is False:
            return self.tr("{0} ({1} min, too late for service)").format(advice.name, f"{advice.minutes:g}")
        saved = round(advice.pieces_saved)
        return self.tr("{0} ({1} min, saves about {2})").format(advice.name, f"{advice.minutes:g}", saved)

    def _card(self, advice: RemedyAdvice, titled: bool) -> RemedyCard:
        cautions: dict[str, CautionLine] = self.cautions
        return RemedyCard(advice, cautions, self.fields, self._set_figure, titled)

    def _set_figure(self, edit: NumberEdit, field: BatchField) -> None:
        try:
            value = edit.number()
        except ValueError:
            self.desk.say(
                self.tr("“{0}” is no number.").format(edit.text()),
                self.tr("The figure before is kept."),
                self.tr("Type digits alone, or leave the field empty for a usual batch."),
            )
            edit.set_number(field.value)
            return
        if not self.desk.set_batch(field.quantity, value):
            edit.set_number(field.value)

    # -- why ---------------------------------------------------------------------------

    def _why(self, content: Column, verdict: Verdict) -> None:
        if not verdict.chain or not report.puts_forward(verdict):
            return
        named = (
            self.tr("Why") if report.names_its_cause(verdict) else self.tr("If it is “{0}”").format(verdict.headline)
        )
        content.add(Text(named, "title"), self._chain(verdict.chain))
        if verdict.evidence_for:
            content.add(self._section(self.tr("What speaks for it"), lambda: _weights(verdict.evidence_for)))
        if verdict.evidence_against:
            content.add(self._section(self.tr("What speaks against it"), lambda: _weights(verdict.evidence_against)))
        if verdict.rivals:
            content.add(self._section(self.tr("Easily taken for"), lambda: _rivals(verdict)))
        if verdict.ruled_out:
            content.add(self._section(self.tr("What was ruled out"), lambda: self._ruled_out(verdict)))
        if verdict.trace:
            title = self.tr("Rules that fired ({0})").format(len(verdict.trace))
            content.add(self._section(title, lambda: self._trace(verdict)))
        if verdict.sources:
            content.add(self._section(self.tr("Sources"), lambda: _sources(verdict)))

    def _chain(self, links: Sequence[ChainLink]) -> Chain:
        """Return the chain, with what was seen of each link below it."""
        notes = [self.tr("Seen here: {0}").format(link.seen_words) if link.seen_words else "" for link in links]
        return Chain([link.text for link in links], notes)

    def _ruled_out(self, verdict: Verdict) -> QWidget:
        panel = Panel()
        for name, rule in verdict.ruled_out:
            panel.add(Text(name), Text(self.tr("by the rule {0}").format(rule), "small", "soft"))
        return panel

    def _trace(self, verdict: Verdict) -> QWidget:
        panel = Panel()
        for line in verdict.trace:
            one = Column(Text(line.because, "strong"), gap=tokens.HALF)
            one.add(
                Text(self.tr("Rule {0}: from {1}; so {2}.").format(line.rule, _list(line.facts), _list(line.concluded)))
            )
            if line.sources:
                one.add(Text(self.tr("Sources: {0}").format(_list(line.sources)), "small", "soft"))
            panel.add(one)
        return panel

    def _section(self, title: str, make: Callable[[], QWidget], opened: bool = False) -> Section:
        section = Section(title, make, opened or title in self._opened)
        section.head.toggled.connect(lambda on: self._opened.add(title) if on else self._opened.discard(title))
        self.sections.append(section)
        return section

    # -- taking it away ----------------------------------------------------------------

    def print(self) -> None:
        """Print the verdict."""
        if printing.print_verdict(self.verdict, self, self._images()):
            self._say_done(self.tr("Sent to the printer."))

    def save_pdf(self) -> None:
        """Ask where to, and save the verdict as PDF."""
        chosen, _ = QFileDialog.getSaveFileName(self, self.tr("Save as PDF"), "verdict.pdf", self.tr("PDF (*.pdf)"))
        if chosen:
            self.save_pdf_as(Path(chosen))

    def save_pdf_as(self, path: Path) -> bool:
        """Save the verdict as PDF; what goes wrong is said."""
        try:
            printing.save_pdf(self.verdict, path, self._images())
        except OSError as error:
            self.desk.say(
                self.tr("The PDF could not be saved ({0}).").format(error.strerror or error),
                self.tr("The verdict is kept."),
                self.tr("Choose a folder you may write in."),
            )
            return False
        self._say_done(self.tr("Saved as {0}").format(path))
        return True

    def copy(self) -> None:
        """Copy the verdict as text."""
        printing.copy_text(self.verdict)
        self._say_done(self.tr("Copied as text."))

    def put_in_book(self) -> None:
        """Put the case into the case book."""
        self.desk.put_in_book()
        self._say_done(self.tr("Put in the case book. When you know whether the verdict was right, say so there."))

    def _images(self) -> tuple[QImage, ...]:
        return images(self.desk, self.desk.interview.state.pictures)

    def _say_done(self, words: str) -> None:
        self.done.setText(words)
        self.done.show()


def _list(words: tuple[str, ...]) -> str:
    return ", ".join(words)


def _weights(lines: tuple[Weighed, ...]) -> QWidget:
    panel = Panel()
    panel.add(*(WeightLine(line) for line in lines))
    return panel


def _rivals(verdict: Verdict) -> QWidget:
    panel = Panel()
    for rival in verdict.rivals:
        panel.add(
            Column(Text(f"{rival.name} ({percent(rival.probability)})", "strong"), Text(rival.because), gap=tokens.HALF)
        )
    return panel


def _sources(verdict: Verdict) -> QWidget:
    panel = Panel()
    for source in verdict.sources:
        panel.add(Text(f"{source.title} ({source.standing})"))
    return panel
