"""Seen before?  The cases in the book that are most like the one in hand.

What two cases share is weighed by what it tells.  An answer weighs as many bits as it moves the causes by: the relative
entropy of the causes after it (each alone, by the rule base's own figures) to the causes before it.  An answer that
both cases gave counts for their likeness in full; a sign that they answered differently counts against it with the
mean of the two answers; a sign that only one of them was asked counts against it by half, because what is asked depends
on what was answered before.  "Can't tell" counts for nothing.  The likeness is the weight that counts for it as a
share of all the weight, 0..1.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from troubleshoot.casebook.record import Outcome, Record
from troubleshoot.casebook.store import Book
from troubleshoot.casebook.sums import AnswerMatrix, SaidWord
from troubleshoot.inference.network import COMPLAINT, Network
from troubleshoot.knowledge.model import Family

#: What a sign that only one of two cases was asked counts against their likeness.
ONLY_ONE = 0.5

#: Cases less alike than this are not shown.
LEAST_ALIKE = 0.4

#: So many cases are shown.
MOST_SHOWN = 5

Answers = Mapping[str, str]
Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Near:
    """A case of the book, how alike it is (0..1), and the signs that were answered alike, the most telling first."""

    record: Record
    alike: float
    shared: tuple[str, ...]

    @property
    def worked(self) -> bool:
        """Whether it is known that the verdict was right and pieces were saved by what was done."""
        return self.record.outcome is Outcome.RIGHT and bool(self.record.done) and bool(self.record.pieces_saved)


def outcome_words(record: Record, cause: Callable[[str, str | None], str], tr: Callable[[str], str] = str) -> str:
    """Return in a sentence whether a verdict was right; ``cause`` gives the name of a family's cause."""
    if record.outcome is Outcome.RIGHT:
        return tr("The verdict was right.")
    if record.outcome is Outcome.WRONG:
        return tr("The verdict was wrong; it was: {0}.").format(cause(record.family, record.true_cause))
    return tr("Nobody has said whether the verdict was right.")


def answers_of(family: Family, record: Record) -> dict[str, str]:
    """Return what a record says of each sign, numbers as the answer of their band, the complaint as ``complaint``.

    "Can't tell" and what the family no longer knows are left out.
    """
    found = {} if record.fault is None else {COMPLAINT: record.fault}
    for given in record.answers:
        said = _answer(family, SaidWord(given.sign, given.answer, given.value))
        if said is not None:
            found[given.sign] = said
    return found


def _answer(family: Family, word: SaidWord) -> str | None:
    sign = family.signs.get(word.sign)
    if sign is None:
        return None
    if word.value is not None and sign.measure is not None:
        band = sign.measure.band(word.value)
        return band.answer if band is not None else None
    return word.answer


def bits(network: Network, node: str, answer: str) -> float:
    """Return by how many bits an answer moves the causes, each alone; 0 for what the network does not know."""
    known = network.nodes.get(node)
    if known is None or (answer not in known.answers and answer not in known.loosely):
        return 0.0
    return float(_moved(network, network.of(node, answer, from_memory=False)[None, :])[0])


def _moved(network: Network, likelihood: Array) -> Array:
    """Return by how many bits each answer moves the causes; ``likelihood`` is (answers, hypotheses)."""
    single = slice(1, 1 + len(network.causes))
    before = network.prior[single] / network.prior[single].sum()
    after = before * likelihood[:, single]
    after = after / after.sum(axis=1, keepdims=True)
    moved: Array = (after * np.log2(np.where(after > 0.0, after, 1.0) / np.where(after > 0.0, before, 1.0))).sum(axis=1)
    return moved


def _all_bits(network: Network) -> dict[tuple[str, str], float]:
    """Return the bits of every precise answer at once."""
    moved = _moved(network, network.likelihood)
    return {
        (node.id, answer): float(moved[network.rows[node.id].start + place])
        for node in network.nodes.values()
        for place, answer in enumerate(node.answers)
    }


def likeness(family: Family, network: Network, answers: Answers, matrix: AnswerMatrix) -> Array:
    """Return how alike each case of the matrix is to the answers in hand, shape (cases,), 0..1."""
    weight = {node: bits(network, node, answer) for node, answer in answers.items()}
    tells = _all_bits(network)
    # For each word of the book: what it counts for, and what it adds to all the weight there is.  At first everything
    # in hand counts as if only this case had been asked; what the other one was asked too is taken out of that again.
    same, whole = np.zeros(len(matrix.words)), np.zeros(len(matrix.words))
    for index, word in enumerate(matrix.words):
        node = word.sign or COMPLAINT
        said = word.answer if node == COMPLAINT else _answer(family, word)
        if said is None:
            continue
        told = tells.get((node, said))
        if told is None:
            told = bits(network, node, said)
        if node not in answers:
            whole[index] = ONLY_ONE * told
        elif said == answers[node]:
            same[index] = told
            whole[index] = told - ONLY_ONE * weight[node]
        else:
            whole[index] = (told + weight[node]) / 2.0 - ONLY_ONE * weight[node]
    alike = _rows(matrix, same)
    total = _rows(matrix, whole) + ONLY_ONE * sum(weight.values())
    found: Array = np.divide(alike, total, out=np.zeros_like(alike), where=total > 1e-9)
    return found


def _rows(matrix: AnswerMatrix, of_word: Array) -> Array:
    """Return the sum of a figure of the words over each row."""
    along = np.concatenate(([0.0], np.cumsum(of_word[matrix.word_nos])))
    sums: Array = along[matrix.starts[1:]] - along[matrix.starts[:-1]]
    return sums


def nearest(
    book: Book, family: Family, network: Network, answers: Answers, but: str | None = None, most: int = MOST_SHOWN
) -> tuple[Near, ...]:
    """Return the cases of the book most like the one in hand, likest first, of equals the newest.

    ``answers`` are those of the case in hand as ``answers_of`` gives them; ``but`` is a case that is left out.  Raises
    BookError when the book cannot be read.
    """
    matrix = book.answer_matrix(family.id)
    alike = likeness(family, network, answers, matrix)
    room = most + 1
    # Only the likest are put in order; equals of the last one taken in are among them, so that the newest comes first.
    least = max(LEAST_ALIKE, float(np.partition(alike, -room)[-room]) if len(alike) > room else 0.0)
    rows = np.flatnonzero(alike >= least - 1e-12)
    rows = rows[np.lexsort((-matrix.case_nos[rows], -np.round(alike[rows], 9)))][:room]
    numbers = matrix.case_nos[rows].tolist()
    records = book.by_numbers(numbers)
    shares = alike[rows].tolist()
    if len(records) != len(numbers):
        # Somebody took a case out of the book meanwhile: one by one it shows which.
        single = [(share, book.by_numbers([number])) for share, number in zip(shares, numbers, strict=True)]
        shares = [share for share, found in single if found]
        records = tuple(record for _, found in single for record in found)
    near = [
        Near(record, share, _shared(family, network, answers, record))
        for share, record in zip(shares, records, strict=True)
        if record.id != but
    ]
    return tuple(sorted(near, key=lambda n: (-round(n.alike, 9), -n.record.finished.timestamp(), n.record.id))[:most])


def _shared(family: Family, network: Network, answers: Answers, record: Record) -> tuple[str, ...]:
    theirs = answers_of(family, record)
    shared = [node for node, said in answers.items() if theirs.get(node) == said and node != COMPLAINT]
    return tuple(sorted(shared, key=lambda node: (-bits(network, node, answers[node]), node)))
