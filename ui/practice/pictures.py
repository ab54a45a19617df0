"""The explorer's views put into pictures: what each spot says, and what following it leads to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from troubleshoot.practice.explorer import (
    AnswerView,
    CauseLink,
    CompareView,
    FishboneView,
    MistakeView,
    SignLink,
    StageSigns,
)
from troubleshoot.practice.phrases import Translate
from ui.widgets.fishbone import Fishbone
from ui.widgets.link_picture import LinkPicture
from ui.widgets.parting import LETTERS, Parting, PartingSpot
from ui.widgets.picture import Spot, SpotGroup

#: What following a spot leads to: one of these, a space, and an id.
MISTAKE, SIGN, FAULT = "mistake", "sign", "fault"


def of_mistake(view: MistakeView, tr: Translate) -> LinkPicture:
    """Return the picture of what a mistake does: its links, the signs by stage, and what people say."""
    made_by = _made_by(view)
    groups = [SpotGroup(group.stage, _signs(group, made_by, tr)) for group in view.signs]
    said = tuple(Spot(f"{FAULT} {fault}", say, often) for fault, say, often in view.complaints)
    if said:
        groups.append(SpotGroup(tr("What people say"), said))
    title = tr("What it does: {0}").format(view.name)
    links = [f"{number}. {link.text}" for number, link in enumerate(view.chain, 1)]
    seen = tr("Seen as: {0}")
    notes = [seen.format(link.shown_words) if link.shows else "" for link in view.chain]
    return LinkPicture((view.name, *links), groups, title, view.text, ("", *notes))


def of_complaint(view: FishboneView, tr: Translate) -> Fishbone:
    """Return the picture of what can cause a complaint."""
    groups = [SpotGroup(stage.stage, _causes(stage.causes, tr)) for stage in view.stages]
    return Fishbone(view.say, groups, tr("What can cause it: {0}").format(view.say), view.text)


def of_answer(ask: str, answer: AnswerView, stages: Sequence[str], text: str, tr: Translate) -> Fishbone:
    """Return the picture of what can make an answer; ``stages`` are the names of the stages in order."""
    groups = []
    for stage in dict.fromkeys(stages):
        here = [cause for cause in answer.causes if cause.stage == stage]
        if here:
            groups.append(SpotGroup(stage, _causes(here, tr)))
    head = f"{ask} {answer.say}"
    return Fishbone(head, groups, tr("What can make it: {0}").format(head), text)


def of_two(view: CompareView, tr: Translate) -> Parting:
    """Return the picture of what parts two mistakes."""
    first, second = (
        Spot(f"{MISTAKE} {named.id}", f"{letter}  {named.name}")
        for letter, named in zip(LETTERS, (view.first, view.second), strict=True)
    )
    spots = []
    for part in view.parts:
        often = tr("A {0}, B {1}").format(part.first_often, part.second_often)
        note = "\n".join(filter(None, (part.say, f"{often}.", part.because)))
        said = tr("{0} {1}: {2}. {3}").format(part.ask, part.say, often, part.because).rstrip()
        spot = Spot(f"{SIGN} {part.sign}", part.ask, note, said=said)
        spots.append(PartingSpot(spot, (part.first_share, part.second_share)))
    title = tr("What parts {0} from {1}").format(view.first.name, view.second.name)
    return Parting((first, second), spots, title, view.text)


def _made_by(view: MistakeView) -> dict[str, list[int]]:
    """Return the numbers of the links that make each sign."""
    made: dict[str, list[int]] = {}
    for number, link in enumerate(view.chain, 1):
        for sign in dict.fromkeys(showing.sign for showing in link.shows):
            made.setdefault(sign, []).append(number)
    return made


def _signs(group: StageSigns, made_by: Mapping[str, list[int]], tr: Translate) -> tuple[Spot, ...]:
    """Return a spot for each sign: the answer it shows most on top, its other answers and its links below."""
    by_sign: dict[str, list[SignLink]] = {}
    for link in group.signs:
        by_sign.setdefault(link.sign, []).append(link)
    spots = []
    for sign, links in by_sign.items():
        first, others = links[0], links[1:]
        lines = [first.ask, _often(first, tr)]
        if others:
            lines.append(tr("Or: {0}").format("; ".join(f"{o.say} ({_often(o, tr)})" for o in others)))
        if sign in made_by:
            lines.append(tr("By link {0}").format(", ".join(map(str, made_by[sign]))))
        said = f"{first.ask} {first.say}: {'. '.join(lines[1:])}"
        spots.append(Spot(f"{SIGN} {sign}", first.say, "\n".join(lines), first.share, said))
    return tuple(spots)


def _often(link: SignLink, tr: Translate) -> str:
    return tr("{0}, no fault").format(link.often) if link.normal else link.often


def _causes(links: Iterable[CauseLink], tr: Translate) -> tuple[Spot, ...]:
    return tuple(
        Spot(f"{MISTAKE} {link.cause}", link.name, link.often, link.share, tr("{0}: {1}").format(link.name, link.often))
        for link in links
    )
