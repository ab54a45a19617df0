"""Every sentence that practice says, in one place.

``tr`` puts a phrase into the language of whoever shows it; the window passes Qt's
translation, the terminal nothing.  Sentences are short, and say what to do next time.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

Translate = Callable[[str], str]


def minutes(value: float) -> str:
    """Return minutes without needless decimals."""
    return f"{value:g}" if value == int(value) else f"{value:.1f}"


class Phrases:
    """The sentences, in one language."""

    def __init__(self, tr: Translate = str) -> None:
        self.tr = tr

    # -- amounts -----------------------------------------------------------------------

    def min_words(self, value: float) -> str:
        """Return a number of minutes."""
        tr = self.tr
        return tr("1 minute") if value == 1 else tr("{0} minutes").format(minutes(value))

    def piece_words(self, value: float) -> str:
        """Return a number of pieces."""
        tr = self.tr
        return tr("1 piece") if round(value) == 1 else tr("{0} pieces").format(round(value))

    def cost(self, look_min: float, pieces: float) -> str:
        """Return what a look costs."""
        tr = self.tr
        if pieces:
            return tr("{0}, {1}").format(self.min_words(look_min), self.piece_words(pieces))
        return self.min_words(look_min)

    # -- levels and the story ----------------------------------------------------------

    def level_name(self, level: int) -> str:
        """Return the name of a level."""
        tr = self.tr
        return {
            1: tr("Common and clear"),
            2: tr("A usual day"),
            3: tr("Seldom seen"),
            4: tr("Hard to tell"),
        }[level]

    def level_about(self, level: int) -> str:
        """Return what cases of a level are like."""
        tr = self.tr
        return {
            1: tr("One common mistake, and signs that speak plainly."),
            2: tr("One mistake, not always a common one. Some signs mislead."),
            3: tr("One mistake that few meet. Signs as they come."),
            4: tr("Two mistakes at once, or one that signs hardly settle."),
        }[level]

    def story(self, stage: str, pieces: float, service_min: float, may_be_two: bool) -> tuple[str, ...]:
        """Return how things stand when the batch is handed over."""
        tr = self.tr
        lines = [
            tr("Noticed at: {0}.").format(stage),
            tr("{0} in all. Service in {1}.").format(self.piece_words(pieces), self.min_words(service_min)),
        ]
        if may_be_two:
            lines.append(tr("This is a hard one: there may be two mistakes."))
        return tuple(lines)

    def tally(self, spent_min: float, spent_pieces: float, left_min: float, left_pieces: float) -> str:
        """Return what was spent and what is left."""
        tr = self.tr
        spent = self.cost(spent_min, spent_pieces)
        if left_min <= 0:
            return tr("Spent: {0}. It is past service.").format(spent)
        left = self.cost(left_min, left_pieces)
        return tr("Spent: {0}. Left: {1}.").format(spent, left)

    # -- remedies ----------------------------------------------------------------------

    def kind(self, kind: str) -> str:
        """Return what a remedy is for."""
        tr = self.tr
        return {"now": tr("Save this batch"), "other-use": tr("Use it otherwise"), "remake": tr("Make it again")}[kind]

    def taken(self, saved: float, in_time: bool, helps: bool, barred: bool, why: str) -> str:
        """Return what came of a remedy."""
        tr = self.tr
        if barred:
            return tr("This must not be done here. {0}").format(why).rstrip()
        if not helps:
            return tr("It does not help: what is wrong lies elsewhere. The minutes are gone.")
        if not in_time:
            return tr("It is the right kind of help, and too late for service.")
        if saved < 0.5:
            return tr("It helps, but no piece comes out fit for the plan.")
        return tr("It saves {0}. {1}").format(self.piece_words(saved), why)

    # -- marks -------------------------------------------------------------------------

    def point_name(self, point: str) -> str:
        """Return the name of a marked point."""
        tr = self.tr
        return {
            "cause": tr("The cause"),
            "reason": tr("The reason"),
            "rescue": tr("The rescue"),
            "thrift": tr("Minutes and pieces"),
        }[point]

    def cause(self, right: bool, named: str, at_work: Sequence[str], also_right: bool | None) -> str:
        """Return what to say of the cause named; ``also_right`` is None when no second one was named."""
        tr = self.tr
        if not right:
            return tr("You named “{0}”. It was “{1}”.").format(named, tr("” and “").join(at_work))
        if len(at_work) == 1:
            if also_right is False:
                return tr("Right. The second cause you named was not at work.")
            return tr("Right.")
        other = next((name for name in at_work if name != named), named)
        if also_right:
            return tr("Right, and you found both.")
        return tr("Right. There was a second one too: “{0}”.").format(other)

    def reason(self, right: bool) -> str:
        """Return what to say of the chain chosen."""
        tr = self.tr
        if right:
            return tr("Right: that is how it came about.")
        return tr("Not this one. Read the chain below from the top, and look for each link in the batch.")

    def rescue(self, saved: float, could: float, took: bool, name: str | None) -> str:
        """Return what to say of the rescue; ``name`` is the one the program would have taken, if any."""
        tr = self.tr
        if name is None:
            if took and saved < 0.5:
                return tr("Nothing could be saved in time. Leaving it would have spared the work.")
            return tr("Nothing could be saved in time, and you saw that.") if not took else tr("Well saved.")
        if saved >= could and took:
            return tr("You saved {0}. That was all there was to save.").format(self.piece_words(saved))
        if not took:
            return tr("{0} could still be saved: {1}.").format(self.piece_words(could), name)
        return tr("You saved {0} of {1}. Better here: {2}.").format(round(saved), self.piece_words(could), name)

    def thrift(self, right: bool, mine: str, best: str, share: float) -> str:
        """Return what to say of the minutes and pieces spent on looking."""
        tr = self.tr
        if not right:
            return tr("A quick answer earns nothing when the cause is wrong.")
        if share >= 1.0:
            return tr("You spent {0}. That is as little as it takes.").format(mine)
        return tr("You spent {0}; {1} was enough.").format(mine, best)

    def said(self, passed: bool, right: bool, total: int) -> str:
        """Return the line over the marks."""
        tr = self.tr
        if total >= 100:
            return tr("Full marks.")
        if passed:
            return tr("Passed.")
        return tr("The cause is right. Take care of the rest.") if right else tr("Not yet. See what would have told.")

    def parts(self, because: str, ask: str) -> str:
        """Return what parts the cause from the one taken for it."""
        tr = self.tr
        return tr("{0} Ask: {1}").format(because, ask) if because else tr("Ask: {0}").format(ask)

    def suggestion(self, why: str, wrong: int) -> str:
        """Return why a case is suggested, without a word about its cause."""
        tr = self.tr
        if why == "new":
            return tr("Something new: two mistakes that are easily confused.")
        if why == "early":
            return tr("Nothing is due today. This one would come next.")
        if wrong:
            return tr("You have confused these before. It is time to meet them again.")
        return tr("It is time to see whether this still sits.")

    # -- the questions looked back on --------------------------------------------------

    def step_best(self, why: str, cost: str) -> str:
        """Return why another question would have been better."""
        return self.tr("{0} It costs {1}.").format(why, cost)

    def step_good(self, why: str) -> str:
        """Return what to say of a question as good as any."""
        return self.tr("A good question. {0}").format(why)

    def step_settled(self) -> str:
        """Return what to say of a look after the matter was settled."""
        return self.tr("It was settled already. You could have stopped here.")

    def step_known(self) -> str:
        """Return what to say of a look whose answer was known."""
        return self.tr("What was said before told this already.")

    def step_more(self, why: str, cost: str) -> str:
        """Return what should still have been asked at the end."""
        return self.tr("Not settled yet: one more question was worth it. {0} It costs {1}.").format(why, cost)
