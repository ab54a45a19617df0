"""One question a page; beside it what is suspected, how settled it is, and what has been answered."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from troubleshoot.advice.wording import percent
from troubleshoot.interview.state import QUESTION
from troubleshoot.interview.views import NumberField, QuestionView
from ui.desk import Desk
from ui.pages.base import Page
from ui.style import tokens
from ui.style.sheet import Look, look
from ui.widgets.basic import Button, FieldLabel, Heading, NumberEdit, Panel, Text
from ui.widgets.beside import Beside
from ui.widgets.cards import Card
from ui.widgets.layouts import CardGrid, Column, TwoColumns, WrapRow
from ui.widgets.pictures import Attaching, Pictures

CANT_TELL = "cant-tell"

#: Cards kept ready for exact answers and for rough ones; a question with more of them gets more.
MOST_EXACT, MOST_LOOSE = 8, 4


class QuestionPage(Page):
    """The page of questions.

    A press on a card answers and goes on.  A digit picks; the same digit again, or
    Enter, goes on.
    """

    step = QUESTION

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self._look: Look | None = None
        self.attaching = Attaching(desk, self)

    def fill(self) -> None:
        """Show the question as it stands; its parts are made once, and made anew only for another look."""
        self.view = view = self.desk.interview.question()
        if self._look is not look():
            self._look = look()
            self._make()
        self.picked: str | None = (
            CANT_TELL if view.cant_tell else next((a.answer for a in view.answers if a.chosen), None)
        )
        with self.sheet.at_rest():
            self._show(view)
        self._can_go_on()

    def _show(self, view: QuestionView) -> None:
        self._heading.setText(view.ask)
        self._heading.setAccessibleDescription(view.look)
        remember = self.tr("Say what you remember. If you are not sure, press Can't tell.")
        _say(self._how, remember if view.from_memory else view.look)
        _say(self._cost, self.tr("{0}.").format(view.cost) if view.cost else "")
        self._show_number(view.number)
        self._show_answers(view)
        self.cant.setChecked(view.cant_tell)
        self._show_beside()
        self.pictures.show_now()
        self._close_why()

    # -- parts -------------------------------------------------------------------------

    def _make(self) -> None:
        self._heading = Heading("", "title")
        self._how, self._cost = Text(""), Text("", "strong")
        main = Column(self._heading, self._how, self._cost, self._make_number(), gap=tokens.GAP)
        self._exact, self._loose = (CardGrid(most_columns=3, even=True) for _ in range(2))
        self._roughly = Column(Text(self.tr("Or roughly"), "strong"), self._loose)
        self._exact_cards = [self._add_card(self._exact, False) for _ in range(MOST_EXACT)]
        self._loose_cards = [self._add_card(self._loose, True) for _ in range(MOST_LOOSE)]
        main.add(self._exact, self._roughly)
        self.why: Panel | None = None
        self._why_place = Column()
        ask_why = Button(self.tr("Wh&y ask this?"), name=self.tr("Why ask this?"))
        ask_why.setAccessibleDescription(self.tr("Key ?"))
        ask_why.clicked.connect(self.toggle_why)
        self.pictures = Pictures(self.attaching)
        main.add(WrapRow(ask_why), self._why_place, self.pictures)
        main.column.addStretch(1)
        self.beside = Beside()
        self.beside.standing.wanted.connect(lambda: self.desk.act(self.desk.interview.to_verdict))
        self.beside.said.complaint_wanted.connect(lambda: self.desk.act(self.desk.interview.show_fault))
        self.beside.said.sign_wanted.connect(self._show_sign)
        self.beside.said.latest_wanted.connect(lambda: self._show_sign(self.desk.interview.state.asked[-1]))
        columns = TwoColumns(main, self.beside)
        self.cant = Button(self.tr("&Can't tell"), name=self.tr("Can't tell"))
        self.cant.setAccessibleDescription(self.tr("Key 0"))
        self.cant.setCheckable(True)
        self.cant.clicked.connect(lambda: self.answer(CANT_TELL))
        self.on = Button(self.tr("&Go on"), "main", self.tr("Go on"))
        self.on.clicked.connect(self.go_on)
        self.hold(Column(columns), self._heading, [self.cant, self.on], columns)

    def _add_card(self, grid: CardGrid, loose: bool) -> Card:
        card = Card("", loose=loose)
        card.clicked.connect(lambda: self._press(card))
        grid.add(card)
        return card

    def _make_number(self) -> QWidget:
        self._field = NumberEdit("")
        self._field.textChanged.connect(self._can_go_on)
        self._field.returnPressed.connect(self.go_on)
        label = FieldLabel(self.tr("If you have the n&umber"), self._field, "strong")
        self._unit, self._bounds = Text("", "lead"), Text("", tone="soft")
        self._numbers = Column(label, WrapRow(self._field, self._unit), self._bounds, gap=tokens.HALF)
        return self._numbers

    def _show_number(self, number: NumberField | None) -> None:
        self.number: NumberEdit | None = None if number is None else self._field
        self._numbers.setVisible(number is not None)
        if number is None:
            return
        bounds = self.tr("{0} to {1} {2}").format(f"{number.low:g}", f"{number.high:g}", number.unit).strip()
        name = self.tr("Number, {0}").format(number.unit) if number.unit else self.tr("Number")
        self._field.setAccessibleName(name)
        self._field.setAccessibleDescription(bounds)
        self._field.set_number(number.value)
        self._unit.setText(number.unit)
        self._bounds.setText(self.tr("{0}. Enter goes on.").format(bounds))

    def _show_answers(self, view: QuestionView) -> None:
        self.cards: dict[str, Card] = {}
        digits = iter("123456789")
        exact = [answer for answer in view.answers if not answer.loose]
        loose = [answer for answer in view.answers if answer.loose]
        for cards, answers, grid in (
            (self._exact_cards, exact, self._exact),
            (self._loose_cards, loose, self._loose),
        ):
            while len(cards) < len(answers):
                card = self._add_card(grid, grid is self._loose)
                QWidget.setTabOrder(cards[-1], card)
                cards.append(card)
            for card, answer in zip(cards, answers, strict=False):
                card.show_as(answer.say, "", answer.drawing, next(digits, ""), answer.chosen)
                card.setVisible(True)
                self.cards[answer.answer] = card
            for card in cards[len(answers) :]:
                card.hide()
            grid.cards.invalidate()
        self._roughly.setVisible(bool(loose))

    def _show_beside(self) -> None:
        interview = self.desk.interview
        state = interview.state
        self.beside.standing.show_as(interview.settledness(), interview.suspects())
        earlier = state.at < len(state.asked) - 1
        self.beside.said.show_as(interview.complaint(), interview.answered(), self.view.sign, earlier)

    def _show_sign(self, sign: str) -> None:
        self.desk.act(lambda: self.desk.interview.show(sign))

    def _press(self, card: Card) -> None:
        pressed = next((answer for answer, one in self.cards.items() if one is card), None)
        if pressed is not None:
            self.answer(pressed)

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
        self.on.setEnabled(self.picked is not None or typed)

    # -- why ---------------------------------------------------------------------------

    def toggle_why(self) -> None:
        """Open or close the panel that says why this is asked."""
        if self.why is not None:
            self._close_why()
            return
        why = self.desk.interview.why_ask()
        self.why = Panel("card")
        self.why.setAccessibleName(self.tr("Why ask this?"))
        self.why.add(Text(why.sentence))
        for line in why.lines:
            said = Text(self.tr("“{0}” ({1} likely)").format(line.said, percent(line.chance)), "strong")
            leaves = "; ".join(f"{bar.name} ({bar.shown})" for bar in line.leaves)
            self.why.add(Column(said, Text(self.tr("First would then be: {0}").format(leaves)), gap=tokens.HALF))
        self._why_place.add(self.why)
        QTimer.singleShot(0, self._show_why)

    def _close_why(self) -> None:
        if self.why is not None:
            self.why.hide()
            self.why.deleteLater()
            self.why = None

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


def _say(text: Text, words: str) -> None:
    """Show words, or nothing at all where there are none."""
    text.setText(words)
    text.setVisible(bool(words))
