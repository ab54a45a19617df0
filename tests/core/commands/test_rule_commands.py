"""The commands for people who keep rules: identify, against, explain and new."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from troubleshoot import cli, resources
from troubleshoot.inference.identify import identify
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.load import load

SMALL = Path(__file__).parents[2] / "support" / "small_rules"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = cli.main(list(words))
    out, err = capsys.readouterr()
    return code, out, err


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    """A copy of the small rule base, to be changed."""
    return Path(shutil.copytree(SMALL, tmp_path / "rules"))


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


# -- identify ------------------------------------------------------------------------------------------------------


def test_identify_names_the_rival_and_the_sign_that_parts(capsys: pytest.CaptureFixture[str]):
    """Each cause has its share of first places, its nearest rival, and a sign of the family that parts the two."""
    code, out, _ = run(capsys, "--rules", str(SMALL), "check", "--identify", "toast", "--json")
    (data,) = json.loads(out)
    assert code == 0
    assert {one["cause"] for one in data["causes"]} == {"dial_high", "dial_low", "left_long", "old_bread"}
    by_cause = {one["cause"]: one for one in data["causes"]}
    assert by_cause["dial_high"]["nearest"]["rival"] == "left_long"
    assert by_cause["dial_high"]["nearest"]["sign"] in ("heat", "timer")
    assert all(0.5 < one["first"] <= 1.0 for one in data["causes"])
    assert all(0.0 < one["nearest"]["overlap"] <= one["nearest"]["sign_overlap"] <= 1.0 for one in data["causes"])


def test_identify_says_the_same_twice_and_refuses_an_unknown_family(capsys: pytest.CaptureFixture[str]):
    """The report is the same bytes each time; a family that does not exist is one plain line."""
    once = run(capsys, "--rules", str(SMALL), "check", "--identify")[1]
    assert run(capsys, "--rules", str(SMALL), "check", "--identify")[1] == once
    code, _, err = run(capsys, "--rules", str(SMALL), "check", "--identify", "tost")
    assert code == 2
    assert "did you mean 'toast'?" in err


def test_two_causes_made_alike_lose_to_one_another(rules: Path):
    """When nothing parts two causes, the less common one loses to the other."""
    change(
        rules / "toast/causes/left_long.yaml",
        "  heat: {right: nearly-always}\n  timer: {not_set: nearly-always}\n",
        "  heat: {hot: nearly-always}\n",
    )
    change(rules / "toast/causes/left_long.yaml", "  loss: {much: usually}\n", "")
    rulebase = load(rules)
    found = {one.cause: one for one in identify(Reasoner(rulebase.families["toast"], rulebase.vocabulary))}
    before = load(SMALL)
    sound = {one.cause: one for one in identify(Reasoner(before.families["toast"], before.vocabulary))}
    assert found["left_long"].first < sound["left_long"].first - 0.1
    assert found["left_long"].lost_to[0].rival == "dial_high"


# -- against -------------------------------------------------------------------------------------------------------


def test_against_itself_nothing_differs(capsys: pytest.CaptureFixture[str]):
    """A folder against itself gives 0."""
    code, out, _ = run(capsys, "check", str(SMALL), "--against", str(SMALL))
    assert code == 0
    assert "no case comes out otherwise" in out


def test_against_tells_what_a_change_does(rules: Path, capsys: pytest.CaptureFixture[str]):
    """A turned strength is told as a case that comes out otherwise, causes that move and new findings."""
    change(rules / "toast/causes/left_long.yaml", "timer: {not_set: nearly-always}", "timer: {was_set: nearly-always}")
    change(rules / "toast/causes/left_long.yaml", "heat: {right: nearly-always}", "heat: {hot: nearly-always}")
    change(rules / "toast/causes/dial_low.yaml", "  heat: [hot]", "  heat: [hot]\n  timer: [was_set]")
    change(
        rules / "toast/causes/dial_low.yaml",
        "  heat: {cool: nearly-always}",
        "  heat: {cool: nearly-always}\n  timer: {was_set: usually}",
    )
    code, out, _ = run(capsys, "check", str(rules), "--against", str(SMALL), "--json")
    data = json.loads(out)
    assert code == 1
    changed = {(one["before"]["cause"], one["after"]["cause"]) for one in data["cases"]}
    assert any(before != after for before, after in changed)
    assert "left_long" in {one["cause"] for one in data["causes"]}
    assert {one["check"] for one in data["new_findings"]} == {
        "chain-shows",
        "contradiction",
        "differential",
        "told-apart",
    }
    text = run(capsys, "check", str(rules), "--against", str(SMALL))[1]
    assert "cases come out otherwise" in text
    assert "findings are new" in text


def test_against_a_folder_that_cannot_be_read_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """A folder that is none is one plain line, and 2."""
    code, _, err = run(capsys, "check", str(SMALL), "--against", str(tmp_path / "none"))
    assert code == 2
    assert "there is no such folder" in err


# -- explain -------------------------------------------------------------------------------------------------------


@pytest.fixture
def case(tmp_path: Path) -> str:
    path = tmp_path / "case.yaml"
    path.write_text("family: toast\nfault: burnt\nanswers: {heat: 280, timer: was_set}\n", encoding="utf-8")
    return str(path)


def test_explain_weighs_tells_rules_and_what_would_change(case: str, capsys: pytest.CaptureFixture[str]):
    """Evidence in words and numbers, rules with their facts, near misses, and answers that would turn it."""
    code, out, _ = run(capsys, "--rules", str(SMALL), "explain", case, "--json")
    data = json.loads(out)
    assert code == 0
    assert data["first"] == data["cause"] == "dial_high"
    weights = {one["sign"]: one for one in data["evidence"]}
    assert weights["heat"]["decibans"] > 5
    assert weights["heat"]["weight"] in ("fair", "strong", "decides nearly alone")
    assert weights["timer"]["from_memory"]
    assert {"black_was_said", "hot_and_black", "heat_burns_edges"} <= {one["rule"] for one in data["rules"]}
    assert any("slot was hot enough" in words for one in data["rules"] for words in one["concluded"])
    text = run(capsys, "--rules", str(SMALL), "explain", case)[1]
    for heading in ("WHAT SPEAKS FOR IT", "RULES THAT FIRED", "WHAT WOULD CHANGE IT"):
        assert heading in text
    assert "decibans" in text


def test_explain_says_which_condition_stopped_a_rule(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """A rule that waits for one more condition is named with it."""
    path = tmp_path / "case.yaml"
    path.write_text("family: toast\nfault: burnt\nanswers: {heat: 200}\n", encoding="utf-8")
    data = json.loads(run(capsys, "--rules", str(SMALL), "explain", str(path), "--json")[1])
    missed = {one["rule"]: one for one in data["near_misses"]}
    assert "at least 230" in missed["hot_and_black"]["stopped_by"]
    assert any("Black" in words for words in missed["hot_and_black"]["held"])


def test_explain_says_why_a_rule_is_silent_where_its_near_miss_is_this_case(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    """Where the answer given is the one its author wrote down as a near miss, the author's reason is told."""
    path = tmp_path / "case.yaml"
    path.write_text("family: toast\nfault: burnt\nanswers: {loss: 5, timer: not_set}\n", encoding="utf-8")
    data = json.loads(run(capsys, "--rules", str(SMALL), "explain", str(path), "--json")[1])
    missed = {one["rule"]: one for one in data["near_misses"]}
    assert "only mean that the slot was cool" in missed["out_on_the_bell"]["because"]
    assert missed["hot_and_black"]["because"] is None
    text = run(capsys, "--rules", str(SMALL), "explain", str(path))[1]
    assert "rightly so: Without a timer" in text


def test_why_not_names_the_rule_that_removed_a_cause(case: str, capsys: pytest.CaptureFixture[str]):
    """A cause that is ruled out says by what; one that is only behind says how far, and what parts the two."""
    data = json.loads(run(capsys, "--rules", str(SMALL), "explain", case, "--why-not", "dial_low", "--json")[1])
    assert data["ruled_out_by"] == "heat hot rules out dial_low"
    assert data["probability"] == 0
    text = run(capsys, "--rules", str(SMALL), "explain", case, "--why-not", "left_long")[1]
    assert "Why not: The slice was left in too long." in text
    assert "What parts the two" in text


def test_an_answer_the_verdict_rests_on_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """Without the heat the other cause would lead, and explain says so."""
    path = tmp_path / "case.yaml"
    path.write_text("family: toast\nfault: burnt\nanswers: {heat: hot, timer: not_set}\n", encoding="utf-8")
    data = json.loads(run(capsys, "--rules", str(SMALL), "explain", str(path), "--json")[1])
    assert data["first"] == "dial_high"
    assert ("heat", "left_long") in {(one["sign"], one["without"]) for one in data["rests_on"]}


def test_explain_refuses_an_unknown_cause(case: str, capsys: pytest.CaptureFixture[str]):
    """A cause that does not exist is one plain line with the nearest name."""
    code, _, err = run(capsys, "--rules", str(SMALL), "explain", case, "--why-not", "dial_hihg")
    assert code == 2
    assert "did you mean 'dial_high'?" in err


def test_every_shipped_case_can_be_explained(capsys: pytest.CaptureFixture[str]):
    """Each worked case of the rule base is explained without a placeholder left over."""
    paths = sorted(resources.folder("rules").glob("*/cases/*.yaml"))[:6]
    assert paths
    for path in paths:
        code, out, _ = run(capsys, "explain", str(path))
        assert code == 0
        assert "{" not in out


# -- new -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("kind", "folder"), [("cause", "causes"), ("sign", "signs"), ("remedy", "remedies")])
def test_a_new_file_says_itself_what_is_to_fill_in(
    rules: Path, capsys: pytest.CaptureFixture[str], kind: str, folder: str
):
    """The form line comes first, the keys stand in the order of the schema, and check names every gap in the file."""
    code, out, _ = run(capsys, "--rules", str(rules), "new", kind, "toast", f"my_{kind}")
    assert code == 0
    path = rules / "toast" / folder / f"my_{kind}.yaml"
    assert str(path) in out
    text = path.read_text(encoding="utf-8")
    assert text.splitlines()[0] == f"# yaml-language-server: $schema=../../schema/{kind}.schema.json"
    schema = json.loads((resources.folder("rules") / "schema" / f"{kind}.schema.json").read_text(encoding="utf-8"))
    keys = [line.partition(":")[0] for line in text.splitlines() if line[:1].isalpha()]
    assert set(schema["required"]) <= set(keys) <= set(schema["properties"])
    assert all(len(line) <= 130 for line in text.splitlines())
    gaps = {number for number, line in enumerate(text.splitlines(), 1) if "TODO" in line and not line.startswith("#")}
    code, out, err = run(capsys, "check", str(rules))
    told = {int(line.split(":")[1]) for line in (out + err).splitlines() if line.startswith(str(path))}
    assert code in (1, 2)
    assert gaps
    assert gaps <= told


def test_new_never_writes_over_a_file(rules: Path, capsys: pytest.CaptureFixture[str]):
    """A file that is there stays as it is."""
    path = rules / "toast/causes/dial_low.yaml"
    before = path.read_bytes()
    code, _, err = run(capsys, "--rules", str(rules), "new", "cause", "toast", "dial_low")
    assert code == 2
    assert "is there already" in err
    assert path.read_bytes() == before


@pytest.mark.parametrize(("family", "name", "says"), [("tost", "x", "did you mean 'toast'?"), ("toast", "../x", "not a name of the expected form"), ("toast", "A b", "not a name")])  # fmt: skip
def test_new_refuses_a_name_that_is_none(
    rules: Path, capsys: pytest.CaptureFixture[str], family: str, name: str, says: str
):
    """A family that does not exist, and a name that is no id, are one plain line."""
    code, _, err = run(capsys, "--rules", str(rules), "new", "sign", family, name)
    assert code == 2
    assert says in err


def test_a_drawing_outside_its_folder_is_refused():
    """A name that leads out of the folder of drawings is never opened."""
    with pytest.raises(FileNotFoundError):
        resources.drawing("../../settings")
    assert resources.drawing("choux/tile").is_file()
