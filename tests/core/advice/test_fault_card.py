"""The card for the wall: the right causes in order, tests that part them, nothing unsafe, and never too much."""

from __future__ import annotations

import pytest

from troubleshoot.advice.fault_card import MOST_CHARACTERS, FaultCard, as_text, blocks, fault_card
from troubleshoot.advice.wording import Wording
from troubleshoot.inference.facts import Case
from troubleshoot.interview.shelf import Shelf

FAMILIES = ("candied-peel", "choux", "melted-chocolate", "shortbread", "whipped-cream")


def card(shelf: Shelf, family: str, fault: str, wording: Wording | None = None) -> FaultCard:
    """The card of a complaint."""
    base = shelf.rulebase(family)
    return fault_card(shelf.reasoner(family), fault, base.cautions, base.sources, wording or Wording())


@pytest.fixture(scope="module")
def cards(shelf: Shelf) -> dict[tuple[str, str], FaultCard]:
    """Every card of every family."""
    return {(f, fault): card(shelf, f, fault) for f in FAMILIES for fault in shelf.rulebase(f).families[f].faults}


def test_scrambled_paste(shelf: Shelf):
    """Bits of cooked egg: of the two causes listed, egg in hot panade is commoner, and its rescue is sieving."""
    made = card(shelf, "choux", "scrambled")
    assert [cause.cause for cause in made.causes] == ["egg_into_hot", "expect_paste"]
    assert made.complaint == "There are bits of cooked egg in the paste"
    rescue = next(rescue for rescue in made.rescues if 1 in rescue.causes)
    assert rescue.advice.remedy == "sieve_out_cooked_egg"
    (test,) = made.tests
    said = dict(test.answers)
    assert said["Full of grains or small curds"] == (1,)
    assert said["Smooth with a soft shine, like satin"] == (2,)


def test_spoiled_pieces_are_thrown_away(shelf: Shelf):
    """Mould and sour smell: the card throws them away first, and offers nothing that saves them."""
    made = card(shelf, "choux", "spoiled")
    assert made.rescues == ()
    assert made.causes[0].rescue is None
    assert any("Throw" in advice.name for advice in made.first)


def test_cautions_stand_before_the_steps(cards):
    """No step is read before the cautions."""
    for made in cards.values():
        kinds = [block.kind for block in blocks(made)]
        if "caution" not in kinds:
            continue
        last = len(kinds) - 1 - kinds[::-1].index("caution")
        first = next(i for i, block in enumerate(blocks(made)) if block.text.startswith(("Rescue ", "First: ")))
        assert last < first


def test_every_caution_of_a_step_is_on_the_card(cards, shelf: Shelf):
    """A remedy never comes without its cautions."""
    for (family, _), made in cards.items():
        known = shelf.rulebase(family).cautions
        for advice in (*made.first, *(rescue.advice for rescue in made.rescues)):
            assert {Wording().text(known[caution].say) for caution in advice.cautions} <= set(made.cautions)


def test_causes_come_commonest_first(cards):
    """The words for how common never rise from one cause to the next."""
    order = ["most often", "often", "now and then", "seldom"]
    for made in cards.values():
        places = [order.index(cause.how_common) for cause in made.causes]
        assert places == sorted(places)
        assert [cause.number for cause in made.causes] == list(range(1, len(made.causes) + 1))


def test_only_causes_of_the_complaint(cards, shelf: Shelf):
    """A card names no cause that its complaint, or one that it covers, does not list."""
    for (family, fault_id), made in cards.items():
        faults = shelf.rulebase(family).families[family].faults
        listed = {c for one in (fault_id, *faults[fault_id].covers) for c in faults[one].causes}
        assert {cause.cause for cause in made.causes} <= listed


def test_every_rescue_belongs_to_a_cause(cards):
    """Each letter beside a cause has a rescue, each rescue a cause, and its remedy helps that cause."""
    for made in cards.values():
        letters = {cause.rescue for cause in made.causes} - {None}
        assert letters == {rescue.letter for rescue in made.rescues}
        for rescue in made.rescues:
            named = {made.causes[number - 1].cause for number in rescue.causes}
            assert named <= set(rescue.advice.causes)


def test_nothing_barred_is_offered(cards, shelf: Shelf):
    """What a rule forbids on this complaint is on no card."""
    for (family, fault_id), made in cards.items():
        barred = shelf.reasoner(family).reason(Case(family, fault_id, {})).barred
        assert not {rescue.advice.remedy for rescue in made.rescues} & set(barred)


def test_no_card_holds_too_much(cards):
    """Every card keeps to what one page can hold, and still shows a cause and a source."""
    for made in cards.values():
        assert len(as_text(made)) <= MOST_CHARACTERS
        assert made.causes
        assert made.sources


def test_no_placeholder_is_left(cards):
    """Every amount and temperature is put into words."""
    for made in cards.values():
        assert "{" not in as_text(made)


def test_units_follow_the_kitchen(shelf: Shelf):
    """In Fahrenheit a card holds no Celsius."""
    text = as_text(card(shelf, "choux", "paste_split", Wording(fahrenheit=True)))
    assert "°F" in text
    assert "°C" not in text


def test_an_unknown_complaint(shelf: Shelf):
    """A complaint that there is none of is an error of the caller."""
    with pytest.raises(KeyError):
        card(shelf, "choux", "no_such_fault")
