"""The verdict as text: cautions stand before the steps they concern, once each, and nothing is lost."""

from __future__ import annotations

import pytest

from troubleshoot import resources
from troubleshoot.advice import report
from troubleshoot.advice.verdict import Verdict, verdict
from troubleshoot.advice.wording import Wording
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview import casefile
from troubleshoot.interview.shelf import Shelf


@pytest.fixture
def over_egged(choux: Reasoner, shelf: Shelf) -> Verdict:
    path = resources.folder("rules") / "choux" / "cases" / "flat-over-egged.yaml"
    conclusion = choux.reason(casefile.to_case(casefile.read_document(path), choux.family))
    rulebase = shelf.rulebase("choux")
    return verdict(choux, conclusion, rulebase.cautions, rulebase.sources, Wording())


def test_every_caution_is_said_once_and_before_its_steps(over_egged: Verdict):
    """A caution of a remedy stands after the remedy's name and before its first step."""
    blocks = report.blocks(over_egged)
    cautions = [block.text for block in blocks if block.kind == "caution"]
    assert len(cautions) == len(set(cautions)) == len(over_egged.cautions)
    first = over_egged.rescue[0]
    name = next(i for i, block in enumerate(blocks) if block.text == first.name)
    step = next(i for i, block in enumerate(blocks) if i > name and block.kind == "step")
    between = " ".join(block.text for block in blocks[name:step] if block.kind == "caution")
    said = {line.caution: line.say for line in over_egged.cautions}
    assert all(said[caution] in between for caution in first.cautions if caution in said)


def test_the_whole_report_holds_chain_evidence_and_sources(over_egged: Verdict):
    """The text for paper and clipboard holds the rescue with its grams, the chain, the evidence and the sources."""
    text = report.as_text(over_egged)
    for words in (
        over_egged.headline,
        "50 g",
        *(link.text for link in over_egged.chain),
        *(w.said for w in over_egged.evidence_for),
        over_egged.sources[0].title,
    ):
        assert words in text


def test_the_short_report_is_shorter(over_egged: Verdict):
    """The terminal's text keeps to the first remedies and the heaviest evidence."""
    assert len(report.blocks(over_egged, short=True)) < len(report.blocks(over_egged))


def test_words_are_put_into_the_language_of_the_reader(over_egged: Verdict):
    """Every phrase of the program's own passes through the translation."""
    loud = report.blocks(over_egged, tr=str.upper)
    assert "RESCUE" in [block.text for block in loud if block.kind == "heading"]
