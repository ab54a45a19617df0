"""The explorer's pictures in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from troubleshoot.knowledge.model import Vocabulary
from troubleshoot.practice.phrases import Translate

if TYPE_CHECKING:
    from troubleshoot.practice.explorer import CompareView, FishboneView, MistakeView, SignView


class ExplorerWords:
    """The words for how often and how common, and the text of each picture."""

    def __init__(self, vocabulary: Vocabulary, tr: Translate = str) -> None:
        self.tr = tr
        self._steps = sorted(((share, word) for word, share in vocabulary.frequency.items()), reverse=True)

    def often(self, share: float) -> str:
        """Return the word of the frequency scale that a share is nearest to."""
        if share <= 0.0:
            return self.tr("never")
        _, word = min(self._steps, key=lambda step: abs(step[0] - share))
        return self._often_words().get(word, word)

    def _often_words(self) -> Mapping[str, str]:
        tr = self.tr
        return {
            "nearly-always": tr("nearly always"),
            "usually": tr("usually"),
            "about-half": tr("about half the time"),
            "sometimes": tr("sometimes"),
            "rarely": tr("rarely"),
        }

    def common(self, step: int) -> str:
        """Return how common a mistake is, in words."""
        tr = self.tr
        return {
            1: tr("rare"),
            2: tr("seldom"),
            3: tr("now and then"),
            4: tr("common"),
            5: tr("very common"),
        }[step]

    def mistake(self, view: MistakeView) -> str:
        """Return what a mistake does, in sentences."""
        return "\n".join(self._mistake(view))

    def _mistake(self, view: MistakeView) -> Iterator[str]:
        tr = self.tr
        yield tr("{0}.").format(view.name)
        yield tr("Made at: {0}. How common: {1}.").format(view.stage, view.common)
        yield tr("What it does:")
        for number, link in enumerate(view.chain, 1):
            yield f"  {number}. {link.text}"
            for showing in link.shows:
                said = tr("Seen as: {0} ({1})").format(showing.words, self.often(showing.share))
                yield f"     {said}"
        yield tr("How it shows:")
        for group in view.signs:
            yield f"  {group.stage}"
            for sign in group.signs:
                line = tr("{0} {1} ({2}, and no fault)") if sign.normal else tr("{0} {1} ({2})")
                yield "    " + line.format(sign.ask, sign.say, sign.often)
        if view.complaints:
            yield tr("What people say:")
            for _, say, often in view.complaints:
                yield f"  {say} ({often})"
        if view.excluded:
            yield tr("It was not this, when:")
            for _, ask, _, say in view.excluded:
                yield f"  {ask} {say}"
        if view.rivals:
            yield tr("Easily taken for:")
            for rival in view.rivals:
                yield f"  {rival.name}"
        if view.remedies:
            yield tr("What helps:")
            for remedy in view.remedies:
                yield f"  {remedy}"

    def sign(self, view: SignView) -> str:
        """Return what can make a sign, in sentences."""
        return "\n".join(self._sign(view))

    def _sign(self, view: SignView) -> Iterator[str]:
        tr = self.tr
        yield view.ask
        yield view.look
        for answer in view.answers:
            yield tr("{0} (as it should be):").format(answer.say) if answer.normal else tr("{0}:").format(answer.say)
            for cause in answer.causes:
                yield f"  {cause.name} ({cause.often})"
            if not answer.causes:
                yield "  " + tr("No mistake here makes it so.")
            for named in answer.excludes:
                yield "  " + tr("It was not: {0}").format(named.name)

    def compare(self, view: CompareView) -> str:
        """Return what parts two mistakes, in sentences."""
        return "\n".join(self._compare(view))

    def _compare(self, view: CompareView) -> Iterator[str]:
        tr = self.tr
        yield tr("A: {0}.").format(view.first.name)
        for number, link in enumerate(view.first_chain, 1):
            yield f"  {number}. {link}"
        yield tr("B: {0}.").format(view.second.name)
        for number, link in enumerate(view.second_chain, 1):
            yield f"  {number}. {link}"
        yield tr("What parts them:") if view.parts else tr("Nothing that can be asked parts them.")
        for part in view.parts:
            yield "  " + tr("{0} {1}: A {2}, B {3}.").format(part.ask, part.say, part.first_often, part.second_often)
            if part.because:
                yield f"    {part.because}"
        if view.alike:
            yield tr("What does not part them:")
            for ask in view.alike:
                yield f"  {ask}"

    def fishbone(self, view: FishboneView) -> str:
        """Return what can cause a complaint, in sentences."""
        return "\n".join(self._fishbone(view))

    def _fishbone(self, view: FishboneView) -> Iterator[str]:
        tr = self.tr
        yield tr("{0}. Noticed at: {1}.").format(view.say, view.stage)
        for group in view.stages:
            yield tr("{0}:").format(group.stage)
            for cause in group.causes:
                yield f"  {cause.name} ({cause.often})"
