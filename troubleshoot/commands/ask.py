"""``batchmend ask [FAMILY]``: the interview in the terminal, the same flow as the window."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from troubleshoot import profile, settings
from troubleshoot.commands import report
from troubleshoot.commands.output import plain, print_list, print_text
from troubleshoot.errors import UserError
from troubleshoot.inference.facts import CANT_TELL
from troubleshoot.inference.reason import Reasoner
from troubleshoot.interview.session import Session
from troubleshoot.interview.shelf import Shelf
from troubleshoot.interview.state import FAMILY, FAULT, QUESTION
from troubleshoot.interview.views import FaultLine, QuestionView

HELP = (
    "Type a number. Enter alone: can't tell.  b: back.  ?: why this question.  v: verdict now.  q: stop.  "
    "c: change an earlier answer.  s: how far the batch is.  t: time to service.  g: weights and pieces."
)

#: The longest time to service that can be typed: a week.
MOST_MINUTES = 10_080.0


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("ask", help="hold the interview in the terminal")
    command.add_argument("family", nargs="?", metavar="FAMILY")
    command.set_defaults(run=lambda arguments, rules: interview(rules, arguments.family))


def interview(rules: Path, family: str | None, read: Callable[[str], str] | None = None) -> int:
    """Hold an interview.  ``read`` asks the person for a line; end of input ends it without harm."""
    read = read or input
    kitchen = settings.load().settings
    session = Session(Shelf(rules), kitchen.wording())
    session.known, session.known_batch = profile.answers(kitchen), profile.batch(kitchen)
    session.heed = _heed(session, kitchen)
    if family is not None:
        session.choose_family(family)
    try:
        while session.step in (FAMILY, FAULT, QUESTION):
            step = {FAMILY: _family, FAULT: _fault, QUESTION: _question}[session.step]
            if not step(session, read):
                print("Stopped.")
                return 0
    except EOFError:
        print("\nNo more input: this is the verdict as things stand." if session.state.family else "")
        if session.state.family is None:
            return 0
    print()
    report.print_verdict(session.verdict())
    if session.state.fault or session.state.answers:
        _into_book(session, kitchen)
    return 0


def _heed(session: Session, kitchen: settings.Settings) -> Callable[[Reasoner], Reasoner] | None:
    # The database is only loaded for somebody who keeps a book.
    from troubleshoot.casebook.habits import of_kitchen

    return of_kitchen([header.id for header in session.shelf.headers], kitchen)


def _into_book(session: Session, kitchen: settings.Settings) -> None:
    # The database is only loaded once there is a case for it.
    from troubleshoot.casebook import entry

    version = session.shelf.rulebase(session.family.id).version
    record, kept = entry.finish(session.conclusion, session.state, version, kitchen)
    print()
    if kept.in_book:
        print_text(f"This is case {record.id} in the book. When you know whether the verdict was right, say so with")
        print(f"  batchmend book outcome {record.id} right|wrong")
    else:
        print_text(kept.message or "")


def _family(session: Session, read: Callable[[str], str]) -> bool:
    tiles = session.tiles()
    print("\nWhat has gone wrong?")
    print_list([f"{tile.name}. {tile.about}" for tile in tiles])
    line = read("> ").strip()
    if line == "q":
        return False
    index = _number(line, len(tiles))
    if index is None:
        print(f"Type a number from 1 to {len(tiles)}, or q to stop.")
    else:
        _try(lambda: session.choose_family(tiles[index].family))
    return True


def _fault(session: Session, read: Callable[[str], str]) -> bool:
    return _choose_fault(session, read, session.faults())


def _choose_fault(session: Session, read: Callable[[str], str], lines: Sequence[FaultLine]) -> bool:
    print("\nWhat do you see? Type a number, or a word to search (Enter alone: hard to say, b: back, q: stop).")
    stage = ""
    for number, line in enumerate(lines, 1):
        if line.stage != stage:
            stage = line.stage
            print_text(stage)
        print_text(line.say, "  ", f"{number:2}. ")
    typed = read("> ").strip()
    if typed == "q":
        return False
    if typed == "b":
        session.back()
    elif not typed:
        session.choose_fault(None)
    elif (index := _number(typed, len(lines))) is not None:
        session.choose_fault(lines[index].fault)
    else:
        found = [line for line in session.faults() if typed.casefold() in line.words]
        if found:
            return _choose_fault(session, read, found)
        print(plain(f"Nothing here matches '{typed}'. Try another word, or a number."))
    return True


def _question(session: Session, read: Callable[[str], str]) -> bool:
    view = session.question()
    print()
    print_text(view.ask)
    print_text(view.look, "   ")
    if view.cost:
        print_text(view.cost + ".", "   ")
    print_list([card.say for card in view.answers])
    if view.number is not None:
        print_text(
            f"or the number itself after an =, as in ={view.number.low:g} "
            f"(from {view.number.low:g} to {view.number.high:g} {view.number.unit})".replace(" )", ")"),
            "  ",
        )
    print_text(HELP, "  ")
    suspects = session.suspects()
    if suspects:
        print_text("Suspected now: " + "; ".join(f"{s.name} {s.shown}" for s in suspects[:3]), "  ")
    typed = read("> ").strip()
    if typed == "q":
        return False
    ways = {"c": _change, "s": _stage, "t": _service, "g": _batch}
    if typed in ways:
        ways[typed](session, read)
    else:
        _act(session, view, typed)
    return True


def _change(session: Session, read: Callable[[str], str]) -> None:
    """Go to an answer given before, to change it."""
    lines = session.answered()
    if not lines:
        print("Nothing has been answered yet.")
        return
    print_list([f"{line.ask} {line.said}" for line in lines])
    index = _number(read("Which one? > ").strip(), len(lines))
    if index is None:
        print(f"Nothing was changed. Type a number from 1 to {len(lines)}.")
    else:
        session.show(lines[index].sign)


def _stage(session: Session, read: Callable[[str], str]) -> None:
    """Say how far the batch is."""
    stages = session.stages()
    print_list([stage.name + (" (now)" if stage.chosen else "") for stage in stages])
    index = _number(read("How far is it? > ").strip(), len(stages))
    if index is None:
        print(f"Nothing was changed. Type a number from 1 to {len(stages)}.")
    else:
        session.set_stage(stages[index].stage)


def _service(session: Session, read: Callable[[str], str]) -> None:
    """Say in how many minutes it must be on the plate; nothing typed takes it back."""
    typed = read("Minutes until it must be on the plate? > ").strip()

    def give() -> None:
        minutes = _float(typed) if typed else None
        if minutes is not None and not 0 <= minutes <= MOST_MINUTES:
            raise ValueError(f"give 0 to {MOST_MINUTES:g} minutes; nothing was changed")
        session.set_service(minutes)

    _try(give)


def _batch(session: Session, read: Callable[[str], str]) -> None:
    """Give a figure of the batch; nothing typed takes it back."""
    fields = session.batch()
    print_list(
        [f"{one.ask} ({one.unit})" + ("" if one.value is None else f": {one.value:g} {one.unit}") for one in fields]
    )
    index = _number(read("Which one? > ").strip(), len(fields))
    if index is None:
        print(f"Nothing was changed. Type a number from 1 to {len(fields)}.")
        return
    typed = read(f"{fields[index].ask} ({fields[index].unit})? > ").strip()
    _try(lambda: session.set_batch(fields[index].quantity, _float(typed) if typed else None))


def _act(session: Session, view: QuestionView, typed: str) -> None:
    if typed == "b":
        session.back()
    elif typed == "v":
        session.to_verdict()
    elif typed == "?":
        why = session.why_ask()
        print_text(why.sentence)
        for line in why.lines:
            print_text(f"{line.said}: then first {line.leaves[0].name} ({line.leaves[0].shown})", first="- ")
    elif not typed:
        session.answer(CANT_TELL)
    elif (index := _number(typed, len(view.answers))) is not None:
        session.answer(view.answers[index].answer)
    elif typed.startswith("=") and view.number is not None:
        _try(lambda: session.answer(_float(typed[1:])))
    else:
        print(plain(f"'{typed}' is none of the answers.") + f" Type a number from 1 to {len(view.answers)}.")


def _try(action: Callable[[], None]) -> None:
    try:
        action()
    except (UserError, ValueError) as error:
        print_text(str(error))


def _float(text: str) -> float:
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        raise ValueError(f"'{text}' is not a number; nothing was changed") from None


def _number(typed: str, most: int) -> int | None:
    """Return the index that a typed number from 1 to ``most`` stands for."""
    return int(typed) - 1 if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= most else None
