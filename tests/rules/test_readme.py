"""What the rule base's own guide says is true, and every rule file can be completed by an editor."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import yaml

from troubleshoot import cli, resources
from troubleshoot.checks import run as checks
from troubleshoot.inference.examples import failures
from troubleshoot.inference.reason import Reasoner
from troubleshoot.knowledge.load import load

RULES = resources.folder("rules")
GUIDE = (RULES / "README.md").read_text("utf-8")
MODELINE = re.compile(r"# yaml-language-server: \$schema=(\S+)\n")

#: The schema of each kind of file, by the name of the file or of its folder.
KINDS = {
    "causes": "cause",
    "signs": "sign",
    "remedies": "remedy",
    "rules": "rules",
    "cases": "case",
    "differential": "differential",
    "disputed": "differential",
}


def guide_part(title: str) -> str:
    """Return the part of the guide under a heading."""
    return GUIDE.split(f"## {title}\n", 1)[1].split("\n## ", 1)[0]


def test_every_rule_file_names_its_schema():
    """The first line names the schema of the file's own kind, and the path leads there."""
    wrong = []
    for path in RULES.glob("**/*.yaml"):
        parts = path.relative_to(RULES).parts
        kind = KINDS[parts[1]] if len(parts) == 3 else path.stem
        found = MODELINE.match(path.read_text("utf-8"))
        schema = (path.parent / found[1]).resolve() if found else None
        if schema != RULES / "schema" / f"{kind}.schema.json" or not schema.is_file():
            wrong.append("/".join(parts))
    assert wrong == []


def example_under(title: str) -> str:
    """Return the example that stands indented under a heading."""
    return "\n".join(line[4:] for line in guide_part(title).splitlines() if line.startswith("    "))


def test_the_example_of_a_cause_is_right(tmp_path: Path):
    """Put in place of the real file, the guide's cause passes every check, and its own examples come out."""
    example = example_under("How to write a cause")
    folder = tmp_path / "rules"
    # The differentials tell of the fuller cause that ships.
    shutil.copytree(RULES, folder, ignore=shutil.ignore_patterns("differential"))
    (folder / "choux" / "causes" / "door_opened.yaml").write_text(example + "\n", "utf-8")
    rulebase = load(folder, ("choux",))
    assert [str(f) for f in checks.run(rulebase) if "door_opened" in str(f)] == []
    examples = failures(Reasoner(rulebase.families["choux"], rulebase.vocabulary))
    assert [str(problem) for problem in examples if problem.subject == "door_opened"] == []


def test_the_example_of_a_rule_is_one_that_ships():
    """The guide's rule stands in the rule base as it is shown."""
    (shown,) = yaml.safe_load(example_under("How to write a rule of several answers"))["rules"]
    shipped = yaml.safe_load((RULES / "choux/rules/keeping.yaml").read_text("utf-8"))["rules"]
    assert shown in shipped


def test_the_example_of_a_differential_is_told_so():
    """What the guide's example says of an answer is what the rule base says of it."""
    shown = yaml.safe_load(example_under("The same told the other way round"))["signs"]
    shipped = {(d.sign, d.answer): d for d in load(RULES, ("choux",)).families["choux"].differentials}
    for sign, answers in shown.items():
        for answer, grades in answers.items():
            for grade, causes in grades.items():
                assert set(causes) <= set(getattr(shipped[sign, answer], grade))


def test_the_table_of_strengths_is_that_of_the_vocabulary():
    """Every word of the scale stands in the guide, with its share of a hundred batches to the nearest half."""
    table = dict(re.findall(r"\| `([a-z-]+)` \|[^|]+\| ([\d or]+) \|", guide_part("How strengths are chosen")))
    scale = load(RULES, ()).vocabulary.frequency
    assert set(table) == set(scale)
    for word, shares in table.items():
        low, *_, high = [float(share) for share in (shares.split(" or ") * 2)[:2]]
        assert low <= 100 * scale[word] <= high


def test_every_file_and_command_that_the_guide_names_is_there():
    """The guide's table of files and its commands are those of the program."""
    named = set(re.findall(r"`(?:<family>/)?([a-z]+)/`", GUIDE.split("## ", 1)[0]))
    assert named == {"schema", "common", "signs", "causes", "remedies", "rules", "cases", "differential", "disputed"}
    for name in ("vocabulary.yaml", "sources.yaml", "cautions.yaml", "renamed.yaml"):
        assert (RULES / name).is_file()
    parser = cli.parser()
    for line in ("check", "check --against old", "check --identify", "explain case.yaml --why-not wet"):
        assert parser.parse_args(line.split()).command == line.split()[0]
    assert parser.parse_args(["new", "cause", "choux", "door_opened"]).command == "new"
