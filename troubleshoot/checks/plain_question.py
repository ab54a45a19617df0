"""A junior can answer every question: it is short, plain, and asks one thing."""

from __future__ import annotations

import re
from collections.abc import Iterator

from troubleshoot.checks.base import WARNING
from troubleshoot.checks.texts import of_sign
from troubleshoot.knowledge.model import Family, RuleBase
from troubleshoot.problems import Problem

#: A junior of sixteen reads this school grade with ease (formula of Kincaid et al. 1975: words and syllables).
MOST_GRADE = 10.0

#: Words of a sentence, words of a whole question, syllables of a word.
MOST_WORDS, MOST_IN_ALL, MOST_SYLLABLES = 25, 32, 6

#: The formula means nothing for a sentence of so few words.
LEAST_WORDS = 4

_PLACEHOLDER = re.compile(r"\{[^}]*\}")
_SILENT = re.compile(r"(?:[^laeiouy]es|[^tdaeiouy]ed|[^laeiouy]e)$")


class PlainQuestion:
    """Questions and how to look are easy reading."""

    id = "plain-question"
    severity = WARNING
    about = "a question asks one thing in short, plain words"

    def problems(self, family: Family, rulebase: RuleBase) -> Iterator[Problem]:
        """Yield questions that are long, hard, or several at once."""
        for sign in family.signs.values():
            if not sign.asked:
                continue
            for text in of_sign(sign, rulebase):
                if text.key not in ("ask", "ask_later", "look"):
                    continue
                if text.key != "look":
                    for wrong, advice in _form(text.words):
                        yield Problem(text.place, text.subject, wrong, advice)
                for sentence in re.split(r"(?<=[.?!])\s+", text.words):
                    hard = _hard(sentence)
                    if hard is not None:
                        yield Problem(text.place, text.subject, *hard)


def _form(question: str) -> Iterator[tuple[str, str]]:
    if not question.endswith("?"):
        yield "the question does not end with a question mark", "ask one question"
    if question.count("?") > 1:
        yield f"it asks {question.count('?')} questions at once", "ask one, and make a sign of the other"
    count = len(question.split())
    if count > MOST_IN_ALL:
        yield f"the question has {count} words", f"ask it in {MOST_IN_ALL} or fewer, and move the rest to 'look'"


def _hard(sentence: str) -> tuple[str, str] | None:
    words = re.findall(r"[A-Za-z']+", _PLACEHOLDER.sub("10", sentence))
    if len(words) > MOST_WORDS:
        return f"a sentence has {len(words)} words ('{sentence[:40]}…')", f"cut it to {MOST_WORDS} or fewer"
    longest = max(words, key=syllables, default="")
    if longest and syllables(longest) > MOST_SYLLABLES:
        return f"'{longest}' is a hard word", "say it in plain words"
    if len(words) >= LEAST_WORDS and grade(words) > MOST_GRADE:
        return f"a junior stumbles over '{sentence[:60]}' (grade {grade(words):.1f})", "use shorter words"
    return None


def grade(words: list[str]) -> float:
    """Return the school grade at which a sentence of these words is read with ease."""
    return 0.39 * len(words) + 11.8 * sum(syllables(word) for word in words) / len(words) - 15.59


def syllables(word: str) -> int:
    """Return about how many syllables a word has: its groups of vowels, without a silent ending."""
    letters = re.sub(r"[^a-z]", "", word.lower())
    spoken = _SILENT.sub(lambda ending: ending[0][0], letters)
    return max(1, len(re.findall(r"[aeiouy]+", spoken)))
