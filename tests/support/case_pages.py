"""The pages of a case in any family, each reached in a window: for the test of every page and for the album."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtWidgets import QApplication

from troubleshoot.interview import casefile
from troubleshoot.problems import Place, Problem
from ui.window import Window

FAMILIES = ("choux", "shortbread", "whipped-cream", "melted-chocolate", "candied-peel")

#: For each family a case that ships with it and comes to a clear verdict.
CASES = {
    "choux": "flat-over-egged",
    "shortbread": "spread-not-chilled",
    "whipped-cream": "beaten-past-firm",
    "melted-chocolate": "seized-by-steam",
    "candied-peel": "sticky-in-the-box",
}


def tiles(window: Window, family: str) -> None:
    """The families, with a case that was left unfinished."""
    desk = window.desk
    _to_questions(window, family)
    _first_answer(window)
    state = desk.interview.state
    desk.new_case()
    desk.store.save(desk.store.new_id(), state)
    desk.changed.emit()


def starting(window: Window, family: str) -> None:
    """The rule files are being read."""
    window.desk.new_case()
    window.desk.reading = ""
    window.desk.changed.emit()


def reading(window: Window, family: str) -> None:
    """A family is being read."""
    window.desk.new_case()
    window.desk.reading = family
    window.desk.changed.emit()


def complaints(window: Window, family: str) -> None:
    """The complaints of the family."""
    window.desk.new_case()
    window.desk.act(lambda: window.desk.interview.choose_family(family))


def searched(window: Window, family: str, typed: str = "s") -> None:
    """Some complaints are found, or none."""
    complaints(window, family)
    window.case.page.search.setText(typed)


def drawn(window: Window, family: str) -> None:
    """A question with drawn answers, in the middle of an interview."""
    _question(window, family, lambda sign: any(answer.drawing for answer in sign.answers))


def number(window: Window, family: str) -> None:
    """A question that takes a number."""
    _question(window, family, lambda sign: sign.measure is not None)


def words(window: Window, family: str) -> None:
    """A question in words alone."""
    _question(window, family, lambda sign: sign.measure is None and not any(answer.drawing for answer in sign.answers))


def why(window: Window, family: str) -> None:
    """A question that says why it is asked."""
    drawn(window, family)
    window.case.page.toggle_why()


def unanswered(window: Window, family: str) -> None:
    """Enter was pressed before an answer was picked."""
    _to_questions(window, family)
    window.case.page.go_on()


def verdict(window: Window, family: str) -> None:
    """A verdict that is sure."""
    _verdict(window, family)


def verdict_opened(window: Window, family: str) -> None:
    """The same with every part opened, and something that could not be taken."""
    _verdict(window, family)
    window.desk.say("That could not be taken.", "Everything said before is kept.", "Give 0 to 40 %.")
    for section in window.case.page.sections:
        section.head.setChecked(True)


def unsure(window: Window, family: str) -> None:
    """A verdict of somebody who could tell nothing."""
    interview = window.desk.interview
    complaints(window, family)
    window.desk.act(lambda: interview.choose_fault(None))
    for _ in range(3):
        window.desk.act(lambda: interview.answer("cant-tell"))
    window.desk.act(interview.to_verdict)


def problems(window: Window, family: str) -> None:
    """Rule files that cannot be used."""
    window.desk.new_case()
    place = Place(f"rules/{family}/signs/steam.yaml", 12, 3)
    window.desk.problems = (Problem(place, "steam", "unknown key 'aks'", "did you mean 'ask'?"),) * 3
    window.desk.changed.emit()


PAGES: dict[str, Callable[[Window, str], None]] = {
    "tiles": tiles,
    "starting": starting,
    "reading": reading,
    "complaints": complaints,
    "complaints, found": searched,
    "complaints, none found": partial(searched, typed="xyz"),
    "question, drawn": drawn,
    "question, number": number,
    "question, words": words,
    "question, why": why,
    "question, unanswered": unanswered,
    "verdict": verdict,
    "verdict, opened": verdict_opened,
    "verdict, unsure": unsure,
    "problems": problems,
}


def reach(window: Window, name: str, family: str) -> None:
    """Go to a page; what another page left behind is put away first."""
    desk = window.desk
    window.go("case")
    desk.reading, desk.problems = None, ()
    window.put_away("action")
    PAGES[name](window, family)
    for _ in range(3):
        QApplication.processEvents()


def _to_questions(window: Window, family: str) -> None:
    complaints(window, family)
    case = _case(window, family)
    window.desk.act(lambda: window.desk.interview.choose_fault(case.fault))


def _first_answer(window: Window) -> None:
    interview = window.desk.interview
    window.desk.act(lambda: interview.answer(interview.question().answers[0].answer))


def _question(window: Window, family: str, wanted: Callable) -> None:
    interview = window.desk.interview
    _to_questions(window, family)
    _first_answer(window)
    window.desk.act(lambda: interview.answer("cant-tell"))
    signs = [sign for sign in interview.family.signs.values() if sign.asked and wanted(sign)]
    most = max(signs, key=lambda sign: len(sign.answers))
    window.desk.act(lambda: interview.show(most.id))


def _verdict(window: Window, family: str) -> None:
    interview = window.desk.interview
    _to_questions(window, family)
    for sign, given in _case(window, family).answers.items():
        answer = given.value if given.value is not None else given.answer
        window.desk.act(lambda sign=sign, answer=answer: interview.volunteer(sign, answer))
    window.desk.act(lambda: interview.set_service(90))
    window.desk.act(interview.to_verdict)


def _case(window: Window, family: str):
    shelf = window.desk.interview.shelf
    path = shelf.folder / family / "cases" / f"{CASES[family]}.yaml"
    return casefile.to_case(casefile.read_document(path), shelf.rulebase(family).families[family])
