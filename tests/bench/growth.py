"""What grows, and how fast, when a rule base of the same shape is larger."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from table import Row, exponent, median_ms

from troubleshoot.inference import network, questions
from troubleshoot.inference.engine import Ruleset
from troubleshoot.inference.facts import CompiledRule, Fact, Pattern
from troubleshoot.inference.ranking import Evidence, rank
from troubleshoot.knowledge.kept import KeptFiles
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import Family, RuleBase

TIMES = (1, 2, 5, 10)


def rows(rulebase: RuleBase, repeats: int) -> Iterator[Row]:
    """Yield the exponents, each with the cost at the largest size against the smallest."""
    yield from _families(rulebase.folder, max(2, repeats // 4))
    yield from _causes(rulebase.families["choux"], rulebase, repeats)
    yield from _rules(repeats)


def _families(folder: Path, repeats: int) -> Iterator[Row]:
    """The rule base copied 1, 2, 5 and 10 times: read as a start reads it, one family, and as the check reads it."""
    with tempfile.TemporaryDirectory() as scratch:
        heads, one, whole = [], [], []
        for times in TIMES:
            root = Path(scratch) / str(times)
            root.mkdir()
            for path in folder.glob("*.yaml"):
                shutil.copy(path, root)
            shutil.copytree(folder / "common", root / "common")
            for number in range(times):
                name = "candied-peel" if number == 0 else f"candied-peel-{number}"
                shutil.copytree(folder / "candied-peel", root / name)
                header = root / name / "family.yaml"
                text = header.read_text(encoding="utf-8")
                header.write_text(text.replace("family: candied-peel", f"family: {name}"), encoding="utf-8")
            heads.append(median_ms(lambda root=root: load(root, (), KeptFiles()), repeats))
            one.append(median_ms(lambda root=root: load(root, ("candied-peel",), KeptFiles()), 1))
            whole.append(median_ms(lambda root=root: load(root, None, KeptFiles()), 1) if times < 10 else 0.0)
        sizes = [float(times) for times in TIMES]
        yield _row("families x 1, 2, 5, 10: headers at the start", sizes, heads, "at most 1")
        yield _row("families x 1, 2, 5, 10: opening one of them", sizes, one, "about 0")
        yield _row("families x 1, 2, 5: reading them all", sizes[:3], whole[:3], "about 1")


def _causes(family: Family, rulebase: RuleBase, repeats: int) -> Iterator[Row]:
    """A family with more causes and signs: the network takes pairs of causes, so the square is expected."""
    sizes, built, ranked, asked = [], [], [], []
    for times in (1, 2, 5):
        grown = larger(family, 24, times)
        causes, vocabulary = tuple(grown.causes), rulebase.vocabulary
        nodes = [network.sign_node(grown, sign, causes, vocabulary) for sign in grown.signs]
        made = network.build(causes, [1.0] * len(causes), nodes, vocabulary)
        evidence = [Evidence(sign, grown.signs[sign].answer_ids[0]) for sign in list(grown.signs)[:5]]
        standing = rank(made, evidence)
        sizes.append(float(len(causes)))
        built.append(
            median_ms(
                lambda n=nodes, c=causes: network.build(c, [1.0] * len(c), n, rulebase.vocabulary), max(2, repeats // 4)
            )
        )
        ranked.append(median_ms(lambda made=made, evidence=evidence: rank(made, evidence), repeats))
        asked.append(
            median_ms(
                lambda made=made, standing=standing, grown=grown: [
                    questions.parts(made, standing.posterior, sign, False) for sign in grown.signs
                ],
                max(2, repeats // 4),
            )
        )
    names = ", ".join(f"{size:.0f}" for size in sizes)
    yield _row(f"causes {names}: building the network", sizes, built, "at most 3")
    yield _row(f"causes {names}: ranking five answers", sizes, ranked, "at most 2")
    yield _row(f"causes {names}: weighing every question", sizes, asked, "at most 3")


def larger(family: Family, causes: int, times: int) -> Family:
    """Return a family of ``times`` copies of its first ``causes`` causes and the signs they show, each under new names."""
    first = list(family.causes.values())[:causes]
    signs = {sign for cause in first for sign in cause.shows_as}
    grown_causes, grown_signs = {}, {}
    for copy in range(times):
        for sign in signs:
            grown_signs[f"{sign}_{copy}"] = replace(family.signs[sign], id=f"{sign}_{copy}")
        for cause in first:
            shows = {f"{sign}_{copy}": levels for sign, levels in cause.shows_as.items()}
            grown_causes[f"{cause.id}_{copy}"] = replace(cause, id=f"{cause.id}_{copy}", shows_as=shows)
    return replace(family, causes=grown_causes, signs=grown_signs)


def _rules(repeats: int) -> Iterator[Row]:
    """The engine with more rules, a fixed number of which fire."""
    sizes, fixed, chained = [], [], []
    for count in (40, 80, 200, 400):
        rules = [
            CompiledRule(f"r{i}", f"r{i}", (Pattern("sign", f"s{i}", "x"),), (Fact("finding", f"f{i}"),), "because", ())
            for i in range(count)
        ]
        made = Ruleset(f"growth{count}", rules)
        few = [Fact("sign", f"s{i}", "x") for i in range(20)]
        all_of_them = [Fact("sign", f"s{i}", "x") for i in range(count)]
        sizes.append(float(count))
        fixed.append(median_ms(lambda made=made, few=few: made.run(few), repeats))
        chained.append(median_ms(lambda made=made, facts=all_of_them: made.run(facts), repeats))
    yield _row("rules 40 to 400, of which 20 fire: one run of the engine", sizes, fixed, "about 0")
    yield _row("rules 40 to 400, which all fire: one run of the engine", sizes, chained, "about 1")


def _row(what: str, sizes: list[float], costs: list[float], aim: str) -> Row:
    return Row(f"{what}: exponent {exponent(sizes, costs):.2f}", costs[-1], costs[0], "ms", f"exponent {aim}")
