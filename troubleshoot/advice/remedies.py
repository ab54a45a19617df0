"""Remedies chosen and priced: pieces on the plate by service, minutes, grams, and what not to try."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from troubleshoot.advice import amounts
from troubleshoot.advice.wording import Wording
from troubleshoot.inference.conclusion import Conclusion
from troubleshoot.knowledge.model import Family, Quantity, Remedy, Vocabulary

#: Pieces reckoned with when the family states no usual number.
PIECES_IF_UNKNOWN = 10.0


@dataclass(frozen=True, slots=True)
class RemedyAdvice:
    """A remedy for this batch, in words.

    ``pieces_saved`` is the expected number of pieces fit for the plan, given how sure
    the causes are; ``ready_in_min`` counts what is left of the making afterwards;
    ``in_time`` is None when nobody said when service is.  ``figures`` are the batch
    figures that the amounts rest on, each with the value assumed for it, None when it was given or is missing.
    """

    remedy: str
    name: str
    kind: str
    urgent: bool
    steps: tuple[str, ...]
    minutes: float
    ready_in_min: float
    pieces_saved: float
    in_time: bool | None
    because: str
    not_this: tuple[str, ...]
    cautions: tuple[str, ...]
    assumed: tuple[str, ...]
    missing: tuple[str, ...]
    notes: tuple[str, ...]
    causes: tuple[str, ...]
    sources: tuple[str, ...]
    figures: Mapping[str, float | None]


def advise(
    family: Family, conclusion: Conclusion, wording: Wording, vocabulary: Vocabulary
) -> tuple[RemedyAdvice, ...]:
    """Return the remedies on offer, best first: what is urgent, then by pieces on the plate, then next time."""
    shares = _shares(family, conclusion)
    advice = [_one(family, conclusion, wording, family.remedies[r], shares.get(r, {})) for r in conclusion.remedies]
    return tuple(sorted(advice, key=lambda one: _order(one, vocabulary.remake_share)))


def _order(advice: RemedyAdvice, remake_share: float) -> tuple[int, float, float, str]:
    # Next-time advice follows the likeliest cause; the rest competes by pieces on the plate, then by minutes.
    if advice.urgent:
        return (-1, 0.0, advice.minutes, advice.remedy)
    if advice.kind == "next-time":
        return (1, -advice.pieces_saved, advice.minutes, advice.remedy)
    worth = advice.pieces_saved * (remake_share if advice.kind == "remake" else 1.0)
    return (0, -round(worth, 6), advice.minutes, advice.remedy)


def _shares(family: Family, conclusion: Conclusion) -> dict[str, dict[str, float]]:
    """For each remedy the live causes it helps, with their probability."""
    shares: dict[str, dict[str, float]] = {}
    for suspect in conclusion.suspects:
        for remedy in family.causes[suspect.cause].remedies:
            shares.setdefault(remedy, {})[suspect.cause] = suspect.probability
    return shares


def _one(
    family: Family, conclusion: Conclusion, wording: Wording, remedy: Remedy, helped: Mapping[str, float]
) -> RemedyAdvice:
    case = conclusion.case
    worked = amounts.work_out(remedy, case, family.header)
    ready_in = remedy.minutes + _left_to_do(family, conclusion, remedy)
    in_time = None if case.service_in_min is None else ready_in <= case.service_in_min
    reach = _reach(family, conclusion, remedy, helped)
    plate = pieces(family, conclusion) * remedy.saves * reach
    if remedy.kind == "next-time":
        plate = reach
    elif in_time is False:
        plate = 0.0
    return RemedyAdvice(
        remedy=remedy.id,
        name=wording.text(remedy.name),
        kind=remedy.kind,
        urgent=remedy.urgent,
        steps=tuple(wording.text(step, worked.figures) for step in remedy.steps),
        minutes=remedy.minutes,
        ready_in_min=ready_in,
        pieces_saved=round(plate, 3),
        in_time=in_time,
        because=wording.text(remedy.because),
        not_this=tuple(wording.text(text) for text in remedy.not_this),
        cautions=remedy.cautions,
        assumed=_quantities(family.header.batch, worked.assumed, wording),
        missing=worked.missing,
        notes=worked.notes,
        causes=tuple(helped),
        sources=remedy.sources,
        figures=_figures(remedy, worked),
    )


def _reach(family: Family, conclusion: Conclusion, remedy: Remedy, helped: Mapping[str, float]) -> float:
    """Return the chance that the remedy meets what is wrong: all of it for a remake, and for what a rule calls for."""
    called_for = {rule.id for rule in family.rules for c in rule.then if c.kind == "offer" and c.name == remedy.id}
    if remedy.kind == "remake" or any(firing.rule in called_for for firing in conclusion.trace):
        return 1.0
    return min(1.0, sum(helped.values()))


def _figures(remedy: Remedy, worked: amounts.WorkedAmounts) -> dict[str, float | None]:
    """Return the batch figures that a remedy's amounts are worked out from, with what was assumed for each."""
    inputs = [source for amount in remedy.amounts for source in amount.inputs.values() if isinstance(source, str)]
    names = [source.split(".", 1)[1] for source in inputs if source.startswith("batch.")]
    return {name: worked.assumed.get(name) for name in names}


def pieces(family: Family, conclusion: Conclusion) -> float:
    """Return how many pieces the batch makes: as said, or the family's usual number."""
    given = conclusion.case.batch.get("pieces")
    if given is not None:
        return given
    usual = next((q.usual for q in family.header.batch if q.id == "pieces"), None)
    return usual if usual is not None else PIECES_IF_UNKNOWN


def _left_to_do(family: Family, conclusion: Conclusion, remedy: Remedy) -> float:
    """Minutes from the stage the batch is at to the plate; a remake counts its own."""
    if remedy.kind in ("remake", "next-time") or conclusion.stage is None:
        return 0.0
    return family.header.stages[family.header.stage_index(conclusion.stage)].to_plate_min


def _quantities(batch: Sequence[Quantity], figures: Mapping[str, float], wording: Wording) -> tuple[str, ...]:
    known = {quantity.id: quantity for quantity in batch}
    return tuple(
        f"{known[name].ask[0].lower()}{known[name].ask[1:]} {wording.quantity(value, known[name].unit)}"
        for name, value in figures.items()
        if name in known
    )
