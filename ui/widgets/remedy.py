"""A remedy as a card of steps: what it costs and saves, cautions first, then the steps, then why."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from troubleshoot.advice import report
from troubleshoot.advice.remedies import RemedyAdvice
from troubleshoot.advice.verdict import CautionLine
from troubleshoot.interview.views import BatchField
from ui.style import tokens
from ui.style.sheet import look
from ui.widgets.basic import NumberEdit, Panel, Text
from ui.widgets.layouts import Column, Labelled, WrapRow
from ui.widgets.strips import CautionSign, CautionStrip

SetFigure = Callable[[NumberEdit, BatchField], None]


class Steps(Column):
    """Numbered steps, one action each."""

    def __init__(self, steps: tuple[str, ...], parent: QWidget | None = None) -> None:
        super().__init__(gap=tokens.GRID, parent=parent)
        for number, step in enumerate(steps, 1):
            line = QWidget()
            row = QHBoxLayout(line)
            row.setContentsMargins(0, 0, 0, 0)
            row.setSpacing(look().px(tokens.GRID))
            mark = Text(f"{number}.", "strong")
            mark.setFixedWidth(look().px(tokens.WIDE))
            row.addWidget(mark, 0, Qt.AlignmentFlag.AlignTop)
            row.addWidget(Text(step), 1)
            line.setAccessibleName(self.tr("Step {0}: {1}").format(number, step))
            self.add(line)


class RemedyCard(Panel):
    """One remedy, with fields for the weights its amounts rest on."""

    def __init__(
        self,
        advice: RemedyAdvice,
        cautions: Mapping[str, CautionLine],
        fields: Mapping[str, BatchField],
        set_figure: SetFigure,
        titled: bool = True,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__("card", parent)
        self.advice = advice
        self._set = set_figure
        self.column.setSpacing(look().px(tokens.GAP))
        if titled:
            self.add(Text(advice.name, "heading"))
        self.add(Text(report.facts_line(advice, self.tr), "strong"))
        if advice.in_time is False:
            late = WrapRow(CautionSign(), Text(self.tr("Too late for service."), "strong", "caution"))
            self.add(late)
        known = [cautions[caution] for caution in advice.cautions if caution in cautions]
        if known:
            self.add(CautionStrip(known))
        self._figures(fields)
        self.add(Steps(advice.steps))
        self.add(Column(Text(self.tr("Why it works"), "strong"), Text(advice.because), gap=tokens.HALF))
        if advice.not_this:
            wrong = Column(Text(self.tr("Do not try"), "strong"), gap=tokens.HALF)
            wrong.add(*(Text(f"✗  {text}") for text in advice.not_this))
            self.add(wrong)
        self.setAccessibleName(advice.name)

    def _figures(self, fields: Mapping[str, BatchField]) -> None:
        wanted = [fields[figure] for figure in self.advice.figures if figure in fields]
        if not wanted:
            return
        box = Column(gap=tokens.GRID)
        missing = ", ".join(fields[m].ask.lower() for m in self.advice.missing if m in fields)
        if missing:
            box.add(Text(self.tr("Type in what is missing for the amounts: {0}.").format(missing), "strong"))
        elif self.advice.assumed:
            usual = ", ".join(self.advice.assumed)
            box.add(Text(self.tr("Amounts are for a usual batch: {0}. Type your own weights.").format(usual)))
        else:
            box.add(Text(self.tr("Amounts are for your weights.")))
        for note in self.advice.notes:
            box.add(Text(note, "strong"))
        row = WrapRow(gap=tokens.GAP)
        for field in wanted:
            row.wrap.addWidget(self._field(field))
        box.add(row)
        self.add(box)

    def _field(self, field: BatchField) -> QWidget:
        name = self.tr("{0}, {1}, for: {2}").format(field.ask, field.unit, self.advice.name)
        bounds = self.tr("{0} to {1} {2}").format(f"{field.low:g}", f"{field.high:g}", field.unit)
        edit = NumberEdit(name, bounds)
        edit.set_number(field.value)
        assumed = self.advice.figures[field.quantity]
        if assumed is not None:
            edit.setPlaceholderText(f"{assumed:g}")
        edit.entered.connect(lambda _: self._set(edit, field))
        return Labelled(Text(f"{field.ask} ({field.unit})"), edit)
