"""One question a page; beside it what is suspected, how settled it is, and what has been answered."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from troubleshoot.advice.wording import percent
from troubleshoot.interview.state import QUESTION
from troubleshoot.interview.views import NumberField, QuestionView
from ui.pages.base import Page
from ui.style import tokens
from ui.widgets.basic import Button, FieldLabel, Heading, NumberEdit, Panel, Text
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, TwoColumns, WrapRow
from ui.widgets.measures import SettledGauge, SuspectBars

CANT_TELL = "cant-tell"


class QuestionPage(Page):
    """The page of questions.

    A press on a card answers and goes on.  A digit picks; the same digit again, or
    Enter, goes on.
    """

    step = QUESTION

    def fill(self) -> None:
        """Make the question, its answers and the column beside it."""
        view = self.desk.interview.question()
        self.view = view
        self.picked: str | None = (
            CANT_TELL if view.cant_tell else next((a.answer for a in view.answers if a.chosen), None)
        )
        self.cards: dict[str, Card] = {}
        self.number: NumberEdit | None = None
        self.why: Panel | None = None
        heading = Heading(view.ask, "title")
        heading.setAccessibleDescription(view.look)
        main = Column(heading, gap=tokens.GAP)
        if view.look and not view.from_memory:
            main.add(Text(view.look))
        if view.from_memory:
            main.add(Text(self.tr("Say what you remember. If you are not sure, press Can't tell."), tone="soft"))
        if view.cost:
            main.add(Text(self.tr("{0}.").format(view.cost), "strong"))
        if view.number is not None:
            main.add(self._number(view.number))
        self._answers(main, view)
        self._why_place = Column()
        ask_why = Button(self.tr("Wh&y ask this?"), name=self.tr("Why ask this?"))
        ask_why.setAccessibleDescription(self.tr("Key ?"))
        ask_why.clicked.connect(self.toggle_why)
        main.add(WrapRow(ask_why), self._why_place)
        main.column.addStretch(1)
        columns = TwoColumns(main, self._side())
        content = Column(columns)
        self.cant = Button(self.tr("&Can't tell"), name=self.tr("Can't tell"))
        self.cant.setAccessibleDescription(self.tr("Key 0"))
        self.cant.setCheckable(True)
        self.cant.setChecked(view.cant_tell)
        self.cant.clicked.connect(lambda: self.answer(CANT_TELL))
        self.on = Button(self.tr("&Go on"), "main", self.tr("Go on"))
        self.on.clicked.connect(self.go_on)
        self._can_go_on()
        self.hold(content, heading, [self.cant, self.on], columns)

    # -- parts -------------------------------------------------------------------------

    def _answers(self, main: Column, view: QuestionView) -> None:
        digits = iter("123456789")
        exact, loose = CardGrid(most_columns=3), CardGrid(most_columns=3)
        for answer in view.answers:
            card = Card(answer.say, drawing=answer.drawing, digit=next(digits, ""), loose=answer.loose)
            card.setCheckable(True)
            card.setChecked(answer.chosen)
            card.clicked.connect(lambda _=False, answer=answer.answer: self.answer(answer))
            self.cards[answer.answer] = card
            (loose if answer.loose else exact).add(card)
        main.add(exact)
        if any(answer.loose for answer in view.answers):
            main.add(Column(Text(self.tr("Or roughly"), "strong"), loose))

    def _number(self, number: NumberField) -> QWidget:
        bounds = self.tr("{0} to {1} {2}").format(f"{number.low:g}", f"{number.high:g}", number.unit).strip()
        name = self.tr("Number, {0}").format(number.unit) if number.unit else self.tr("Number")
        self.number = NumberEdit(name, bounds)
        self.number.set_number(number.value)
        self.number.textChanged.connect(self._can_go_on)
        self.number.returnPressed.connect(self.go_on)
        label = FieldLabel(self.tr("If you have the n&umber"), self.number, "strong")
        unit = Text(number.unit, "lead")
        hint = Text(self.tr("{0}. Enter goes on.").format(bounds), tone="soft")
        return Column(label, WrapRow(self.number, unit), hint, gap=tokens.HALF)

    def _side(self) -> QWidget:
        interview = self.desk.interview
        side = Column(gap=tokens.WIDE)
        now = Panel()
        now.add(SettledGauge(interview.settledness()))
        now.add(Text(self.tr("Suspected now"), "heading"), SuspectBars(interview.suspects()))
        verdict = Button(self.tr("&Verdict as it stands"), name=self.tr("Verdict as it stands"))
        verdict.clicked.connect(lambda: self.desk.act(interview.to_verdict))
        now.add(WrapRow(verdict))
        side.add(now)
        answered = interview.answered()
        complaint = interview.complaint()
        if answered or complaint:
            panel = Panel()
            panel.add(Text(self.tr("Said so far"), "heading"))
            if complaint:
                card = Card(complaint, self.tr("The complaint"))
                card.setAccessibleName(self.tr("Change the complaint: {0}").format(complaint))
                card.clicked.connect(lambda: self.desk.act(interview.show_fault))
                panel.add(card)
            for line in answered:
                memory = self.tr(" (from memory)") if line.from_memory else ""
                card = Card(line.said, line.ask + memory, roles=("strong", "body"))
                card.setAccessibleName(self.tr("Change: {0} {1}").format(line.ask, line.said))
                if line.sign == self.view.sign:
                    card.setCheckable(True)
                    card.setChecked(True)
                card.clicked.connect(lambda _=False, sign=line.sign: self.desk.act(lambda: interview.show(sign)))
                panel.add(card)
            if interview.state.at < len(interview.state.asked) - 1:
                latest = Button(self.tr("To the &latest question"), name=self.tr("To the latest question"))
                last = interview.state.asked[-1]
                latest.clicked.connect(lambda: self.desk.act(lambda: interview.show(last)))
                panel.add(WrapRow(latest))
            side.add(panel)
        side.column.addStretch(1)
        return side

    # -- answering ---------------------------------------------------------------------

    def answer(self, answer: str | float) -> None:
        """Give an answer and go on."""
        if not self.desk.act(lambda: self.desk.interview.answer(answer)) and not self.desk.problems:
            self._show_picked()

    def go_on(self) -> None:
        """Go on with the number typed or the answer picked."""
        if self._number_is_new():
            self._answer_number()
        elif self.picked is not None:
            self.answer(self.picked)
        elif self.number is not None and self.number.text().strip():
            self.desk.act(self.desk.interview.forward)
        else:
            self.desk.say(
                self.tr("No answer is picked yet."),
                self.tr("Everything said before is kept."),
                self.tr("Press an answer, or Can't tell when you cannot see it."),
            )

    def pick(self, answer: str) -> None:
        """Mark an answer; marked already, go on with it."""
        if self.picked == answer:
            self.answer(answer)
            return
        self.picked = answer
        if self.number is not None:
            self.number.set_number(None)
        self._show_picked()
        chosen = self.cards.get(answer, self.cant)
        chosen.setFocus(Qt.FocusReason.OtherFocusReason)
        if answer in self.cards:
            self.sheet.ensureWidgetVisible(chosen)

    def _show_picked(self) -> None:
        for key, card in self.cards.items():
            card.setChecked(key == self.picked)
        self.cant.setChecked(self.picked == CANT_TELL)
        self._can_go_on()

    def _number_is_new(self) -> bool:
        if self.number is None or self.view.number is None:
            return False
        value = self.view.number.value
        return self.number.text().strip() not in ("", "" if value is None else f"{value:g}")

    def _answer_number(self) -> None:
        assert self.number is not None
        try:
            value = self.number.number()
        except ValueError:
            self.desk.say(
                self.tr("“{0}” is no number.").format(self.number.text()),
                self.tr("Everything said before is kept."),
                self.tr("Type digits alone, such as 7 or 7.5, or press an answer."),
            )
            return
        if value is not None:
            self.answer(value)

    def _can_go_on(self) -> None:
        typed = self.number is not None and bool(self.number.text().strip())
        if hasattr(self, "on"):
            self.on.setEnabled(self.picked is not None or typed)

    # -- why ---------------------------------------------------------------------------

    def toggle_why(self) -> None:
        """Open or close the panel that says why this is asked."""
        if self.why is not None:
            self.why.hide()
            self.why.deleteLater()
            self.why = None
            return
        why = self.desk.interview.why_ask()
        self.why = Panel("card")
        self.why.setAccessibleName(self.tr("Why ask this?"))
        self.why.add(Text(why.sentence, "strong"))
        for line in why.lines:
            leaves = self.tr(", then ").join(f"{bar.name} ({bar.shown})" for bar in line.leaves)
            told = self.tr("“{0}” ({1} likely) would leave {2}.").format(line.said, percent(line.chance), leaves)
            self.why.add(Text(told))
        self._why_place.add(self.why)
        QTimer.singleShot(0, self._show_why)

    def _show_why(self) -> None:
        if self.why is not None:
            self.sheet.show_from_top(self.why)

    def key(self, event: QKeyEvent) -> bool:
        """Digits pick, 0 is can't tell, a question mark asks why."""
        if isinstance(QApplication.focusWidget(), QLineEdit):
            return super().key(event)
        text = event.text()
        if event.isAutoRepeat() and text:
            return True
        if text == "?":
            self.toggle_why()
        elif text == "0":
            self.pick(CANT_TELL)
        elif text.isdigit():
            found = next((key for key, card in self.cards.items() if card.digit == text), None)
            if found is not None:
                self.pick(found)
        elif event.key() == Qt.Key.Key_Escape and self.why is not None:
            self.toggle_why()
        else:
            return super().key(event)
        return True
