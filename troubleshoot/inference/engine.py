"""The one adapter between our rules and durable-rules.

What the engine cannot do is guarded here, as measured on version 2.0.28:
registering more than 512 distinct names fails or never returns (we refuse at
480); deleting a session in which no rule ever fired frees memory that was never
set and crashes the process, sooner or later (every session begins with a fact
that fires a rule of ours); the host starts timer threads that could run an action beside ours (they are not
started); a fact no rule reads raises an error (such facts are not asserted);
each host keeps memory for ever (one host a process); numbers are read as the
system's language writes them, so that with a decimal comma 2.2 is taken for 2 (numbers
are set to be written with a point before it is given any).
"""

from __future__ import annotations

import contextlib
import hashlib
import itertools
import locale
import threading
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from durable.engine import Host, MessageNotHandledException

from troubleshoot.errors import BugError
from troubleshoot.inference.facts import CompiledRule, Fact, Firing, Pattern

#: More distinct names than this in one ruleset are refused; the engine fails beyond 512.
MOST_NAMES = 480

#: The longest name or answer the engine is given.
MOST_CHARACTERS = 200

#: The fact that opens every session, and the key of the rule that it fires.
OPENING, OPENING_RULE = Fact("session", "opened"), "session opened"


class _QuietHost(Host):  # type: ignore[misc]
    """A host without the timer threads: we use no timers, and actions must run on the caller's thread."""

    def _run(self) -> None:
        """Start nothing."""


_host = _QuietHost()
_lock = threading.RLock()
_sessions = itertools.count(1)
_registrations = itertools.count(1)
_registered: dict[str, Ruleset] = {}


class Ruleset:
    """Compiled rules registered with the engine once, run on as many sets of facts as wanted."""

    def __init__(self, name: str, rules: Sequence[CompiledRule]) -> None:
        names = {(pattern.kind, pattern.name) for rule in rules for pattern in rule.patterns}
        if len(names) > MOST_NAMES:
            raise BugError(
                f"the rules of {name} name {len(names)} different things; the engine takes {MOST_NAMES}: "
                "split the family, or let fewer rules depend on remedies"
            )
        self._rules = {rule.key: rule for rule in rules}
        if len(self._rules) != len(rules):
            raise BugError(f"two rules of {name} share a key")
        self._read = names
        self._fired: list[Firing] = []
        self._known: set[Fact] = set()
        self._seen_rules: set[str] = set()
        # A name cannot be registered twice, and a reloaded rule base keeps its families' names.
        self._name = f"{name}_{next(_registrations)}"
        definition = {rule.key: {"all": _all(rule.patterns), "run": self._action(rule)} for rule in rules}
        definition[OPENING_RULE] = {"all": _all([Pattern(OPENING.kind, OPENING.name)]), "run": lambda _: None}
        with _lock:
            _write_numbers_with_a_point()
            _host.set_rulesets({self._name: definition})

    def run(self, facts: Iterable[Fact]) -> tuple[Firing, ...]:
        """Chain forward from ``facts`` and return every firing, in order, whatever the order of ``facts``."""
        with _lock:
            _write_numbers_with_a_point()
            session = str(next(_sessions))
            self._fired, self._known, self._seen_rules = [], set(), set()
            messages = [self._message(fact, session) for fact in sorted(set(facts), key=_order) if self._is_read(fact)]
            self._known.update(facts)
            if not messages:
                return ()
            self._assert(self._message(OPENING, session))
            try:
                for message in messages:
                    self._assert(message)
            finally:
                _host.delete_state(self._name, session)
            return tuple(self._fired)

    def _assert(self, message: dict[str, Any]) -> None:
        """Assert one fact; a number in no rule's bounds or an answer no rule waits for changes nothing."""
        with contextlib.suppress(MessageNotHandledException):
            _host.assert_fact(self._name, message)

    def _is_read(self, fact: Fact) -> bool:
        return (fact.kind, fact.name) in self._read

    def _message(self, fact: Fact, session: str) -> dict[str, Any]:
        if len(fact.name) > MOST_CHARACTERS or (isinstance(fact.value, str) and len(fact.value) > MOST_CHARACTERS):
            raise BugError("a fact with an overlong text reached the engine")
        message: dict[str, Any] = {"sid": session, f"{fact.kind}_name": fact.name}
        if isinstance(fact.value, str):
            message["word"] = fact.value
        elif fact.value is not None:
            message["amount"] = float(fact.value)
        return message

    def _action(self, rule: CompiledRule) -> Callable[[Any], None]:
        def fire(context: Any) -> None:
            # A rule whose alternatives both hold fires once: what it concludes is the same.
            if rule.id in self._seen_rules:
                return
            self._seen_rules.add(rule.id)
            woken_by = tuple(_fact(message) for message in _messages(context))
            self._fired.append(Firing(rule.id, rule.because, woken_by, rule.concludes, rule.sources))
            for fact in rule.concludes:
                if fact not in self._known:
                    self._known.add(fact)
                    if self._is_read(fact):
                        self._assert(self._message(fact, context.s.sid))

        return fire


def _write_numbers_with_a_point() -> None:
    """Let C read and write numbers with a decimal point in this process; a window's toolkit may have changed it."""
    # What people see does not follow this setting: the window writes numbers and dates by rules of its own.
    if locale.localeconv()["decimal_point"] != ".":
        locale.setlocale(locale.LC_NUMERIC, "C")


def ruleset(name: str, rules: Sequence[CompiledRule]) -> Ruleset:
    """Return the ruleset for these rules, registered once a process."""
    key = name + hashlib.sha256(repr(rules).encode()).hexdigest()
    with _lock:
        if key not in _registered:
            _registered[key] = Ruleset(name, rules)
        return _registered[key]


def _all(patterns: Sequence[Pattern]) -> list[dict[str, Any]]:
    return [{f"c_{index}": {"$and": _tests(pattern)}} for index, pattern in enumerate(patterns)]


def _tests(pattern: Pattern) -> list[dict[str, Any]]:
    tests: list[dict[str, Any]] = [{f"{pattern.kind}_name": pattern.name}]
    if pattern.value is not None:
        tests.append({"word": pattern.value})
    if pattern.at_least is not None:
        tests.append({"$gte": {"amount": float(pattern.at_least)}})
    if pattern.below is not None:
        tests.append({"$lt": {"amount": float(pattern.below)}})
    if len(tests) == 1:
        tests.append({"$ex": {"sid": 1}})
    return tests


def _messages(context: Any) -> list[dict[str, Any]]:
    index, found = 0, list[dict[str, Any]]()
    while True:
        message = getattr(context, f"c_{index}", None)
        if message is None:
            return found
        found.append(dict(message.items()))
        index += 1


def _fact(message: dict[str, Any]) -> Fact:
    key = next(key for key in message if key.endswith("_name"))
    value = message.get("word", message.get("amount"))
    return Fact(key.removesuffix("_name"), message[key], float(value) if isinstance(value, int) else value)


def _order(fact: Fact) -> tuple[str, str, str]:
    return (fact.kind, fact.name, str(fact.value))
