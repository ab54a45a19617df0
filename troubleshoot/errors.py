"""The exception tree, split into the user's world and our own bugs.

::

    BatchmendError
    ├── UserError            something outside the program is wrong; exit 2
    │   ├── RuleBaseError    rule files cannot be read or used
    │   ├── CaseError        a case file or an answer is wrong
    │   └── AmountError      a calculation was asked for what cannot be
    └── BugError             the program contradicts itself; please report
"""

from __future__ import annotations

from collections.abc import Iterable

from troubleshoot.problems import Problem


class BatchmendError(Exception):
    """Root of everything this program raises on purpose."""


class UserError(BatchmendError):
    """Something outside the program is wrong, and the message says what to do."""


class ProblemsError(UserError):
    """One or more located problems, all reported at once."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class RuleBaseError(ProblemsError):
    """The rule base cannot be read; every problem found is listed."""


class CaseError(ProblemsError):
    """A case file or a set of answers cannot be used; every problem is listed."""


class AmountError(UserError):
    """A calculation was asked for something impossible or out of its range."""


class BugError(BatchmendError):
    """The program contradicts itself: a bug of ours, never of the user's."""
