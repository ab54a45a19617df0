"""The place of amounts: the calculations behind the advice, each usable on its own."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QLineEdit, QWidget

from troubleshoot import profile, worked
from troubleshoot.errors import AmountError
from troubleshoot.kitchen.card import Card, card
from troubleshoot.kitchen.inputs import Choice, Record
from troubleshoot.kitchen.plots import PLOTS, Plot, plot_of
from troubleshoot.kitchen.tables import TABLES
from troubleshoot.plotting import write_plot
from ui.amounts_list import AmountList, table_page
from ui.desk import Desk
from ui.pages.base import Page
from ui.style import tokens
from ui.widgets.basic import Button, Heading, Panel, Text
from ui.widgets.layouts import Column, TwoColumns, WrapRow
from ui.widgets.plot import PlotView, in_words
from ui.widgets.quantity import ChoiceField, QuantityField, RecordField


class AmountsPlace(Page):
    """The list of calculations, or the one that was chosen."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.at: str | None = None
        self.searched = ""
        self.typed: dict[str, str] = {}
        self.wording = desk.settings.wording()
        self.list: AmountList | None = None
        desk.restyled.connect(self._restyle)
        desk.changed.connect(self._settings_changed)

    # -- going about -------------------------------------------------------------------

    def open(self, name: str | None) -> None:
        """Show a calculation or a table; None for the list."""
        before, self.at = self.at, name
        self.typed = {} if name is None or name in TABLES else self._usual(card(name))
        self.enter(stay=False)
        if name is None and before is not None and self.list is not None:
            again = self.list.card_of(before)
            if again is not None:
                again.setFocus()
                self.sheet.show_from_top(again)

    def go_back(self) -> None:
        """Go back to the list."""
        if self.at is not None:
            self.open(None)

    def fill(self) -> None:
        """Show the list, make a table, or make the page of one calculation.  The list is kept while it is away."""
        if self.list is not None:
            self.list.setParent(None)
        if self.at is None:
            self.list = self.list or AmountList(self.open, self.searched)
            self.hold(self.list, self.list.search, back=False)
            self.list.show()
        elif self.at in TABLES:
            table = TABLES[self.at]()
            heading = Heading(table.title, "display")
            page = table_page(table, self.wording.text)
            self.hold(Column(heading, Text(table.preface), page, gap=tokens.GAP), heading)
        else:
            self._fill_card(card(self.at))

    def _restyle(self) -> None:
        """Make everything anew in the look that was chosen."""
        if self.list is not None:
            self.searched = self.list.search.text()
            self.list.setParent(None)
            self.list.deleteLater()
            self.list = None
        self.enter(stay=True)

    # -- one calculation ---------------------------------------------------------------

    def _fill_card(self, made: Card) -> None:
        content = Column(Heading(made.title, "display"), Text(made.does), gap=tokens.GAP)
        fields: list[QWidget] = []
        row = WrapRow(gap=tokens.GAP)
        form = Column(gap=tokens.GAP)
        for given in made.inputs:
            if isinstance(given.about, Choice):
                fields.append(ChoiceField(given, given.about, self.typed[given.name], self._changed))
                form.add(fields[-1])
            elif isinstance(given.about, Record):
                fields.append(RecordField(given, given.about, self.typed[given.name], self._changed))
                form.add(fields[-1])
            else:
                text = self.typed[given.name]
                fields.append(QuantityField(given, given.about, text, self.wording, self._changed))
                row.wrap.addWidget(fields[-1])
        form.column.insertWidget(0, row)
        self.results = Panel("notice")
        self.results.setAccessibleName(self.tr("Result"))
        main = Column(form, self.results, gap=tokens.GAP)
        if any(not isinstance(given.about, Choice) for given in made.inputs):
            units = self.tr("A number may bring its own unit: 2 oz, 140 F, 4500 ft, 1 h 30 min.")
            form.add(Text(units, "small", "soft"))
        self.plot_box = Panel()
        self.plot: PlotView | None = None
        if made.name in PLOTS:
            main.add(self.plot_box)
        main.column.addStretch(1)
        columns = TwoColumns(main, self._rests_on(made))
        content.add(columns)
        content.column.addStretch(1)
        actions = []
        if made.name in PLOTS:
            save = Button(self.tr("Save the p&lot"), name=self.tr("Save the plot"))
            save.clicked.connect(self.save_plot)
            actions.append(save)
        fields = content.findChildren(QLineEdit)
        self.hold(content, fields[0] if fields else columns, actions, columns)
        self._work()

    def _rests_on(self, made: Card) -> QWidget:
        side = Panel()
        for head, text in (
            (self.tr("Formula"), made.formula),
            (self.tr("Units"), made.units),
            (self.tr("Holds for"), made.limits),
            (self.tr("Refused"), made.errors),
            (self.tr("Source"), made.source),
            (self.tr("Sources differ"), made.contested),
        ):
            if text:
                side.add(Column(Text(head, "strong"), Text(text), gap=tokens.HALF))
        side.column.addStretch(1)
        return side

    def _usual(self, made: Card) -> dict[str, str]:
        known = profile.inputs(self.desk.settings)
        return {given.name: worked.usual_text(given, self.wording, known) for given in made.inputs}

    def _changed(self, name: str, text: str) -> None:
        self.typed[name] = text
        self._work()

    def _work(self) -> None:
        """Work the sum with what stands in the fields and show the figures, or what is possible instead."""
        assert self.at is not None
        made = card(self.at)
        typed = {name: text for name, text in self.typed.items() if text.strip()}
        optional = {given.name for given in made.inputs if not given.needed}
        lines: list[QWidget] = [Text(self.tr("Result"), "strong")]
        try:
            empty = [given for given in made.inputs if given.name not in typed and given.name not in optional]
            if empty:
                names = ", ".join(worked.label(given, self.wording) for given in empty)
                raise AmountError(self.tr("Type in what is missing: {0}.").format(names))
            inputs, result = worked.work_out(made, typed, self.wording.fahrenheit)
            plot = plot_of(made.name, inputs) if made.name in PLOTS else None
        except AmountError as error:
            lines.append(Text(str(error)))
            plot = None
        else:
            lines += [Text(f"{f.words}: {f.shown}", "lead") for f in worked.figures(result, self.wording)]
        _refill(self.results, lines)
        if made.name in PLOTS:
            self._show_plot(plot)

    def _show_plot(self, plot: Plot | None) -> None:
        if plot is None:
            self.plot = None
            self.plot_box.hide()
            return
        self.plot = PlotView(plot, self.wording)
        legend = [line.words for line in plot.lines if line.dashed]
        words = [Text(plot.title, "strong"), self.plot, Text(in_words(plot, self.wording))]
        if legend:
            words.append(Text(self.tr("Dashed: {0}.").format(", ".join(legend)), "small", "soft"))
        _refill(self.plot_box, words)
        self.plot_box.show()

    def save_plot(self) -> None:
        """Ask where to, and save the plot as PNG or SVG."""
        kinds = self.tr("Pictures (*.png *.svg)")
        chosen, _ = QFileDialog.getSaveFileName(self, self.tr("Save the plot"), f"{self.at}.png", kinds)
        if chosen:
            self.save_plot_as(Path(chosen))

    def save_plot_as(self, path: Path) -> bool:
        """Save the plot; what goes wrong is said."""
        self.desk.mended.emit("action")
        if self.plot is None:
            self.desk.say(self.tr("There is no plot for these figures."), "", self.tr("Mend the figures first."))
            return False
        try:
            write_plot(self.plot.plot, path, self.wording)
        except AmountError as error:
            happened = self.tr("The plot was not saved.")
            self.desk.say(happened, self.tr("The figures are kept."), str(error).removeprefix("amounts: "))
            return False
        return True

    # -- settings ----------------------------------------------------------------------

    def _settings_changed(self) -> None:
        wording = self.desk.settings.wording()
        if wording == self.wording:
            return
        self.wording = wording
        if self.at is not None and self.at not in TABLES:
            self.typed = self._usual(card(self.at))
        self.enter(stay=True)


def _refill(panel: Panel, widgets: list[QWidget]) -> None:
    while (item := panel.column.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
    panel.add(*widgets)
