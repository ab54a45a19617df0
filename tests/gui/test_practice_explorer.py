"""Cause and effect in the window: pictures that say what the rule base says, followed by mouse and by keys alone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from ui.practice import pictures
from ui.practice.explore import COMPARE, Shown
from ui.style import tokens
from ui.widgets.cards import Card
from ui.widgets.chain import ChainBox
from ui.widgets.fishbone import Fishbone
from ui.widgets.link_picture import LinkPicture
from ui.widgets.picture import Node, Spot, SpotGroup

ALT = Qt.KeyboardModifier.AltModifier
CAUSE, RIVAL, SIGN, FAULT = "egg_overdose", "panade_undried", "inside", "paste_runny"


@pytest.fixture
def explorer(person):
    """The page of cause and effect, with choux read."""
    person.click("Practice")
    place = person.window.stack.currentWidget()
    person.click(next(c for c in person.window.findChildren(Card) if c.title == "Cause and effect"))
    person.click("Family: Choux")
    person.qtbot.waitUntil(lambda: place.practice.job is None, timeout=60_000)
    person.settle()
    return place.page


@pytest.fixture
def family(person):
    """What the rule base says of choux."""
    return person.interview.shelf.rulebase("choux").families["choux"]


def nodes(page) -> list[Node]:
    """Return the spots of the picture on show."""
    return [stop for stop in page.picture.stops if isinstance(stop, Node)]


def leads_to(page) -> set[str]:
    """Return what the spots of the picture on show lead to."""
    return {node.spot.follow for node in nodes(page)}


def test_a_mistake_is_picked_by_typing_and_shows_its_links_and_signs(person, explorer, family):
    """The picture holds every link of the chain, every sign, and every complaint of the rule base, and no other."""
    cause = family.causes[CAUSE]
    person.type(cause.name)
    person.press(Qt.Key.Key_Return)
    assert [link.text for link in explorer.picture.links] == [
        cause.name,
        *(f"{n}. {link}" for n, link in enumerate(cause.why, 1)),
    ]
    said = [
        (link.accessibleDescription(), of.shown)
        for link, of in zip(explorer.picture.links[1:], cause.links, strict=True)
    ]
    assert all(family.signs[sign].said(answer) in words for words, shown in said for sign, answer in shown)
    assert [bool(words) for words, _ in said] == [bool(shown) for _, shown in said]
    faults = {f"fault {f.id}" for f in family.faults.values() if CAUSE in f.causes}
    assert leads_to(explorer) == {f"sign {sign}" for sign in cause.shows_as} | faults


def test_a_complaint_shows_its_causes_by_stage(person, explorer, family):
    """The picture of a complaint holds the causes that the rule base gives it, each under its own stage."""
    explorer.open(Shown(pictures.FAULT, FAULT))
    person.settle()
    fault = family.faults[FAULT]
    assert leads_to(explorer) == {f"mistake {cause}" for cause in fault.causes}
    assert explorer.picture.head.text == fault.say


def test_a_sign_shows_what_can_make_each_answer(person, explorer, family):
    """Choosing an answer shows the causes that make it, from the causes' own side of the rule base."""
    explorer.open(Shown(pictures.SIGN, SIGN))
    for answer in family.signs[SIGN].answers:
        explorer.at = Shown(pictures.SIGN, SIGN, answer.id)
        explorer.enter(stay=True)
        person.settle()
        makes = {f"mistake {c.id}" for c in family.causes.values() if answer.id in c.shows_as.get(SIGN, {})}
        assert leads_to(explorer) == makes


def test_two_mistakes_are_compared_from_the_one_on_show(person, explorer, family):
    """Compare offers the rivals first; the picture holds the test that the author names, with both bars."""
    explorer.open(Shown(pictures.MISTAKE, CAUSE))
    person.settle()
    person.click("Compare with another mistake")
    assert person.sees("Easily taken for it")
    rival = next(r for r in family.causes[CAUSE].told_apart_from if r.cause == RIVAL)
    person.click(next(c for c in person.window.findChildren(Card) if c.title == family.causes[RIVAL].name))
    first = explorer.picture.nodes[0]
    assert first.spot.follow == f"sign {rival.by}"
    assert first.shares[0] != first.shares[1]
    assert rival.because in first.spot.note


@pytest.mark.parametrize(
    "shown",
    [
        Shown(pictures.MISTAKE, CAUSE),
        Shown(pictures.SIGN, SIGN),
        Shown(pictures.FAULT, FAULT),
        Shown(COMPARE, CAUSE, RIVAL),
    ],
    ids=["mistake", "sign", "complaint", "two"],
)
def test_every_picture_has_words_that_say_the_same(person, explorer, shown):
    """Beneath each picture stands a text, and every name and frequency of the picture is in it."""
    explorer.open(shown)
    person.settle()
    text = " ".join(person.texts())
    assert person.window.findChildren(Card)
    for node in nodes(explorer):
        for words in (node.spot.title.removeprefix("A  ").removeprefix("B  "), *node.spot.note.split("\n")[:1]):
            assert words.rstrip(".") in text, words


def test_a_picture_is_followed_by_keys_alone(person, explorer, family):
    """Arrow keys pass every spot, Home and End go to the ends, Enter follows, Alt and Left comes back."""
    explorer.open(Shown(pictures.FAULT, FAULT))
    person.settle()
    stops = explorer.picture.stops
    stops[0].setFocus()
    passed = [QApplication.focusWidget()]
    for _ in stops[1:]:
        person.press(Qt.Key.Key_Down)
        passed.append(QApplication.focusWidget())
    assert passed == stops
    person.press(Qt.Key.Key_Home)
    assert QApplication.focusWidget() is stops[0]
    person.press(Qt.Key.Key_End)
    person.press(Qt.Key.Key_Left)
    last = QApplication.focusWidget()
    assert last is stops[-2]
    person.press(Qt.Key.Key_Return)
    person.settle()
    assert explorer.at == Shown(pictures.MISTAKE, last.spot.follow.partition(" ")[2])
    person.press(Qt.Key.Key_Left, ALT)
    assert explorer.at == Shown(pictures.FAULT, FAULT)


def test_the_spot_with_the_focus_is_in_sight(person, explorer):
    """Going along a picture scrolls the page with it."""
    explorer.open(Shown(pictures.MISTAKE, CAUSE))
    person.settle()
    explorer.picture.stops[0].setFocus()
    person.press(Qt.Key.Key_End)
    last = QApplication.focusWidget()
    seen = last.visibleRegion().boundingRect()
    assert seen.height() == last.height()


def test_tab_stops_once_at_a_picture_and_comes_back_to_where_it_was(person, explorer):
    """One stop of a picture is reached by Tab: the one that had the focus last."""
    explorer.open(Shown(pictures.MISTAKE, CAUSE))
    person.settle()
    stops = explorer.picture.stops
    stops[3].setFocus()
    reached = [stop for stop in stops if stop.focusPolicy() & Qt.FocusPolicy.TabFocus]
    assert reached == [stops[3]]


def test_every_spot_is_named_for_a_screen_reader(person, explorer):
    """The picture has a name, and each of its spots says what it is."""
    for shown in (Shown(pictures.MISTAKE, CAUSE), Shown(pictures.FAULT, FAULT), Shown(COMPARE, CAUSE, RIVAL)):
        explorer.open(shown)
        person.settle()
        assert explorer.picture.accessibleName()
        assert all(stop.accessibleName().strip() for stop in explorer.picture.stops)


def test_what_does_not_part_two_mistakes_is_said(person, explorer, monkeypatch):
    """Two mistakes that no sign parts are said to be so, not shown as an empty picture."""
    real = explorer.practice.explorer
    view = real.compare(CAUSE, RIVAL)
    monkeypatch.setattr(type(real), "compare", lambda *_: replace(view, parts=()))
    explorer.open(Shown(COMPARE, CAUSE, RIVAL))
    person.settle()
    assert person.sees("Nothing that can be asked parts them.")


def test_another_family_begins_with_its_lists(person, explorer):
    """What was shown of one family is not looked for in another."""
    explorer.open(Shown(pictures.MISTAKE, CAUSE))
    explorer.practice.explore("shortbread")
    person.qtbot.waitUntil(lambda: explorer.practice.job is None, timeout=60_000)
    person.settle()
    assert explorer.at == Shown()
    assert person.sees("Cause and effect")


def test_what_the_rules_no_longer_hold_is_said(person, explorer):
    """A mistake that is gone after an edit leads back to the lists, and the strip says so."""
    explorer.open(Shown(pictures.MISTAKE, "gone_with_the_edit"))
    person.settle()
    assert explorer.at == Shown()
    assert person.window.shown_strips() == ["That is no longer in the rule base."]


# -- the drawings themselves -----------------------------------------------------------


def groups(*sizes: int) -> list[SpotGroup]:
    """Return stages with so many spots each."""
    return [
        SpotGroup(f"Stage {s}", tuple(Spot(f"mistake {s}-{n}", f"Cause {n}", "usually", 0.8) for n in range(size)))
        for s, size in enumerate(sizes)
    ]


def laid(qtbot, picture: QWidget, width: int) -> QWidget:
    """Return a picture at a width and as high as it wants to be."""
    qtbot.addWidget(picture)
    picture.resize(width, picture.heightForWidth(width))
    picture.show()
    return picture


@pytest.mark.parametrize("width", [420, 700, 1000, 1400])
def test_no_two_spots_of_a_picture_lie_on_one_another(qtbot, qapp, width):
    """At every width the spots keep apart and inside the picture."""
    for picture in (
        laid(qtbot, Fishbone("It is flat", groups(5, 1, 3, 2), "t", "w"), width),
        laid(qtbot, LinkPicture(("one", "two", "three"), groups(4, 1, 7), "t", "w"), width),
    ):
        boxes = [stop.geometry() for stop in picture.stops]
        assert all(picture.rect().contains(box) for box in boxes)
        assert not any(a.intersects(b) for i, a in enumerate(boxes) for b in boxes[i + 1 :])


def test_ribs_stand_on_both_sides_only_where_there_is_room(qtbot, qapp):
    """A wide fishbone has causes left and right of its spine, a narrow one only on the right."""
    wide = laid(qtbot, Fishbone("It is flat", groups(3, 3), "t", "w"), 1000)
    narrow = laid(qtbot, Fishbone("It is flat", groups(3, 3), "t", "w"), 460)
    assert len({stop.x() for stop in wide.stops[:-1]}) == 2
    assert len({stop.x() for stop in narrow.stops[:-1]}) == 1
    assert min(stop.x() for stop in narrow.stops[:-1]) >= tokens.WIDE


def test_stages_run_down_the_spine_in_the_order_of_the_making(qtbot, qapp):
    """No stage begins above the one before it, whichever side it stands on, and the head is last."""
    picture = laid(qtbot, Fishbone("It is flat", groups(6, 1, 1, 4), "t", "w"), 1000)
    tops = [min(stop.y() for stop in picture.stops if _of(stop, s)) for s in range(4)]
    assert tops == sorted(tops)
    assert isinstance(picture.head, ChainBox)
    assert picture.head.y() > max(stop.geometry().bottom() for stop in picture.stops[:-1])


def _of(stop: QWidget, stage: int) -> bool:
    return isinstance(stop, Node) and stop.spot.follow.startswith(f"mistake {stage}-")
