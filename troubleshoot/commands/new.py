"""``batchmend new cause|sign|remedy FAMILY NAME``: a file with the keys in order and comments that teach."""

from __future__ import annotations

import argparse
import os
import re
from pathlib import Path
from typing import Any

from troubleshoot.commands.output import plain
from troubleshoot.errors import UserError
from troubleshoot.knowledge.load import load
from troubleshoot.knowledge.model import FamilyHeader
from troubleshoot.problems import choose_from

#: The folder of each kind of file.
FOLDERS = {"cause": "causes", "sign": "signs", "remedy": "remedies"}

_NAME = re.compile(r"[a-z0-9][a-z0-9_.]{0,59}")

CAUSE = """\
# yaml-language-server: $schema=../../schema/cause.schema.json
cause: {name}                     # like the file's name
name: TODO one plain clause a chef would say
stage: {first}                    # where the mistake is made: {stages}
how_common: 3                     # 1 rare, 5 very common, among batches of this family that go wrong
why:                              # a chain: each sentence causes the next, from the mistake to what is seen
  - TODO what was done, and what it does at once
  - says: TODO what follows from that
    seen_as: {{todo_sign: todo_answer}}   # where this link can be seen, felt or measured; one answer or a list
  - TODO what the person sees in the end
# Imagine ten batches with this cause: rarely is none of them, sometimes 2, about-half 5, usually 8, nearly-always all.
shows_as:
  todo_sign: {{todo_answer: usually}}     # only answers that this cause shifts; `batchmend signs {family}` lists them
# ruled_out_by:                   # what cannot be when this cause is at work (drop it when there is nothing)
#   todo_sign: [todo_other_answer]
told_apart_from:                  # one to four causes it is easily taken for, and the sign that parts them
  todo_rival:
    by: todo_sign
    because: TODO one or two sentences on how that sign differs between the two
remedies: [todo_now, todo_next_time]      # at least one for this batch and one for next time
sources: [common_practice]        # from rules/sources.yaml
examples:                         # written from what the trade knows, before looking at the ranking
  - fault: todo_fault             # what such a person complains of
    answers: {{todo_sign: todo_answer}}
    expect: first
  - fault: todo_fault
    answers: {{todo_sign: todo_other_answer}}
    expect: not-first             # a near miss, and the rival that it really is
    instead: todo_rival
"""

SIGN = """\
# yaml-language-server: $schema=../../schema/sign.schema.json
sign: {name}                      # like the file's name
ask: TODO one question that looking, feeling, measuring or remembering answers?
# ask_later: TODO the same question from memory, once it is too late to look?
look: TODO how to look, touch or measure
kind: seen                        # measured, seen, felt or recalled
minutes: 1                        # what the look takes
from: {first}                     # the first stage at which it can be looked at: {stages}
until: {last}                     # the last stage at which it can be looked at
# measure:                        # when a number can be given: bands meet, the first open below, the last open above
#   unit: degC
#   low: 0
#   high: 100
#   bands:
#     - {{answer: cool, below: 40}}
#     - {{answer: warm, at_least: 40}}
answers:                          # each clearly different; base is how often it is seen when nothing is wrong
  as_it_should: {{say: TODO what the person says when all is well, base: usually, normal: true}}
  otherwise: {{say: TODO what the person says when it is not, base: rarely}}
# loosely:                        # a coarse word that leaves finer answers open
#   odd: {{say: Odd in some way, covers: [otherwise, another]}}
"""

REMEDY = """\
# yaml-language-server: $schema=../../schema/remedy.schema.json
remedy: {name}                    # like the file's name
name: TODO what to do, in one line
kind: now                         # now, other-use, remake or next-time
from: {first}                     # the first stage at which this can still be done: {stages}
until: {last}                     # the last such stage
minutes: 10                       # what it takes
saves: 0.8                        # share of the pieces fit for the planned use afterwards; 0 for next-time
# amounts:                        # grams that follow the batch come from a calculation, never by hand
#   - by: share_of_cream          # `batchmend amounts` lists the calculations
#     from: {{cream_g: batch.cream_g, percent: 50}}
steps:                            # one action each, with figures and the sign that tells it is done
  - TODO the first action, with its amount, minutes and temperature
  - TODO the next action, and what they see when it is right
because: TODO why it works, in one or two sentences
not_this:                         # what people are tempted to do, and why it fails
  - TODO a tempting mistake and what comes of it
# cautions: [hot_pan]             # from rules/cautions.yaml, wherever a step can hurt
sources: [common_practice]        # from rules/sources.yaml
"""

TEMPLATES = {"cause": CAUSE, "sign": SIGN, "remedy": REMEDY}

#: What is left to do once the file is filled in.
THEN = {
    "cause": "name it under the complaints it gives in faults.yaml",
    "sign": "give causes a strength for it under 'shows_as'",
    "remedy": "list it under 'remedies' of the causes it helps",
}


def add_to(commands: Any) -> None:
    """Add the command."""
    command = commands.add_parser("new", help="write a new cause, sign or remedy to fill in")
    command.add_argument("kind", choices=sorted(FOLDERS))
    command.add_argument("family", metavar="FAMILY")
    command.add_argument("name", metavar="NAME")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace, rules: Path) -> int:
    """Write the file and say what to do with it."""
    headers = load(rules, ()).headers
    if arguments.family not in headers:
        raise UserError(
            f"batchmend new: there is no family '{arguments.family}'; {choose_from(arguments.family, headers)}"
        )
    path = write(rules, arguments.kind, headers[arguments.family], arguments.name)
    print(plain(f"{path}\nFill in every TODO, {THEN[arguments.kind]}, and run: batchmend check"))
    return 0


def write(rules: Path, kind: str, header: FamilyHeader, name: str) -> Path:
    """Write the file to fill in and return its path.

    Errors: a name that is no id, and a file that is there already.
    """
    if not _NAME.fullmatch(name):
        raise UserError(f"batchmend new: '{name}' is not a name of the expected form; use small letters, digits and _")
    path = rules / header.id / FOLDERS[kind] / f"{name}.yaml"
    stages = [stage.id for stage in header.stages]
    text = TEMPLATES[kind].format(
        name=name, family=header.id, first=stages[0], last=stages[-1], stages=", ".join(stages)
    )
    try:
        # Rules are there for others to read, but not to change.
        path.parent.mkdir(mode=0o755, exist_ok=True)
        handle = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o644)
    except FileExistsError:
        raise UserError(f"batchmend new: {path} is there already; choose another name, or change that file") from None
    except OSError as error:
        raise UserError(f"batchmend new: {path} cannot be written ({error.strerror or error})") from error
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as stream:
            stream.write(text)
    except OSError as error:
        path.unlink()
        raise UserError(f"batchmend new: {path} cannot be written ({error.strerror or error})") from error
    return path
