"""Which cases of the book are on show: what was made, when, how it came out, and of which cause."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from PySide6.QtWidgets import QButtonGroup, QWidget

from troubleshoot.casebook.filters import Filter
from troubleshoot.casebook.record import Outcome
from ui.style import tokens
from ui.widgets.basic import Button, Option, Text
from ui.widgets.layouts import Column, WrapRow

#: Spans of time that can be chosen, in weeks; None is all time.
SPANS = (None, 4, 13, 52)


@dataclass(frozen=True, slots=True)
class Chosen:
    """What was chosen.  ``cause`` comes with its family and its name; None fits all."""

    family: str | None = None
    weeks: int | None = None
    outcome: Outcome | None = None
    cause: tuple[str, str] | None = None

    def filter(self, now: datetime | None = None) -> Filter:
        """Return the filter of the book."""
        since = None if self.weeks is None else (now or datetime.now(UTC)) - timedelta(weeks=self.weeks)
        cause = None if self.cause is None else self.cause[0]
        return Filter(family=self.family, cause=cause, since=since, outcome=self.outcome)


class Filters(Column):
    """Rows of choices; ``changed`` gets what is chosen."""

    def __init__(
        self,
        chosen: Chosen,
        families: Sequence[tuple[str, str]],
        changed: Callable[[Chosen], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(gap=tokens.GAP, parent=parent)
        self.chosen, self._changed = chosen, changed
        spans = [(weeks, self.tr("Last {0} weeks").format(weeks) if weeks else self.tr("All time")) for weeks in SPANS]
        made = [(None, self.tr("Everything")), *families]
        outcomes = [
            (None, self.tr("Any")),
            (Outcome.RIGHT, self.tr("Right")),
            (Outcome.WRONG, self.tr("Wrong")),
            (Outcome.NOT_KNOWN, self.tr("Not said yet")),
        ]
        self.add(
            self._row(self.tr("What was made"), "family", made),
            self._row(self.tr("When"), "weeks", spans),
            self._row(self.tr("How the verdict came out"), "outcome", outcomes),
        )
        if chosen.cause is not None:
            every = Button(self.tr("All causes"), name=self.tr("All causes"))
            every.clicked.connect(lambda: changed(replace(chosen, cause=None)))
            self.add(
                Column(Text(self.tr("Cause: {0}").format(chosen.cause[1]), "strong"), WrapRow(every), gap=tokens.HALF)
            )

    def _row(self, title: str, name: str, choices: Sequence[tuple[object, str]]) -> QWidget:
        options = WrapRow()
        group = QButtonGroup(options)
        for value, words in choices:
            option = Option(words, f"{title}: {words}")
            option.setChecked(getattr(self.chosen, name) == value)
            option.toggled.connect(lambda on, value=value: self._choose(name, value) if on else None)
            group.addButton(option)
            options.wrap.addWidget(option)
        return Column(Text(title, "strong"), options, gap=tokens.HALF)

    def _choose(self, name: str, value: object) -> None:
        changes = {name: value}
        if name == "family":
            changes["cause"] = None
        self._changed(replace(self.chosen, **changes))


def in_words(chosen: Chosen, families: Sequence[tuple[str, str]], tr: Callable[[str], str]) -> str:
    """Return what is on show, in words."""
    parts = [dict(families).get(chosen.family or "", "") or tr("everything")]
    parts.append(tr("all time") if chosen.weeks is None else tr("last {0} weeks").format(chosen.weeks))
    if chosen.outcome is not None:
        words = {Outcome.RIGHT: tr("right"), Outcome.WRONG: tr("wrong"), Outcome.NOT_KNOWN: tr("not said yet")}
        parts.append(words[chosen.outcome])
    if chosen.cause is not None:
        parts.append(chosen.cause[1])
    return ", ".join(parts)
