"""What the rule base's own guide says is true, and every rule file can be completed by an editor."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

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


def test_the_example_of_a_cause_is_right(tmp_path: Path):
    """Put in place of the real file, the guide's cause passes every check, and its own examples come out."""
    lines = guide_part("How to write a cause").splitlines()
    example = "\n".join(line[4:] for line in lines if line.startswith("    "))
    folder = tmp_path / "rules"
    shutil.copytree(RULES, folder)
    (folder / "choux" / "causes" / "door_opened.yaml").write_text(example + "\n", "utf-8")
    rulebase = load(folder, ("choux",))
    assert [str(f) for f in checks.run(rulebase) if "door_opened" in str(f)] == []
    examples = failures(Reasoner(rulebase.families["choux"], rulebase.vocabulary))
    assert [str(problem) for problem in examples if problem.subject == "door_opened"] == []


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
    assert named == {"schema", "common", "signs", "causes", "remedies", "rules", "cases"}
    for name in ("vocabulary.yaml", "sources.yaml", "cautions.yaml", "renamed.yaml"):
        assert (RULES / name).is_file()
    parser = cli.parser()
    for line in ("check", "check --against old", "check --identify", "explain case.yaml --why-not wet"):
        assert parser.parse_args(line.split()).command == line.split()[0]
    assert parser.parse_args(["new", "cause", "choux", "door_opened"]).command == "new"
