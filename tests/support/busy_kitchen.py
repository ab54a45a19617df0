"""A kitchen with something in every place where the program keeps anything, and the commands that write."""

from __future__ import annotations

import itertools
import json
import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest
from surroundings import CASE, SMALL, command

from troubleshoot import settings
from troubleshoot.casebook import demo
from troubleshoot.inference.facts import Given
from troubleshoot.interview.state import QUESTION, State
from troubleshoot.interview.store import CaseStore
from troubleshoot.settings import Settings

#: A round of practice from the first line to the last: the verdict, a cause, no second, and why.
ROUND = ("v", "1", "", "1", "1", "1", "1")
IN_HAND = "a" * 32


@dataclass(frozen=True)
class Kitchen:
    """Where everything lies: what the program keeps, what was written out, and a rules folder of one's own."""

    home: Path

    @property
    def data(self) -> Path:
        return self.home / "data"

    @property
    def out(self) -> Path:
        return self.home / "out"

    @property
    def rules(self) -> Path:
        return self.home / "rules"

    def live_in(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """Let this process keep its things here."""
        monkeypatch.setenv("BATCHMEND_DATA", str(self.data))
        monkeypatch.setenv("BATCHMEND_SETTINGS", str(self.home / "settings"))
        monkeypatch.chdir(self.out)


def furnish(kitchen: Kitchen) -> None:
    """Put something in every place.  The kitchen must be lived in."""
    shutil.copytree(SMALL, kitchen.rules)
    settings.save(Settings(kitchen="Lakeside", altitude_m=600.0))
    store = CaseStore()
    asked = State(step=QUESTION, family="choux", fault=None, answers={"x": Given("y")}, asked=("x",))
    store.save(IN_HAND, asked)
    practise = ["practise", "choux", "--case", "3", "--level", "1", "--learner", "Kiwi"]
    for words, typed in (
        (["book", "add", str(CASE)], ()),
        (["book", "export", "sent.jsonl"], ()),
        (["book", "backup", "copy.db"], ()),
        (practise, ROUND),
        (["practice-results", "--learner", "Kiwi", "--export", "kiwi.json"], ()),
        (["practice-set", "set.yaml", "--make", "choux", "--numbers", "3"], ()),
    ):
        assert command(words, typed) == 0, words
    shutil.copy(CASE, kitchen.out / "case.yaml")
    case = json.loads((kitchen.out / "sent.jsonl").read_text(encoding="utf-8"))
    (kitchen.out / "id").write_text(case["id"], encoding="utf-8")
    (kitchen.out / "more.jsonl").write_text(json.dumps(case | {"id": "more"}) + "\n", encoding="utf-8")
    (kitchen.out / "waits.json").write_text(json.dumps(case | {"id": "waits"}) + "\n", encoding="utf-8")
    record = json.loads((kitchen.out / "kiwi.json").read_text(encoding="utf-8"))
    (kitchen.out / "other.json").write_text(json.dumps(record | {"learner": "Plum"}), encoding="utf-8")


#: Every command that writes, with what is typed; {rules} and {id} stand for the rules folder and the case in the book.
WRITING = {
    "profile": (["profile", "altitude=900"], ()),
    "book add": (["book", "add", str(CASE)], ()),
    "book import": (["book", "import", "more.jsonl"], ()),
    "book export": (["book", "export", "new.jsonl"], ()),
    "book export csv": (["book", "export", "--csv", "new.csv"], ()),
    "book backup": (["book", "backup", "deep/new.db"], ()),
    "book restore": (["book", "restore", "copy.db", "--over"], ()),
    "book demo": (["book", "demo"], ()),
    "book outcome": (["book", "outcome", "{id}", "right"], ()),
    "book chart": (["book", "figures", "--chart", "cases", "--to", "new.svg"], ()),
    "plot": (["amounts", "syrup_boiling_point", "sugar_percent=70", "--plot", "new.png"], ()),
    "card": (["card", "choux", "piped_spreads", "--pdf", "deep/new.pdf"], ()),
    "practise": (["practise", "choux", "--case", "4", "--level", "1", "--learner", "Kiwi"], ROUND),
    "results csv": (["practice-results", "--learner", "Kiwi", "--csv", "deep/new.csv"], ()),
    "results export": (["practice-results", "--learner", "Kiwi", "--export", "new.json"], ()),
    "results import": (["practice-results", "--import", "other.json"], ()),
    "practice set": (["practice-set", "new.yaml", "--make", "choux", "--numbers", "3"], ()),
    "new": (["--rules", "{rules}", "new", "cause", "toast", "slot_cold"], ()),
}


def written(kitchen: Kitchen, name: str) -> int:
    """Run one of the commands that write and return its exit code."""
    words, typed = WRITING[name]
    season = demo.season
    case_id = (kitchen.out / "id").read_text(encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        # Of the invented season the first three cases are enough.
        patch.setattr(demo, "season", lambda shelf, seed: itertools.islice(season(shelf, seed), 3))
        return command([word.format(rules=kitchen.rules, id=case_id) for word in words], typed)
