"""The pages of practice, each with a function that goes there: for the test of every page and for the pictures."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtTest import QTest

from ui.practice import pictures
from ui.practice.explore import COMPARE, Shown

#: A batch of choux with drawn signs, and a pair of its causes that are taken for one another.
FAMILY, LEVEL, NUMBER = "choux", 1, 7
CAUSE, RIVAL, SIGN, FAULT = "egg_overdose", "panade_undried", "inside", "paste_runny"


def place_of(window):
    """Return the place of practice of a window, gone to."""
    window.go("practice")
    return window.stack.currentWidget()


def wait(place) -> None:
    """Let the window go on until nothing is being made ready."""
    for _ in range(6000):
        if place.practice.job is None:
            return
        QTest.qWait(10)
    raise TimeoutError("a batch was not made ready in a minute")


def start(window) -> None:
    """Go to the first page."""
    place_of(window).go("start")


def busy(window) -> None:
    """Stand before the first page while a batch is made ready."""
    place = place_of(window)
    place.go("start")
    place.practice.begin(FAMILY, LEVEL, NUMBER)


def batch(window, looks: int = 0):
    """Get a batch in hand and look at what the program would look at, so many times."""
    place = place_of(window)
    wait(place)
    place.go("start")
    place.practice.begin(FAMILY, LEVEL, NUMBER)
    wait(place)
    for sign in place.practice.play.case.program.asked[:looks]:
        place.page.look(sign)
    return place


def remedy(window) -> None:
    """Go to the remedies."""
    batch(window).go("remedy")


def named(window) -> None:
    """Go to the causes."""
    batch(window, 1).go("name")


def reason(window):
    """Go to the chains, the right cause named."""
    place = batch(window, 3)
    place.practice.decide(place.practice.play.case.causes[0])
    place.go("reason")
    return place


def marked(window) -> None:
    """Go to the marks."""
    place = reason(window)
    place.practice.choose(1)
    place.go("marked")


def learner(window):
    """Practise as a learner who has finished a batch, and stand at the start."""
    place = place_of(window)
    wait(place)
    place.practice.use("Mo 7")
    wait(place)
    place.go("start")
    place.practice.begin(FAMILY, LEVEL, NUMBER)
    wait(place)
    play = place.practice.play
    place.practice.decide(play.case.program.suspects[1])
    place.practice.choose(1)
    place.go("start")
    return place


def record(window) -> None:
    """Stand before what is kept of a learner, asked whether to delete it."""
    place = learner(window)
    place.go("record")
    place.page.forget()


def trainer(window) -> None:
    """Go to the trainer's view, with results to see and a set made."""
    place = learner(window)
    place.go("trainer")
    place.page.choose_family(FAMILY)
    wait(place)
    place.practice.set_family, place.practice.set_count = FAMILY, 2
    place.page.enter(stay=False)
    place.page.set_panel.make()
    wait(place)
    place.practice.leave()


def trainer_without(window) -> None:
    """Go to the trainer's view before anybody has practised."""
    place = place_of(window)
    wait(place)
    place.go("start")
    place.go("trainer")


def explored(shown: Shown) -> Callable:
    """Return a function that goes to a list or a picture of cause and effect."""

    def go(window) -> None:
        place = place_of(window)
        wait(place)
        place.go("start")
        place.explore(FAMILY, shown)
        wait(place)

    return go


#: What to go to, by the name of the page.
PAGES: dict[str, Callable] = {
    "practice": start,
    "practice, busy": busy,
    "practice, a batch": batch,
    "practice, looked at": lambda window: batch(window, 3),
    "practice, remedies": remedy,
    "practice, naming the cause": named,
    "practice, the reason": reason,
    "practice, marked": marked,
    "trainer, nothing yet": trainer_without,
    "practice, a learner": learner,
    "practice, a record": record,
    "trainer": trainer,
    "explorer, lists": explored(Shown()),
    "explorer, a mistake": explored(Shown(pictures.MISTAKE, CAUSE)),
    "explorer, a sign": explored(Shown(pictures.SIGN, SIGN)),
    "explorer, a complaint": explored(Shown(pictures.FAULT, FAULT)),
    "explorer, two mistakes": explored(Shown(COMPARE, CAUSE, RIVAL)),
}
