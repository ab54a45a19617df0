"""The whole bench: ``python tests/bench/run.py [--repeats 15] [--all]``.

Prints a table of medians over repeats, with what each is held against in the same run and the ratio, and the machine.
``--all`` then runs the longer benches beside this file: the window, a reload, the book and the practice cases.
"""

from __future__ import annotations

import argparse
import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
sys.path[:0] = [str(HERE), str(ROOT / "tests" / "core" / "inference"), str(ROOT)]
_STORE = tempfile.mkdtemp(prefix="batchmend-bench-")
os.environ["BATCHMEND_CACHE"] = _STORE

import growth  # noqa: E402
import yaml  # noqa: E402
from table import Row, head, machine, median_ms, medians_by_turns  # noqa: E402
from test_engine import Clips  # noqa: E402

from troubleshoot import resources  # noqa: E402
from troubleshoot.inference.examples import case_of  # noqa: E402
from troubleshoot.inference.facts import Case, Fact  # noqa: E402
from troubleshoot.inference.reason import Reasoner  # noqa: E402
from troubleshoot.knowledge.kept import KeptFiles, of_folder  # noqa: E402
from troubleshoot.knowledge.load import load  # noqa: E402
from troubleshoot.knowledge.model import RuleBase  # noqa: E402


class Lean(Clips):
    """The same rules in CLIPS in the quickest way that clipspy knows: slots by name, and nothing taken out but a count."""

    def run(self, facts: Iterable[Fact]) -> int:  # type: ignore[override]
        """Return how many rules fired."""
        self.environment.reset()
        template = self.environment.find_template("fact")
        for fact in facts:
            value = fact.value
            slots = {"word": value} if isinstance(value, str) else {} if value is None else {"amount": float(value)}
            template.assert_fact(kind=fact.kind, name=fact.name, **slots)
        return int(self.environment.run())


#: Run by ``--all`` where they are: the file and its arguments.
LONGER = (("window_times.py",), ("reload_time.py",), ("book_times.py",), ("practice_cases.py",))


def inference(rulebase: RuleBase, repeats: int) -> Iterator[Row]:
    """One inference of each family on its own examples: the engine against CLIPS, and the whole with its ranking."""
    for family in rulebase.families.values():
        reasoner = Reasoner(family, rulebase.vocabulary)
        cases = [case_of(family, example) for cause in family.causes.values() for example in cause.examples][:24]
        facts = [reasoner.working_memory(case) for case in cases]
        by_text = Clips(reasoner.rules.diagnosis), Clips(reasoner.rules.advice)
        by_slot = Lean(reasoner.rules.diagnosis), Lean(reasoner.rules.advice)

        def ours(facts: list[tuple[list[Fact], list[Fact]]] = facts, reasoner: Reasoner = reasoner) -> None:
            for first, second in facts:
                reasoner.diagnosis.run(first)
                reasoner.advice.run(second)

        def theirs(
            engines: tuple[Clips, Clips], facts: list[tuple[list[Fact], list[Fact]]] = facts
        ) -> Callable[[], object]:
            return lambda: [(engines[0].run(first), engines[1].run(second)) for first, second in facts]

        def whole(cases: list[Case] = cases, reasoner: Reasoner = reasoner) -> None:
            for case in cases:
                reasoner.reason(case)

        took = medians_by_turns(
            {"ours": ours, "text": theirs(by_text), "slot": theirs(by_slot), "whole": whole}, repeats
        )
        count = len(cases)
        for way, baseline in (("given as text, all facts read back", "text"), ("given by slots, counted only", "slot")):
            what = f"{family.id}: both rulesets, against CLIPS {way}"
            yield Row(what, took["ours"] / count, took[baseline] / count, aim="1 or less")
        rest = (took["whole"] - took["ours"]) / count
        yield Row(f"{family.id}: ranking and next question", rest, aim="under 10 ms")
        yield Row(f"{family.id}: one answer, everything", took["whole"] / count, aim="16.7 ms with its painting")


def reading(folder: Path, repeats: int) -> Iterator[Row]:
    """Reading one family and all, against CSafeLoader on the same files: parsed before, and for the first time."""
    for family in (("choux",), None):
        files = of_folder(folder)
        load(folder, family, files)
        paths = files.paths()
        took = medians_by_turns(
            {
                "kept": lambda family=family: load(folder, family),
                "first": lambda family=family: load(folder, family, KeptFiles()),
                "bare": lambda paths=paths: [yaml.load(path.read_bytes(), Loader=yaml.CSafeLoader) for path in paths],
            },
            max(3, repeats // 3),
        )
        name = family[0] if family else "all families"
        yield Row(f"reading {name}, parsed before, against CSafeLoader", took["kept"], took["bare"], aim="2 or less")
        yield Row(f"reading {name} for the first time, against CSafeLoader", took["first"], took["bare"])
    rulebase = load(folder, ("choux",))
    yield Row(
        "choux: rules compiled once it is read",
        median_ms(lambda: Reasoner(rulebase.families["choux"], rulebase.vocabulary), 3),
    )


def starts(repeats: int) -> Iterator[Row]:
    """Whole processes: ``--version`` and one diagnosis, against a Python that does nothing."""
    case = str(next((ROOT / "rules" / "choux" / "cases").glob("*.yaml")))
    commands = {
        "bare": [sys.executable, "-c", "pass"],
        "--version": [sys.executable, "-m", "troubleshoot.cli", "--version"],
        "diagnose CASE": [sys.executable, "-m", "troubleshoot.cli", "diagnose", case],
    }
    times: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(max(3, repeats // 3)):
        for name, command in commands.items():
            start = time.perf_counter()
            subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
            times[name].append(1000 * (time.perf_counter() - start))
    found = {name: statistics.median(took) for name, took in times.items()}
    for name in ("--version", "diagnose CASE"):
        yield Row(f"batchmend {name}, against python that does nothing", found[name], found["bare"])


def memory(rulebase: RuleBase) -> Iterator[Row]:
    """The most this process has held so far, and a process that reads and compiles every family and nothing else."""
    program = (
        "from troubleshoot.interview.shelf import Shelf\n"
        "shelf = Shelf()\n"
        "for header in shelf.headers: shelf.reasoner(header.id)\n"
    )
    ours, base = _most_mb(program), _most_mb("import numpy, scipy, yaml\n")
    about = f"{len(rulebase.families)} families read and compiled, against numpy, scipy and yaml alone"
    yield Row(about, ours, base, "MB")
    yield Row("this bench so far", resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, unit="MB")


def _most_mb(program: str) -> float:
    """Return the most memory that a process running ``program`` held, in MB (Linux)."""
    # The peak of getrusage is handed on from the process that starts another; this one begins anew.
    told = "print(next(line for line in open('/proc/self/status') if line.startswith('VmHWM')).split()[1])"
    ended = subprocess.run([sys.executable, "-c", program + told], cwd=ROOT, check=True, capture_output=True, text=True)
    return int(ended.stdout) / 1024


def main() -> int:
    """Run the bench and print its table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--repeats", type=int, default=15)
    parser.add_argument("--all", action="store_true", help="also the window, a reload, the book and the practice cases")
    arguments = parser.parse_args()
    try:
        print(f"{machine()}; medians of {arguments.repeats}")
        print(head())
        rulebase = load(resources.folder("rules"))
        for rows in (
            inference(rulebase, arguments.repeats),
            reading(resources.folder("rules"), arguments.repeats),
            starts(arguments.repeats),
            memory(rulebase),
            growth.rows(rulebase, arguments.repeats),
        ):
            for row in rows:
                print(row, flush=True)
        print(f"{machine()}, at the end")
        for name, *options in LONGER if arguments.all else ():
            if (HERE / name).is_file():
                print(f"\n{name}", flush=True)
                subprocess.run([sys.executable, str(HERE / name), *options], cwd=ROOT, check=False)
    finally:
        shutil.rmtree(_STORE, ignore_errors=True)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
