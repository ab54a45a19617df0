"""A set of batches on paper: the work sheet with room to write, and the answer sheet beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from troubleshoot.advice.report import Block
from troubleshoot.practice.round import Round
from troubleshoot.practice.views import LookLine
from ui.practice.pictures import Translate

#: On paper as many looks that tell little stand among those that the program would make.
BESIDE = 4
#: Room to write, as a line.
RULE = "_" * 60


def work_sheet(plays: Sequence[Round], tr: Translate) -> tuple[Block, ...]:
    """Return the batches as they are handed over, with what can be seen, and room for cause, reason and rescue."""
    return tuple(_work(plays, tr))


def answer_sheet(plays: Sequence[Round], tr: Translate) -> tuple[Block, ...]:
    """Return for each batch what was at work and why, what the program looked at, and what it would have saved."""
    return tuple(_answers(plays, tr))


def _work(plays: Sequence[Round], tr: Translate) -> Iterator[Block]:
    yield Block("title", tr("Work sheet"))
    yield Block("line", tr("Name: {0}").format("_" * 30))
    yield Block("line", tr("For each batch: mark the look you would make first, name the cause, and say why."))
    for number, play in enumerate(plays, 1):
        story = play.story()
        yield Block("heading", tr("{0}.  {1}, {2}").format(number, story.family_name, story.code))
        yield Block("strong", tr("“{0}”").format(story.complaint))
        for line in story.lines:
            yield Block("line", line)
        for look in _on_paper(play):
            assert look.shown is not None
            yield Block("step", tr("☐  {0} {1} ({2})").format(look.ask, look.shown.say, look.cost))
        for words in (tr("Cause:"), tr("Why:"), tr("Rescue:")):
            yield Block("line", f"{words} {RULE}")


def _answers(plays: Sequence[Round], tr: Translate) -> Iterator[Block]:
    yield Block("title", tr("Answer sheet"))
    for number, play in enumerate(plays, 1):
        case, family, text = play.case, play.family, play.wording.text
        story = play.story()
        yield Block("heading", tr("{0}.  {1}, {2}").format(number, story.family_name, story.code))
        yield Block("line", tr("“{0}”").format(story.complaint))
        for cause in case.causes:
            yield Block("strong", text(family.causes[cause].name))
            for place, link in enumerate(family.causes[cause].why, 1):
                yield Block("step", f"{place}. {text(link)}")
        yield Block("line", tr("The program looked at:"))
        asks = {look.sign: look for look in play.looks()}
        for sign in case.program.asked:
            look = asks[sign]
            said = text(family.signs[sign].said(case.shows[sign]))
            yield Block("step", tr("{0} {1} ({2})").format(look.ask, said, look.cost))
        if case.program.remedy is None:
            yield Block("line", tr("Rescue: nothing could be saved in time."))
        else:
            name = text(family.remedies[case.program.remedy].name)
            saved = tr("Rescue: {0} (saves {1} of {2} pieces)")
            yield Block("line", saved.format(name, f"{case.program.saved:.0f}", f"{case.pieces:.0f}"))


def _on_paper(play: Round) -> list[LookLine]:
    """Return the looks that stand on paper, in the order of the making, each with what it shows.

    They are those that the program would make, and some others, spread over the making, that would tell less.
    """
    seen = Round(play.reasoner, play.case, play.wording, play.phrases.tr)
    asked = set(play.case.program.asked)
    others = [look.sign for look in seen.looks() if not look.free and look.sign not in asked]
    step = max(1, len(others) // BESIDE)
    wanted = asked | set(others[::step][:BESIDE])
    for sign in wanted:
        seen.look(sign)
    return [look for look in seen.looks() if look.sign in wanted]
