"""What the pages of practice work on: the learner, the batch in hand, and what is being made ready.

Pages act through it alone.  It turns errors of the user's world into something to show,
and does what takes longer than a moment beside the event loop.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from PySide6.QtCore import QCoreApplication, QObject, Signal

from troubleshoot.advice.report import Block
from troubleshoot.errors import RuleBaseError, UserError
from troubleshoot.practice import schedule, sheets
from troubleshoot.practice.cases import LEVELS, MOST_NUMBER, CaseKey, PracticeCase, draw_case, key_of
from troubleshoot.practice.explorer import Explorer
from troubleshoot.practice.finish import finished
from troubleshoot.practice.phrases import Phrases
from troubleshoot.practice.record import Finished, LearnerStore, learner_key
from troubleshoot.practice.round import MARKED, Round, RoundState
from troubleshoot.practice.schedule import Suggestion
from troubleshoot.practice.views import LookLine, Marks, TakenLine
from ui.desk import Desk, in_words
from ui.practice.job import Job

#: A set has this many batches unless another number is typed.
USUAL_BATCHES = 6

#: The level at which the schedule chooses: a pair that is due, else a new one.
DUE = 0


def translate(phrase: str) -> str:
    """Return a phrase of the core in the window's language."""
    return QCoreApplication.translate("Practice", phrase)


@dataclass(frozen=True, slots=True)
class Drawn:
    """A batch made ready, and why the schedule chose it, where it did."""

    case: PracticeCase
    suggestion: Suggestion | None = None


class PracticeDesk(QObject):
    """The state behind the pages.  ``ready`` says that the batch asked for is in hand."""

    ready = Signal()
    busy_changed = Signal()

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.store = LearnerStore()
        self.phrases = Phrases(translate)
        self.learner = ""
        self.notice = ""
        self.family = ""
        self.level = LEVELS[0]
        self.round: Round | None = None
        self.suggestion: Suggestion | None = None
        self.latest: LookLine | TakenLine | None = None
        self.queue: list[CaseKey] = []
        self.made: list[PracticeCase] = []
        self.set_family, self.set_level, self.set_count = "", LEVELS[0], USUAL_BATCHES
        self.explored = ""
        self.job: Job | None = None
        self._then: Callable[[list[object]], object] = lambda _: None

    @property
    def play(self) -> Round:
        """The batch in hand; there is one on every page that shows it."""
        if self.round is None:
            raise RuntimeError("no batch is in hand")
        return self.round

    @property
    def in_hand(self) -> bool:
        """Whether a batch is in hand that is not finished."""
        return self.round is not None and self.round.step != MARKED

    # -- the learner -------------------------------------------------------------------

    def use(self, learner: str) -> bool:
        """Practise as somebody; their unfinished batch is made ready again.  Return whether the name could be used."""
        if not self.attempt(lambda: learner_key(learner)):
            return False
        self.learner, self.round, self.notice = learner.strip(), None, ""
        self.level = DUE
        self.attempt(self._take_up)
        return True

    def leave(self) -> None:
        """Practise without a name; what was kept stays kept."""
        self.learner, self.round, self.notice = "", None, ""
        self.level = self.level or LEVELS[0]

    def rounds(self) -> tuple[Finished, ...]:
        """Return the finished rounds of the learner; none without a name, or when they cannot be read."""
        found: list[Finished] = []
        if self.learner:
            self.attempt(lambda: found.extend(self.store.rounds(self.learner)))
        return tuple(found)

    def _take_up(self) -> None:
        aside = self._set_aside()
        state = self.store.open_round(self.learner)
        unread = self.store.unread(self.learner)
        if self._set_aside() > aside:
            self.notice = self.tr("The batch you left could not be read. It was kept aside; begin another.")
        elif unread:
            said = self.tr("Lines of your record that could not be read: {0}. They stay in the file; the rest counts.")
            self.notice = said.format(unread)
        if state is not None and state.reason is None:
            self._again(state)

    def _set_aside(self) -> int:
        return len(list(self.store.folder.glob("*.unreadable*")))

    def _again(self, state: RoundState) -> None:
        key = key_of(state.code)
        shelf, wording = self.desk.interview.shelf, self.desk.settings.wording()

        def draw() -> Iterator[Round]:
            reasoner = shelf.reasoner(key.family)
            yield Round(reasoner, draw_case(reasoner, key), wording, translate, state)

        self.work(Job(draw, 1), self._taken_up)

    def _taken_up(self, made: list[object]) -> None:
        assert isinstance(made[0], Round)
        self.round, self.suggestion, self.latest = made[0], None, None
        self.family = self.round.family.id
        self.busy_changed.emit()

    # -- a batch -----------------------------------------------------------------------

    def begin(self, family: str, level: int, number: int | None = None) -> None:
        """Make a batch ready; ``ready`` follows, unless it is stopped or cannot be done."""
        self.family, self.level = family, level
        shelf, rounds = self.desk.interview.shelf, self.rounds()
        key = CaseKey(family, level or LEVELS[0], random.randint(1, MOST_NUMBER) if number is None else number)

        def draw() -> Iterator[Drawn]:
            reasoner = shelf.reasoner(family)
            if level != DUE:
                yield Drawn(draw_case(reasoner, key))
                return
            suggestion = schedule.next_up(reasoner, rounds, datetime.now(UTC), translate)
            yield Drawn(draw_case(reasoner, suggestion.key), suggestion)

        self.work(Job(draw, 1), self._got)

    def begin_set(self, keys: Sequence[CaseKey]) -> None:
        """Go through the batches of a set, the first of them now."""
        self.queue = list(keys)
        self.go_on_with_set()

    def go_on_with_set(self) -> None:
        """Make the next batch of the set ready."""
        key = self.queue.pop(0)
        self.begin(key.family, key.level, key.number)

    def _got(self, made: list[object]) -> None:
        drawn = made[0]
        assert isinstance(drawn, Drawn)
        case, suggestion = drawn.case, drawn.suggestion
        reasoner = self.desk.interview.shelf.reasoner(case.key.family)
        self.round = Round(reasoner, case, self.desk.settings.wording(), translate)
        self.suggestion, self.latest = suggestion, None
        self.ready.emit()

    def look(self, sign: str) -> bool:
        """Look at something; return whether it could be."""

        def do() -> None:
            self.latest = self.play.look(sign)

        return self._keep(do)

    def take(self, remedy: str) -> bool:
        """Take a remedy; return whether it could be."""

        def do() -> None:
            self.latest = self.play.take(remedy)

        return self._keep(do)

    def decide(self, cause: str, also: str | None = None) -> bool:
        """Name the cause, and perhaps a second one; return whether it could be."""
        return self._keep(lambda: self.play.decide(cause, also))

    def choose(self, number: int) -> bool:
        """Choose the reason, and add what came of it to the learner's record; return whether it could be chosen."""
        if not self.attempt(lambda: self.play.choose(number)):
            return False
        if self.learner:
            self.attempt(self._add)
        return True

    def _keep(self, action: Callable[[], object]) -> bool:
        """Do something to the batch, and keep it for the learner as it then stands."""
        if not self.attempt(action):
            return False
        if self.learner:
            self.attempt(lambda: self.store.keep_open(self.learner, self.play.state))
        return True

    def _add(self) -> None:
        version = self.desk.interview.shelf.rulebase(self.play.family.id).version
        rival = self.suggestion.rival if self.suggestion else None
        self.store.add(self.learner, finished(self.play, datetime.now(UTC), version, rival))
        self.store.keep_open(self.learner, None)

    @property
    def named(self) -> str:
        """The causes named, in words."""
        names = {line.cause: line.name for line in self.play.causes()}
        state = self.play.state
        return self.tr(" and ").join(names[cause] for cause in (state.cause, state.also) if cause is not None)

    @property
    def marks(self) -> Marks:
        """The marks of the batch in hand, once it is finished."""
        return self.play.marks()

    # -- for the trainer ---------------------------------------------------------------

    def learners(self) -> tuple[str, ...]:
        """Return the learners that have a record."""
        found: list[str] = []
        self.attempt(lambda: found.extend(self.store.learners()))
        return tuple(found)

    def rounds_of(self, learner: str) -> list[tuple[str, Finished]]:
        """Return the finished rounds of a learner, or of all for an empty name, each with whose it is."""
        found: list[tuple[str, Finished]] = []
        for name in (learner,) if learner else self.learners():
            self.attempt(lambda name=name: found.extend((name, one) for one in self.store.rounds(name)))
        return found

    def keep_set(self, made: list[object]) -> None:
        """Keep the set just made."""
        self.made = [case for case in made if isinstance(case, PracticeCase)]
        self.busy_changed.emit()

    def sheet(self, answers: bool) -> tuple[str, tuple[Block, ...]]:
        """Return the title and the text of the set's work sheet or answer sheet."""
        reasoner = self.desk.interview.shelf.reasoner(self.made[0].key.family)
        plays = [Round(reasoner, case, self.desk.settings.wording(), translate) for case in self.made]
        blocks = sheets.answer_sheet(plays, translate) if answers else sheets.work_sheet(plays, translate)
        return blocks[0].text, blocks

    # -- cause and effect --------------------------------------------------------------

    @property
    def explorer(self) -> Explorer | None:
        """The explorer of the family that was chosen to be explored; None before one was."""
        if not self.explored:
            return None
        reasoner = self.desk.interview.shelf.reasoner(self.explored)
        return Explorer(reasoner, self.desk.settings.wording(), translate)

    def explore(self, family: str) -> None:
        """Read a family to be explored; the explorer is there once it is no longer busy."""
        if self.job is not None:
            return
        self.family, self.explored = family, ""
        shelf = self.desk.interview.shelf

        def read() -> Iterator[str]:
            shelf.reasoner(family)
            yield family

        self.work(Job(read, 1), self._read)

    def _read(self, made: list[object]) -> None:
        self.explored = str(made[0])
        self.busy_changed.emit()

    # -- doing things ------------------------------------------------------------------

    def attempt(self, action: Callable[[], object]) -> bool:
        """Do something; what cannot be done is said, and nothing is lost."""
        self.desk.mended.emit("action")
        try:
            action()
        except UserError as error:
            self.desk.say(self.tr("That could not be done."), self.tr("Everything before is kept."), in_words(error))
            return False
        except OSError as error:
            self.desk.say(
                self.tr("The record could not be read or written ({0}).").format(error.strerror or error),
                self.tr("What is on show holds until you close the window."),
                self.tr("Free some space, or make {0} writable.").format(self.store.folder),
            )
            return False
        return True

    def work(self, job: Job, then: Callable[[list[object]], object]) -> None:
        """Do long work beside the event loop, and ``then`` go on with what it made."""
        if self.job is not None:
            return
        self.desk.mended.emit("action")
        self.job, self._then = job, then
        job.done.connect(self._made)
        job.stopped.connect(self._stopped)
        job.failed.connect(self._failed)
        job.begin()
        self.busy_changed.emit()

    def _made(self, made: list[object]) -> None:
        if self.sender() is self.job:  # one that was let go may still come to its end
            self._stopped()
            self._then(made)

    def _stopped(self) -> None:
        self.job = None
        self.busy_changed.emit()

    def _failed(self, error: Exception) -> None:
        if self.sender() is not self.job:
            return
        self._stopped()
        if not isinstance(error, UserError | OSError):
            raise error
        self.desk.say(self.tr("That could not be made ready."), self.tr("Nothing was changed."), self._said(error))

    def _said(self, error: UserError | OSError) -> str:
        if isinstance(error, RuleBaseError):  # a strip has room for one; the Rule base place shows them all
            told = self.tr("Problems in the rule files: {0}. Rule base shows them all. The first: {1}")
            return told.format(len(error.problems), error.problems[0])
        return str(error) if isinstance(error, OSError) else in_words(error)
