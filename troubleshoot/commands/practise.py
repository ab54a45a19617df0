"""``batchmend practise FAMILY``: a batch to find out about in the terminal, and cause and effect to look through."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar

from troubleshoot import settings
from troubleshoot.commands.output import print_list, print_text
from troubleshoot.errors import CaseError
from troubleshoot.interview.shelf import Shelf
from troubleshoot.practice import cases, schedule
from troubleshoot.practice.cases import CaseKey
from troubleshoot.practice.explorer import Explorer
from troubleshoot.practice.finish import finished
from troubleshoot.practice.record import Finished, LearnerStore, learner_key
from troubleshoot.practice.round import LOOKING, REASON, Round
from troubleshoot.practice.views import LookLine, Marks
from troubleshoot.problems import Place, Problem, choose_from

Read = Callable[[str], str]
Line = TypeVar("Line")

HELP = "Type the number of a look, or a word to search.  r: remedies.  v: the verdict.  s: what was seen.  q: stop."


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("practise", help="find out about a batch made up from the rule base, and be marked")
    command.add_argument("family", metavar="FAMILY")
    command.add_argument("--level", type=int, default=None, help="1 common and clear to 4 hard to tell")
    command.add_argument("--case", type=int, default=None, metavar="N", help="the number of the case")
    command.add_argument("--learner", default=None, metavar="X", help="keep the result under this nickname or number")
    command.add_argument(
        "--explore", metavar="ID", help="print what a mistake does, or what makes a sign or a complaint, instead"
    )
    command.add_argument("--against", metavar="MISTAKE", help="with --explore MISTAKE: print what parts the two")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path, read: Read | None = None) -> int:
    """Explore, or hold one round."""
    shelf = Shelf(rules)
    if arguments.explore is not None:
        return _explore(shelf, arguments)
    reasoner = shelf.reasoner(arguments.family)
    store = LearnerStore()
    if arguments.learner is not None:
        learner_key(arguments.learner)
    key, rival = _key(shelf, arguments, store)
    case = cases.draw_case(reasoner, key)
    practised = Round(reasoner, case, settings.load().settings.wording())
    marks = _Terminal(practised, read or input).hold()
    if marks is None:
        print("Stopped. Nothing was kept.")
        return 0
    _print_marks(marks)
    if arguments.learner is not None:
        version = shelf.rulebase(arguments.family).version
        return _keep(store, arguments.learner, finished(practised, datetime.now(UTC), version, rival), read or input)
    return 0


def _keep(store: LearnerStore, learner: str, done: Finished, read: Read) -> int:
    """Keep a finished round, again and again until it can be kept or is given up; return the exit code."""
    while True:
        try:
            store.add(learner, done)
        except OSError as error:
            print_text(f"The round could not be kept for {learner} ({error.strerror or error}, {error.filename}).")
            try:
                typed = read("Make room, or mend the folder, and press Enter to try again.  q: give it up. > ")
            except EOFError:
                print()
                typed = "q"
            if typed.strip() == "q":
                print_text("The round was not kept.")
                return 2
        else:
            print_text(f"Kept for {learner}.")
            return 0


def _key(shelf: Shelf, arguments: argparse.Namespace, store: LearnerStore) -> tuple[CaseKey, str | None]:
    """Return the case asked for; without a number a learner's next one, else any."""
    family = arguments.family
    if arguments.case is None and arguments.level is None and arguments.learner is not None:
        rounds = store.rounds(arguments.learner)
        suggestion = schedule.next_up(shelf.reasoner(family), rounds, datetime.now(UTC))
        print_text(suggestion.say)
        return suggestion.key, suggestion.rival
    number = arguments.case
    if number is None:
        number = 1 + int(datetime.now(UTC).timestamp()) % cases.MOST_NUMBER
    return cases.checked(CaseKey(family, 1 if arguments.level is None else arguments.level, number)), None


def _explore(shelf: Shelf, arguments: argparse.Namespace) -> int:
    explorer = Explorer(shelf.reasoner(arguments.family), settings.load().settings.wording())
    family, word = explorer.family, arguments.explore
    if arguments.against is not None:
        text = explorer.compare(word, arguments.against).text
    elif word in family.causes:
        text = explorer.mistake(word).text
    elif word in family.signs:
        text = explorer.sign(word).text
    elif word in family.faults:
        text = explorer.fishbone(word).text
    else:
        known = (*family.causes, *family.signs, *family.faults)
        wrong = f"there is no mistake, sign or complaint '{word}'"
        raise CaseError([Problem(Place("explore"), arguments.family, wrong, choose_from(word, known))])
    for line in text.split("\n"):
        bare = line.lstrip(" ")
        print_text(bare, " " * (len(line) - len(bare)))
    return 0


class _Terminal:
    """One round, line by line."""

    def __init__(self, practised: Round, read: Read) -> None:
        self.round, self.read = practised, read

    def hold(self) -> Marks | None:
        """Hold the round; None when it was stopped."""
        story = self.round.story()
        print(f"\n{story.family_name}, level {story.level} ({story.level_name}), case {story.code}")
        print_text(f"“{story.complaint}”")
        for line in story.lines:
            print_text(line)
        lines: tuple[LookLine, ...] | None = self.round.looks()
        try:
            while self.round.step == LOOKING:
                if lines is not None:
                    self._print_looks(lines)
                print_text(HELP)
                typed = self.read("> ").strip()
                if typed == "q":
                    return None
                lines = self._act(typed)
            return self._reason() if self.round.step == REASON else self.round.marks()
        except EOFError:
            print()
            return None

    def _print_looks(self, lines: tuple[LookLine, ...]) -> None:
        numbers = {line.sign: number for number, line in enumerate(self.round.looks(), 1)}
        stage = ""
        for line in lines:
            if line.stage != stage:
                stage = line.stage
                print_text(stage)
            known = f" = {line.shown.say}" if line.shown is not None else f" ({line.cost})"
            print_text(line.ask + known, "  ", f"{numbers[line.sign]:2}. ")
        print_text(self.round.tally().say)

    def _act(self, typed: str) -> tuple[LookLine, ...] | None:
        """Do what was typed and return the looks to list again, if any."""
        looks = self.round.looks()
        if typed == "v":
            self._verdict()
        elif typed == "r":
            self._remedy()
        elif typed == "s":
            return tuple(line for line in looks if line.done)
        elif (index := _number(typed, len(looks))) is not None:
            line = self.round.look(looks[index].sign)
            print_text(line.ask)
            print_text(line.shown.say if line.shown is not None else "", "  ")
            print_text(self.round.tally().say)
        elif typed:
            found = tuple(line for line in looks if typed.casefold() in f"{line.ask} {line.look}".casefold())
            if found:
                return found
            print_text(f"Nothing here matches '{typed}'. Try another word, or a number.")
        else:
            return looks
        return None

    def _remedy(self) -> None:
        lines = tuple(line for line in self.round.remedies() if not line.taken)
        chosen = self._choose(lines, lambda r: r.name, lambda r: f"{r.name} ({r.kind_name}, {r.minutes:g} min)")
        if chosen is not None:
            print_text(self.round.take(chosen.remedy).say)
            print_text(self.round.tally().say)

    def _verdict(self) -> None:
        print("What went wrong?")
        chosen = self._choose(self.round.causes(), lambda c: c.words, lambda c: c.name)
        if chosen is None:
            return
        also = None
        if self.round.case.hard:
            print("Was there a second one? Enter alone: no.")
            also = self._choose(self.round.causes(), lambda c: c.words, lambda c: c.name)
        self.round.decide(chosen.cause, None if also is None else also.cause)

    def _reason(self) -> Marks:
        print("\nHow did it come about?")
        cards = self.round.reasons()
        for card in cards:
            print_text(" ".join(card.links), first=f"{card.number}. ")
        while True:
            index = _number(self.read("> ").strip(), len(cards))
            if index is not None:
                return self.round.choose(cards[index].number)
            print(f"Type a number from 1 to {len(cards)}.")

    def _choose(self, lines: Sequence[Line], words: Callable[[Line], str], say: Callable[[Line], str]) -> Line | None:
        """Let one of some lines be chosen, by number or by a word that narrows them; None goes back."""
        shown = list(lines)
        while True:
            print_list([say(line) for line in shown])
            print_text("Type a number, or a word to search. Enter alone: go back.")
            typed = self.read("> ").strip()
            if not typed:
                return None
            index = _number(typed, len(shown))
            if index is not None:
                return shown[index]
            found = [line for line in lines if typed.casefold() in words(line).casefold()]
            if not found:
                print_text(f"Nothing here matches '{typed}'.")
            shown = found or list(lines)


def _print_marks(marks: Marks) -> None:
    print(f"\n{marks.total} of 100. {marks.said}")
    for point in marks.points:
        print_text(f"{point.name} {point.got}/{point.most}: {point.say}", "  ")
    for name, chain in zip(marks.cause_names, marks.chains, strict=True):
        print_text(f"What went wrong: {name}")
        for number, link in enumerate(chain, 1):
            print_text(link.text, "  ", f"{number}. ")
            if link.seen_words:
                print_text(f"The batch showed: {link.seen_words}", "     ")
    if marks.parts:
        print_text(f"What parts it from “{marks.named_name}”: {marks.parts}")
    if marks.steps:
        print("Your questions:")
    for step in marks.steps:
        print_text(f"{step.ask} {step.shown}".strip() or step.best_ask, "  ", f"{step.number}. ")
        better = "" if step.good or step.settled_before or not step.ask else f"Better here: {step.best_ask} "
        print_text(better + step.why, "     ")
    for remedy in marks.next_time:
        print_text(f"Next time: {remedy}.")


def _number(typed: str, most: int) -> int | None:
    """Return the index that a typed number from 1 to ``most`` stands for."""
    return int(typed) - 1 if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= most else None
