"""The chain in words: each link stands with what can be seen of it, and with what the person saw."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from troubleshoot.advice import report
from troubleshoot.advice.chain import chain_of
from troubleshoot.advice.verdict import verdict
from troubleshoot.advice.wording import Wording
from troubleshoot.inference.facts import Case, Given
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import Family, RuleBase

SMALL = Path(__file__).parents[2] / "support" / "small_rules"


@pytest.fixture(scope="module")
def rulebase() -> RuleBase:
    return load(SMALL)


@pytest.fixture
def toast(rulebase: RuleBase) -> Family:
    return rulebase.families["toast"]


def test_each_link_names_where_it_can_be_seen_and_how_often(toast: Family):
    """A question is left out where the answer says what was looked at; a measured answer keeps it."""
    first, second = chain_of(toast, toast.causes["dial_high"], Wording())
    assert [(one.sign, one.answer) for one in first.shows] == [("heat", "hot")]
    assert [one.words for one in (*first.shows, *second.shows)] == [
        "How hot is the slot? 230 °C or hotter",
        "What colour is the toast? Black",
        "Darker than the middle",
    ]
    assert [one.share for one in second.shows] == [0.985, 0.8]


def test_only_what_was_answered_so_was_seen(toast: Family):
    """Another answer to the same question is not what the link makes."""
    links = chain_of(toast, toast.causes["dial_high"], Wording(), {"heat": "right", "colour": "black"})
    assert [link.seen_words for link in links] == ["", "What colour is the toast? Black"]


def test_a_coarse_answer_counts_for_all_it_covers(toast: Family):
    """ "Not gold" is black as well as white."""
    (_, last) = chain_of(toast, toast.causes["dial_high"], Wording(), {"colour": "odd"})
    assert [one.answer for one in last.shows if one.given] == ["black"]


def test_temperatures_are_in_the_units_that_were_set(toast: Family):
    """What is seen is put into words as everything else is."""
    first, _ = chain_of(toast, toast.causes["dial_high"], Wording(fahrenheit=True))
    assert "446" in first.shown_words


def test_a_link_from_the_file_of_additions_follows_the_common_ones(toast: Family, tmp_path: Path):
    """A family ends the chain of a common cause with what happens in its own bowl."""
    rules = Path(shutil.copytree(SMALL, tmp_path / "rules"))
    also = rules / "toast" / "also.yaml"
    link = "    why:\n      - {says: The slice stays gold and is hard all the same., seen_as: {colour: gold}}\n"
    also.write_text(also.read_text("utf-8").replace("    shows_as:", f"{link}    shows_as:"), "utf-8")
    cause = load(rules).families["toast"].causes["old_bread"]
    assert cause.why == (*toast.causes["old_bread"].why, "The slice stays gold and is hard all the same.")
    assert cause.links[-1].shown == (("colour", "gold"),)


def test_the_report_says_under_each_link_what_was_seen(rulebase: RuleBase, toast: Family):
    """On paper the reader finds what they told beside the link that made it."""
    reasoner = Reasoner(toast, rulebase.vocabulary)
    conclusion = reasoner.reason(
        Case("toast", "burnt", {"colour": Given("black"), "heat": Given(value=280.0), "edge": Given("darker")})
    )
    said = verdict(reasoner, conclusion, rulebase.cautions, rulebase.sources, Wording())
    texts = [block.text for block in report.blocks(said)]
    last = next(i for i, text in enumerate(texts) if text.endswith("while the middle is still soft."))
    assert texts[last + 1] == "Seen here: What colour is the toast? Black; Darker than the middle"
