"""Cases for tests of the case book, from one that says everything to one that says next to nothing."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from troubleshoot.casebook.record import GivenAnswer, Outcome, Record, Suspected

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)

FULL = Record(
    id="full-1",
    family="choux",
    begun=NOON,
    finished=NOON + timedelta(minutes=4, microseconds=7),
    fault="piped_spreads",
    stage="pipe",
    answers=(
        GivenAnswer("paste_hang", "runs_off", None, NOON + timedelta(seconds=20)),
        GivenAnswer("panade_loss", None, 2.3, NOON + timedelta(seconds=55)),
        GivenAnswer("egg_measure", None, None, NOON + timedelta(minutes=2)),
    ),
    suspects=(Suspected("egg_overdose", 0.875), Suspected("panade_undried", 0.1), Suspected("oven_cool", 1 / 3)),
    settled=True,
    rules_version="0123456789ab",
    batch=(("egg_g", 330.0), ("flour_g", 150.5)),
    kitchen="lakeside",
    role="pastry commis",
    done=("stiffen_with_panade", "remake_choux"),
    outcome=Outcome.WRONG,
    true_cause="panade_undried",
    pieces=24,
    pieces_saved=18,
    pieces_lost=6,
    minutes=12.5,
    pictures=("tray.jpg", "paste.png"),
    note="Zweite Füllung:\n“zu weich” – 4 °C 🥐\tdone",
    invented=True,
)

BARE = Record(
    id="bare",
    family="shortbread",
    begun=NOON,
    finished=NOON,
    fault=None,
    stage=None,
    answers=(),
    suspects=(),
    settled=False,
    rules_version="",
)


def record(number: int, **changes: Any) -> Record:
    """Return case ``number``: finished so many hours after noon, with one answer and one suspect."""
    at = NOON + timedelta(hours=number)
    plain = replace(
        BARE,
        id=f"case{number}",
        begun=at,
        finished=at,
        fault="crumbles",
        answers=(GivenAnswer("dough_feel", "sandy", None, at),),
        suspects=(Suspected("short_of_butter", 0.75),),
        rules_version="r1",
    )
    return replace(plain, **changes)


def at_random(number: int, seed: int = 1) -> list[Record]:
    """Return so many cases of every kind, the same for the same seed."""
    chance = random.Random(seed)
    return [_random(chance, index) for index in range(number)]


def _random(chance: random.Random, index: int) -> Record:
    begun = NOON + timedelta(microseconds=chance.randrange(10**13))
    causes = chance.sample(["egg_overdose", "panade_undried", "oven_cool", "scale_out"], chance.randrange(5))
    said = causes[0] if causes else None
    outcome = chance.choice(list(Outcome))
    true = {
        Outcome.RIGHT: said,
        Outcome.WRONG: chance.choice([None, "tray_greased"]),
        Outcome.NOT_KNOWN: None,
    }[outcome]
    pieces = chance.choice([None, chance.randrange(1, 200)])
    lost = chance.randrange(pieces + 1) if pieces else None
    answers = tuple(
        GivenAnswer(sign, *_said(chance), begun + timedelta(seconds=position))
        for position, sign in enumerate(chance.sample([f"sign_{n}" for n in range(30)], chance.randrange(9)))
    )
    return Record(
        id=f"r{index}-{chance.randrange(10**6)}",
        family=chance.choice(["choux", "shortbread", "candied-peel"]),
        begun=begun,
        finished=begun + timedelta(seconds=chance.randrange(1000)),
        fault=chance.choice([None, "flat", "runs"]),
        stage=chance.choice([None, "bake"]),
        answers=answers,
        suspects=tuple(Suspected(cause, chance.random()) for cause in causes),
        settled=chance.random() < 0.5,
        rules_version=chance.choice(["r1", "r2"]),
        batch=tuple(
            (name, chance.uniform(0, 500)) for name in chance.sample(["egg_g", "flour_g"], chance.randrange(3))
        ),
        kitchen=chance.choice(["", "lakeside", "boathouse"]),
        role=chance.choice(["", "chef de partie"]),
        done=tuple(chance.sample(["a_remedy", "b_remedy", "c_remedy"], chance.randrange(4))),
        outcome=outcome,
        true_cause=true,
        pieces=pieces,
        pieces_saved=None if pieces is None or lost is None else pieces - lost,
        pieces_lost=lost,
        minutes=chance.choice([None, chance.uniform(0, 90)]),
        pictures=tuple(f"p{n}.jpg" for n in range(chance.randrange(3))),
        note=chance.choice(["", "=1+1", "ein „Wort“", 'a "quoted"\nline']),
        invented=chance.random() < 0.3,
    )


def _said(chance: random.Random) -> tuple[str | None, float | None]:
    return chance.choice(
        [("yes", None), ("no", None), (None, None), (None, chance.uniform(-20, 250)), (None, 0.1 + 0.2)]
    )
