"""Broken rule folders: each defect is caught by the check meant for it, at its line, and nothing else is reported."""

from __future__ import annotations

import json
import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest

from troubleshoot import cli
from troubleshoot.checks import run as checks
from troubleshoot.checks.base import Finding
from troubleshoot.errors import RuleBaseError
from troubleshoot.inference.examples import failures
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.load import load

SMALL = Path(__file__).parents[2] / "support" / "small_rules"


@dataclass(frozen=True)
class Planted:
    """An edit of one file of the small rule base, the check that must find it, and the text on the line it names."""

    name: str
    check: str
    file: str
    old: str
    new: str
    at: str
    says: str
    found_in: str = ""
    #: A second edit of the file, for a defect that would otherwise bring another with it.
    and_also: tuple[str, str] = ("", "")


NEW_SIGN = """sign: wire
ask: What do the wires look like?
look: Look into the slot.
kind: seen
minutes: 1
from: brown
until: spread
answers:
  red: {say: Red, base: usually, normal: true}
  dull: {say: Dull, base: rarely}
"""

PLANTED = [
    # -- the form of a file ---------------------------------------------------------------------------------------
    Planted("broken yaml", "readable", "toast/signs/edge.yaml", "answers:", "answers: [", "  darker:", "expected"),
    Planted("key twice", "readable", "toast/signs/edge.yaml", "minutes: 1", "minutes: 1\nkind: felt", "kind: felt", "stands twice"),
    Planted("bare no", "readable", "toast/signs/edge.yaml", "say: Like the middle", "say: no", "say: no", "bare word no"),
    Planted("base sixty", "readable", "toast/signs/edge.yaml", "minutes: 1", "minutes: 1:30", "1:30", "base sixty"),
    Planted("a date", "readable", "toast/signs/edge.yaml", "minutes: 1", "minutes: 2026-01-02", "2026", "as a date"),
    Planted("nothing written", "readable", "toast/signs/edge.yaml", "kind: seen", "kind:", "kind:", "nothing is written"),
    Planted("an anchor", "readable", "toast/signs/edge.yaml", "kind: seen", "kind: &k seen", "&k", "an anchor (&k)"),
    Planted("a tag", "readable", "toast/signs/edge.yaml", "kind: seen", "kind: !!str seen", "!!str", "is not allowed"),
    Planted("merge key", "readable", "toast/signs/edge.yaml", "kind: seen", "kind: seen\n<<: {a: b}", "<<", "merge key"),
    Planted("nested too deep", "readable", "toast/signs/edge.yaml", "kind: seen", "kind: " + "[" * 40 + "]" * 40, "[[", "deep"),
    Planted("hidden character", "readable", "toast/signs/edge.yaml", "say: Like", "say: Li\u200bke", "\u200bke", "U+200B"),
    Planted("text turned round", "readable", "toast/signs/edge.yaml", "say: Like", "say: Li\u202eke", "\u202eke", "U+202E"),
    Planted("unknown key", "readable", "toast/signs/edge.yaml", "look:", "looks: x y z x y z\nlook:", "looks:", "not known here"),
    Planted("missing key", "readable", "toast/signs/edge.yaml", "kind: seen\n", "", "sign: edge", "'kind' is missing"),
    Planted("wrong type", "readable", "toast/signs/edge.yaml", "minutes: 1", "minutes: one", "minutes: one", "not a number"),
    Planted("off the scale", "readable", "toast/signs/edge.yaml", "base: sometimes", "base: often", "base: often", "cannot stand|not one of"),
    Planted("out of range", "readable", "toast/causes/dial_low.yaml", "how_common: 3", "how_common: 7", "how_common: 7", "out of range"),
    Planted("path out of the drawings", "readable", "toast/signs/edge.yaml", "say: Darker than the middle", "drawing: ../../settings, say: Darker", "../..", "expected form"),
    # -- names that lead nowhere ----------------------------------------------------------------------------------
    Planted("dangling answer", "readable", "toast/causes/dial_low.yaml", "{white: nearly-always}", "{whyte: nearly-always}", "whyte", "did you mean 'white'"),
    Planted("dangling remedy", "readable", "toast/causes/dial_low.yaml", "toast_again,", "toast_agein,", "toast_agein", "did you mean 'toast_again'"),
    Planted("dangling source", "readable", "toast/remedies/scrape_it.yaml", "[common_practice]", "[common_practise]", "common_practise", "unknown source"),
    Planted("dangling caution", "readable", "toast/rules/said.yaml", "{caution: hot_slot}", "{caution: hot_slut}", "hot_slut", "unknown caution"),
    Planted("dangling finding", "readable", "toast/rules/said.yaml", "- {finding: burnt_by_heat}", "- {finding: burnt_by_heet}", "burnt_by_heet", "unknown finding"),
    Planted("renamed id", "readable", "toast/causes/dial_low.yaml", "  colour: {white", "  tint: {white", "tint", "it is now called 'colour'"),
    Planted("file and id differ", "readable", "toast/signs/timer.yaml", "sign: timer", "sign: timers", "sign: timers", "not called like its file", "first"),
    Planted("one id twice", "readable", "toast/family.yaml", "uses: {causes: [old_bread]}", "uses: {causes: [old_bread, old_bread]}", "uses", "stands twice"),
    Planted("a gap in the bands", "readable", "toast/signs/heat.yaml", "{answer: right, at_least: 150", "{answer: right, at_least: 160", "at_least: 160", "gap or overlap"),
    Planted("unknown calculation", "readable", "toast/signs/loss.yaml", "by: weight_loss_percent", "by: weight_los_percent", "weight_los_percent", "did you mean 'weight_loss_percent'"),
    Planted("stages the wrong way round", "readable", "toast/signs/edge.yaml", "from: brown\nuntil: spread", "from: spread\nuntil: brown", "from: spread", "comes after"),
    Planted("a number no sign takes", "readable", "toast/causes/dial_high.yaml", "heat: 280", "heat: 999", "- fault: burnt", "out of range"),
    # -- causes ---------------------------------------------------------------------------------------------------
    Planted("no rescue", "complete-cause", "toast/causes/left_long.yaml", "[scrape_it, set_a_timer, turn_it_down]", "[set_a_timer]", "cause: left_long", "with this batch"),
    Planted("nothing for next time", "complete-cause", "toast/causes/dial_high.yaml", "[scrape_it, turn_it_down]", "[scrape_it]", "cause: dial_high", "next time"),
    Planted("no rival", "complete-cause", "toast/causes/dial_low.yaml", "told_apart_from:\n  old_bread: {by: heat, because: Old bread goes hard in a slot that is hot enough.}", "told_apart_from: {}", "cause: dial_low", "no rival"),
    Planted("no near miss", "complete-cause", "toast/causes/dial_low.yaml", "  - fault: white\n    answers: {heat: hot}\n    expect: ruled-out\n", "", "cause: dial_low", "near miss"),
    Planted("chain of one link", "complete-cause", "toast/causes/dial_low.yaml", "{heat: cool}\n  - says: The slice dries, and its face stays white.\n    seen_as: {colour: [white]}\n", "{heat: cool, colour: white}\n", "cause: dial_low", "one link"),
    Planted("chain ends nowhere", "chain-gap", "toast/causes/dial_low.yaml", "The slice dries, and its face stays white.", "Nothing happens then.", "Nothing happens", "end before anything is seen"),
    Planted("chain starts elsewhere", "chain-gap", "toast/causes/dial_low.yaml", "A low dial leaves the slot cool.", "Rain falls outside.", "Rain falls", "start beside its cause"),
    Planted("a link seen as what is not shown", "chain-shows", "toast/causes/dial_high.yaml", "{heat: hot}", "{heat: hot, timer: was_set}", "timer: was_set", "shows rarely or not at all"),
    Planted("a link seen as what is rare", "chain-shows", "toast/causes/dial_high.yaml", "{heat: hot}", "{heat: [hot, right]}", "heat: [hot, right]", "shows rarely or not at all"),
    Planted("shown, and no link leads there", "chain-shows", "toast/causes/dial_high.yaml", "{colour: black, edge: darker}", "{colour: black}", "edge: {darker", "no link of the chain leads to it"),
    Planted("a link seen as an unknown answer", "readable", "toast/causes/dial_high.yaml", "{heat: hot}", "{heat: hott}", "heat: hott", "did you mean 'hot'"),
    Planted("a link that says nothing", "readable", "toast/causes/dial_high.yaml", "  - says: A high dial makes the slot too hot.\n    seen_as:", "  - seen_as:", "- seen_as:", "'says' is missing"),
    Planted("a link that is a number", "readable", "toast/causes/left_long.yaml", "  - Nobody set a timer, so the slice stayed in.", "  - 12", "- 12", "not text or a mapping"),
    Planted("ruled out and nearly always", "contradiction", "toast/causes/left_long.yaml", "told_apart_from:", "ruled_out_by:\n  loss: [much]\ntold_apart_from:", "loss: [much]", "rules it out and is also"),
    Planted("contradiction in also", "contradiction", "toast/also.yaml", "colour: [white]", "colour: [white, gold]", "colour: [white, gold]", "rules it out and is also"),
    Planted("no room for both", "fitting-strengths", "toast/causes/dial_low.yaml", "{white: nearly-always}", "{white: nearly-always, gold: about-half}", "white: nearly-always, gold", "nearly always one answer and yet"),
    Planted("only what is not seen", "fitting-strengths", "toast/causes/dial_high.yaml", "edge: {darker: usually}", "edge: {darker: usually}\n  timer: {not_set: rarely}", "timer: {not_set", "shifts nothing"),
    Planted("a test that hardly parts", "told-apart", "toast/causes/left_long.yaml", "{by: timer, because", "{by: colour, because", "by: colour", "differs in 1"),
    Planted("a test that does not part", "told-apart", "toast/causes/dial_low.yaml", "old_bread: {by: heat,", "old_bread: {by: timer,", "by: timer", "shows the same for both"),
    Planted("an example that fails", "example", "toast/causes/dial_low.yaml", "answers: {heat: hot}\n    expect: ruled-out", "answers: {heat: right}\n    expect: ruled-out", "- fault: white", "should rule it out", "last"),
    # -- differentials --------------------------------------------------------------------------------------------
    Planted("pointed to, and not shown", "differential", "toast/differential/brown.yaml", "not_set: {points_to: [left_long]}", "not_set: {points_to: [left_long, dial_low]}", "not_set: {points_to", "under 'points_to' for 'dial_low', but 20%"),
    Planted("said to fit, and nearly always there", "differential", "toast/differential/brown.yaml", "hot: {points_to: [dial_high]", "hot: {fits: [dial_high]", "hot: {fits", "that is 'points_to'"),
    Planted("pointed to, and seldom shown", "differential", "toast/causes/left_long.yaml", "colour: {black: usually}", "colour: {black: sometimes}", "black: {points_to", "no more than 'fits'", "toast/differential/brown.yaml"),
    Planted("spoken against, and shown", "differential", "toast/differential/brown.yaml", "right: {points_to: [left_long]}", "right: {speaks_against: [left_long]}", "right: {speaks_against", "and 94% of sound ones"),
    Planted("a rule-out was lost", "differential", "toast/causes/dial_low.yaml", "ruled_out_by:\n  heat: [hot]\n", "", "excludes: [dial_low]", "does not name this answer", "toast/differential/brown.yaml", ("answers: {heat: hot}\n    expect: ruled-out", "answers: {heat: hot}\n    expect: not-first")),
    Planted("a dispute that is settled", "disputed", "toast/disputed/brown.yaml", "", "signs:\n  timer:\n    not_set: {points_to: [left_long]}\n", "not_set:", "agree with this by now"),
    Planted("a near miss with a word for a number", "readable", "toast/rules/said.yaml", "but: {number: loss, is: 20}", "but: {number: loss, is: much}", "- but: {number: loss", "'much' is no number"),
    Planted("an unknown cause in a differential", "readable", "toast/differential/brown.yaml", "cool: {points_to: [dial_low]", "cool: {points_to: [dial_lo]", "cool: {points_to", "did you mean 'dial_low'"),
    Planted("an unknown answer in a differential", "readable", "toast/differential/brown.yaml", "not_set:", "not_sett:", "not_sett:", "did you mean 'not_set'"),
    Planted("two grades for one cause", "readable", "toast/differential/brown.yaml", "hot: {points_to: [dial_high]", "hot: {points_to: [dial_high], fits: [dial_high]", "hot: {points_to", "under 'points_to' too"),
    Planted("one answer in two files", "readable", "toast/differential/again.yaml", "", "signs:\n  timer:\n    not_set: {points_to: [left_long]}\n", "not_set:", "stands at", "toast/differential/brown.yaml"),
    Planted("a grade that is none", "readable", "toast/differential/brown.yaml", "cool: {points_to:", "cool: {point_to:", "cool: {point_to", "not known here"),
    # -- signs ----------------------------------------------------------------------------------------------------
    Planted("a sign nobody reads", "unused", "toast/signs/wire.yaml", "", NEW_SIGN, "sign: wire", "reads this sign"),
    Planted("a sign that parts nothing", "parts-nothing", "toast/causes/dial_high.yaml", "edge: {darker: usually}", "edge: {as_middle: usually, darker: sometimes}", "sign: edge", "parts nothing", "toast/signs/edge.yaml"),
    Planted("two questions at once", "plain-question", "toast/signs/edge.yaml", "ask: How does", "ask: Is it thick? How does", "ask:", "2 questions"),
    Planted("no question", "plain-question", "toast/signs/edge.yaml", "slice look?", "slice look.", "ask:", "question mark"),
    Planted("hard words", "plain-question", "toast/signs/edge.yaml", "How does the edge of the slice look?", "What characterises peripheral discolouration intensity?", "ask:", "stumbles"),
    Planted("a long sentence", "plain-question", "toast/signs/edge.yaml", "Look at the crust all round.", "Look at it " + "and at it " * 9 + "once.", "look:", "a sentence has"),
    Planted("the same question twice", "duplicate", "toast/signs/timer.yaml", "ask: Was a timer set?", "ask: What colour is the toast?", "ask:", "the same as 'colour'"),
    Planted("the same answer twice", "duplicate", "toast/signs/timer.yaml", "say: It was not set", "say: It was set", "not_set", "this answer says the same"),
    Planted("another word", "kept-words", "toast/signs/heat.yaml", "How hot is the slot?", "How hot is the bread browner?", "ask:", "write 'toaster'"),
    Planted("a degree by hand", "wording", "toast/signs/heat.yaml", "Hold a probe", "Hold a 200 °C probe", "look:", "by hand"),
    Planted("an unfinished text", "wording", "toast/signs/timer.yaml", "look: Ask the person who stood by.", "look: TODO say whom to ask.", "look:", "unfinished"),
    Planted("no such drawing", "drawings", "toast/signs/edge.yaml", "say: Darker than the middle", "drawing: toast/nowhere, say: Darker", "darker:", "there is no drawing"),
    # -- remedies -------------------------------------------------------------------------------------------------
    Planted("a remedy nobody offers", "unused", "toast/causes/left_long.yaml", " set_a_timer,", "", "remedy: set_a_timer", "offers this remedy", "toast/remedies/set_a_timer.yaml"),
    Planted("grams by hand", "hand-written-amount", "toast/remedies/toast_again.yaml", "Put the slice back", "Add 80 g of butter and put the slice back", "Add 80 g", "by hand"),
    Planted("a vague amount", "complete-remedy", "toast/remedies/scrape_it.yaml", "steps:\n", "steps:\n  - Stir in some butter.\n", "Stir in some", "does not say how much"),
    Planted("a caution that is due", "complete-remedy", "toast/remedies/scrape_it.yaml", "Scrape the face", "Reach into the hot slot. Scrape the face", "hot slot", "add hot_slot"),
    Planted("a reason that is none", "complete-remedy", "toast/remedies/scrape_it.yaml", "because: Only the face is burnt, and the crumb below is sound.", "because: Scrape the black off.", "because:", "only repeats"),
    Planted("savings next time", "complete-remedy", "toast/remedies/turn_it_up.yaml", "saves: 0", "saves: 0.5", "saves: 0.5", "saves none"),
    Planted("an amount nothing gives", "amounts-named", "toast/remedies/toast_again.yaml", "Put the slice", "Weigh {bread_part_g} and put the slice", "bread_part_g", "no calculation gives"),
    # -- rules ----------------------------------------------------------------------------------------------------
    Planted("a finding only itself gives", "never-fires", "toast/rules/said.yaml", "      - {number: heat, at_least: 230}", "      - {finding: burnt_by_heat}", "- {finding: burnt_by_heat}", "only rules that need", and_also=("but: {number: heat, is: 200}", "but: {without: burnt_by_heat}")),
    Planted("bounds the wrong way round", "never-fires", "toast/rules/said.yaml", "at_least: 230}", "at_least: 230, below: 200}", "below: 200", "no number is"),
    Planted("a number out of reach", "never-fires", "toast/rules/said.yaml", "at_least: 230}", "at_least: 500}", "at_least: 500", "never outside"),
    Planted("two answers at once", "never-fires", "toast/rules/said.yaml", "- {number: heat, at_least: 230}", "- {sign: colour, is: gold}", "is: gold", "at once", and_also=("but: {number: heat, is: 200}", "but: {sign: colour, is: black}")),
    Planted("too early to look", "never-fires", "toast/rules/said.yaml", "- {number: heat, at_least: 230}", "- {stage: slice}", "{sign: colour, is: black}", "cannot be looked at yet", and_also=("but: {number: heat, is: 200}", "but: {stage: brown}")),
    Planted("a remedy too early", "never-fires", "toast/rules/said.yaml", "- {stage: [brown, spread]}", "- {stage: slice}", "- {remedy: toast_again}", "not yet, be done", and_also=("but: {stage: slice}", "but: {stage: brown}")),
    Planted("a conclusion too late", "never-fires", "toast/rules/said.yaml", "      - {fault: burnt}", "      - {suspect: dial_high}", "{answer: colour, is: black}", "too late to count"),
    Planted("two rules of one name", "readable", "toast/rules/said.yaml", "rule: hot_and_black", "rule: black_was_said", "black_was_said", "of this name", "last"),
    Planted("a condition was lost", "near-miss", "toast/rules/said.yaml", "      - {number: loss, below: 10}\n", "", "- but: {number: loss", "would fire in this near miss"),
    Planted("a bound was moved", "near-miss", "toast/rules/said.yaml", "{number: loss, below: 10}", "{number: loss, below: 50}", "- but: {number: loss", "would fire in this near miss"),
    Planted("a near miss that is a hit", "near-miss", "toast/rules/said.yaml", "but: {stage: spread}", "but: {stage: brown}", "- but: {stage: brown}", "would fire in this near miss"),
    Planted("a condition without a near miss", "near-miss", "toast/rules/said.yaml", "      - but: {sign: timer, is: not_set}\n        because: Without a timer, little lost water may only mean that the slot was cool.\n", "", "- {sign: timer, is: was_set}", "no near miss shows"),
    Planted("a near miss with an unknown answer", "readable", "toast/rules/said.yaml", "but: {sign: timer, is: not_set}", "but: {sign: timer, is: not_sett}", "- but: {sign: timer", "did you mean 'not_set'"),
    Planted("a near miss without what no condition asks", "readable", "toast/rules/said.yaml", "but: {without: toast_again}", "but: {without: toast_agin}", "- but: {without", "did you mean 'toast_again'"),
    Planted("a near miss without a reason", "readable", "toast/rules/said.yaml", "        because: A slice that is spread cannot go back into the slot at all.\n", "", "- but: {stage: spread}", "'because' is missing"),
    # -- what all families share ----------------------------------------------------------------------------------
    Planted("a caution nobody calls for", "unread-lists", "toast/rules/said.yaml", "{caution: hot_slot}", "{bar: scrape_it}", "hot_slot:", "calls for this caution", "cautions.yaml"),
    Planted("a source nobody cites", "unread-lists", "sources.yaml", "sources:\n", "sources:\n  old_book: {title: An old book, standing: published}\n", "old_book", "nothing cites"),
    Planted("a new id that is not there", "renamed", "renamed.yaml", "tint: colour", "tint: kolour", "tint:", "did you mean 'colour'"),
    Planted("an old id in use again", "renamed", "renamed.yaml", "tint: colour", "edge: colour", "edge:", "in use again"),
    Planted("renamed in a circle", "renamed", "renamed.yaml", "tint: colour", "tint: shade\n  shade: colour", "tint:", "was renamed as well"),
]  # fmt: skip


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    """A copy of the small rule base, to be broken."""
    return Path(shutil.copytree(SMALL, tmp_path / "rules"))


def found(rules: Path) -> list[Finding]:
    """Everything that is wrong with a folder, as the command says it."""
    try:
        rulebase = load(rules)
    except RuleBaseError as error:
        return [Finding(problem, "readable", "error") for problem in error.problems]
    of_examples = [
        Finding(problem, "example", "error")
        for family in rulebase.families.values()
        for problem in failures(Reasoner(family, rulebase.vocabulary))
    ]
    return [*checks.run(rulebase), *of_examples]


def plant(rules: Path, defect: Planted) -> None:
    """Break the folder."""
    path = rules / defect.file
    text = path.read_text(encoding="utf-8") if path.exists() else ""
    path.parent.mkdir(exist_ok=True)
    assert defect.old in text
    text = text.replace(defect.old, defect.new, 1) if text else defect.new
    assert defect.and_also[0] in text
    path.write_text(text.replace(*defect.and_also, 1), encoding="utf-8")


def line_of(path: Path, text: str, last: bool) -> int:
    """The number of the line on which ``text`` stands."""
    lines = path.read_text(encoding="utf-8").split("\n")
    numbers = [number for number, line in enumerate(lines, 1) if text in line]
    assert numbers, text
    return numbers[-1 if last else 0]


def test_the_small_rule_base_is_clean_to_begin_with():
    """Before anything is planted, nothing is found."""
    assert [str(finding) for finding in found(SMALL)] == []


def test_there_are_enough_defects_and_every_check_has_one():
    """At least forty are planted, and no check is without its defect."""
    assert len(PLANTED) >= 40
    every = set(checks.ABOUT) | {"readable", "example"}
    assert {defect.check for defect in PLANTED} == every


@pytest.mark.parametrize("defect", PLANTED, ids=lambda defect: defect.name.replace(" ", "-"))
def test_each_defect_is_found_where_it_stands_and_nothing_else(rules: Path, defect: Planted):
    """One finding, by the check meant for it, in the right file on the right line."""
    plant(rules, defect)
    (finding,) = found(rules)
    file = rules / (defect.found_in if "." in defect.found_in else defect.file)
    assert finding.check == defect.check, str(finding)
    assert finding.problem.place.file == str(file), str(finding)
    assert finding.problem.place.line == line_of(file, defect.at, defect.found_in == "last"), str(finding)
    assert any(words in str(finding) for words in defect.says.split("|")), str(finding)


def test_two_causes_that_show_alike_are_told(rules: Path):
    """A cause copied under another name is told of as one that no sign parts from the first."""
    text = (rules / "toast/causes/dial_low.yaml").read_text(encoding="utf-8")
    text = text.replace("dial_low", "dial_weak").replace("The dial stood too low", "The dial was worn low")
    (rules / "toast/causes/dial_weak.yaml").write_text(text, encoding="utf-8")
    told = [finding for finding in found(rules) if finding.check == "told-apart"]
    assert len(told) == 1
    assert "it shows exactly as 'dial_low' does" in str(told[0])


def test_a_folder_with_many_defects_tells_them_all(rules: Path):
    """Defects in different files are all told at once."""
    for name in ("no rescue", "two questions at once", "savings next time"):
        plant(rules, next(defect for defect in PLANTED if defect.name == name))
    assert sorted(finding.check for finding in found(rules)) == ["complete-cause", "complete-remedy", "plain-question"]


def test_the_command_gives_its_codes(rules: Path, capsys: pytest.CaptureFixture[str]):
    """0 when clean, 1 with findings, 2 when the folder cannot be read."""
    assert cli.main(["check", str(rules)]) == 0
    plant(rules, next(defect for defect in PLANTED if defect.check == "complete-cause"))
    assert cli.main(["check", str(rules)]) == 1
    plant(rules, next(defect for defect in PLANTED if defect.name == "broken yaml"))
    assert cli.main(["check", str(rules)]) == 2
    assert "Traceback" not in capsys.readouterr().err


def test_sarif_names_file_line_check_and_severity(rules: Path, capsys: pytest.CaptureFixture[str]):
    """Each finding is one result whose rule, level and place a code host can show."""
    plant(rules, next(defect for defect in PLANTED if defect.name == "two questions at once"))
    capsys.readouterr()
    assert cli.main(["check", str(rules), "--sarif"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["version"] == "2.1.0"
    (run,) = data["runs"]
    (result,) = run["results"]
    listed = run["tool"]["driver"]["rules"]
    assert listed[result["ruleIndex"]]["id"] == result["ruleId"] == "plain-question"
    assert all(rule["shortDescription"]["text"] for rule in listed)
    place = result["locations"][0]["physicalLocation"]
    assert place["artifactLocation"] == {"uri": "toast/signs/edge.yaml", "uriBaseId": "RULES"}
    assert place["region"]["startLine"] == 2
    assert result["level"] == "warning"


def test_sarif_of_a_clean_folder_has_no_results(rules: Path, capsys: pytest.CaptureFixture[str]):
    """A clean folder gives a run without results."""
    assert cli.main(["check", str(rules), "--sarif"]) == 0
    assert json.loads(capsys.readouterr().out)["runs"][0]["results"] == []
