"""What somebody does at the Case book place, and small cases of choux to do it with."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from PySide6.QtWidgets import QLineEdit

from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected
from troubleshoot.casebook.store import Book, Filter
from ui.widgets.basic import Option
from ui.widgets.cards import Card, Fold

MONDAY = datetime(2025, 6, 2, 9, tzinfo=UTC)


def case(number: int, cause="egg_overdose", outcome=Outcome.NOT_KNOWN, true=None, lost=4, **more) -> Record:
    """A choux case, one a day."""
    at = MONDAY + timedelta(days=number)
    return Record(
        f"case{number:03}", "choux", at, at, "paste_runny", "panade", (GivenAnswer("paste_hang", "runs_off", None, at),),
        (Suspected(cause, 0.9), Suspected("egg_size_counted", 0.05)), True, "r1", outcome=outcome, true_cause=true,
        pieces=20, pieces_saved=20 - lost, pieces_lost=lost, minutes=15.0, **more,
    )  # fmt: skip


def write(*records: Record) -> None:
    """Put cases into the kitchen's book."""
    with Book.open() as book:
        book.add_all(records)


def held(wanted: Filter | None = None) -> tuple[Record, ...]:
    """The cases of the kitchen's book, newest first."""
    with Book.open() as book:
        return book.records(wanted or Filter())


def ready(person) -> None:
    """Wait until what was asked of the book is there."""
    person.wait(lambda: not person.desk.book.busy)


def press(person, what) -> None:
    """Press something, and wait for the book."""
    person.click(what)
    ready(person)


def field(person, name: str) -> QLineEdit:
    """The field of that name which is on show."""
    return next(f for f in person.window.findChildren(QLineEdit) if f.accessibleName() == name and f.isVisible())


def place(person):
    """The place on show."""
    return person.window.stack.currentWidget()


def to_verdict(person) -> None:
    """Go to the verdict on a runny paste."""
    person.to_question("paste_runny")
    person.desk.act(lambda: person.interview.volunteer("paste_hang", "runs_off"))
    person.desk.act(person.interview.to_verdict)
    person.settle()


def shown_cases(person) -> list[Card]:
    """The cards of the cases on show."""
    return [card for card in place(person).findChildren(Card) if "Choux" in card.note and card.isVisible()]


def fold(person, title: str) -> Fold:
    """The head of a part that opens, by the beginning of its title."""
    return next(f for f in person.window.findChildren(Fold) if f.title.startswith(title) and f.isVisible())


def option(person, name: str) -> Option:
    """The choice of that name which is on show."""
    return next(o for o in person.window.findChildren(Option) if o.accessibleName() == name and o.isVisible())
