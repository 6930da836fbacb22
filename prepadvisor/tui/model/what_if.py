"""What if: a stack of trials over the open job, none of which changes it. One key goes one back."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from prepadvisor.records import FLAKES, TONES, TRIM_KINDS, Advice, GuideCoat, NamedTuple, Place, Reach
from prepadvisor.tui.model.open_job import OpenJob, RefusedError, revised
from prepadvisor.tui.model.panel_edits import with_colour
from prepadvisor.tui.model.says import bed, hand_first, powder
from prepadvisor.tui.model.session import Session, place_of, spots_of

if TYPE_CHECKING:
    from prepadvisor.cases import JudgedColour
    from prepadvisor.standards import House


POWDER: Final[dict[GuideCoat, str]] = {
    "no": "none",
    "before-final": "before the last",
    "after-hand": "after hand work",
    "every-change": "at every change",
}
"""Where guide coat goes on, in words."""
REACH: Final[dict[Reach, str]] = {"machine": "hand, then DA", "hand": "hand only"}
"""Who gets to a place, in words."""


class Trial(NamedTuple):
    """One trial on top of those before it: its words, job, house, extra coats, and the advice under it."""

    says: str
    job: OpenJob
    house: "House"
    extra_coats: int
    advice: Advice


class WhatIf:
    """Trials on the open job. `advice` is what the topmost trial gives, the job's own without any."""

    def __init__(self, session: Session, line_of: Callable[[OpenJob, "House", Advice, int], Advice]) -> None:
        """Start without a trial.

        Args:
            session: the open job.
            line_of: gives the advice with each line risk as it is with so many wet-bed coats more.
        """
        self._session = session
        self._line_of = line_of
        self.trials: list[Trial] = []

    @property
    def says(self) -> str:
        """The trials in words, oldest first; empty without any."""
        return " + ".join(trial.says for trial in self.trials)

    @property
    def advice(self) -> Advice | None:
        """The advice under all trials."""
        return self.trials[-1].advice if self.trials else self._session.advice

    def finer_flake(self, step: int) -> None:
        """Try the next finer flake (step 1) or coarser (step -1) than the one the job is judged by."""
        job, house, _ = self._top()
        now = house.judged(job.colour)
        flake = _stepped(FLAKES, now.flake, step, "flake")
        tried = with_colour(job, flake=flake, flake_um=None, tilt_deg=None, log_sd=None)
        if house.judged(tried.colour).flake == now.flake:
            raise RefusedError(_held_by(now, now.flake))
        self._try(f"{flake.replace('-', ' ')} flake", job=tried)

    def lighter_tone(self, step: int) -> None:
        """Try the next lighter tone (step 1) or darker (step -1)."""
        job, house, _ = self._top()
        now = house.judged(job.colour)
        tone = _stepped(TONES, now.tone, step, "tone")
        tried = with_colour(job, tone=tone)
        if house.judged(tried.colour).tone == now.tone:
            raise RefusedError(_held_by(now, now.tone))
        self._try(f"{tone} tone", job=tried)

    def one_coat_more(self) -> None:
        """Try one wet-bed coat more: what it does to the lines, though it never buys a coarser grade."""
        coats = self._top()[2] + 1
        self._try("one wet-bed coat more", extra_coats=coats)

    def other_pad(self) -> None:
        """Swap the pad of the final DA pass: interface pad off or on."""
        house = self._top()[1]
        soft = house.shop.finishing_tool == "da-soft"
        shop = house.shop.model_copy(update={"finishing_tool": "da" if soft else "da-soft"})
        says = "no interface pad" if soft else "interface pad"
        self._try(says, house=replace(house, shop=shop))

    def handle_off(self) -> None:
        """Take the trim off: no recess or cut-out is left that only a hand reaches."""
        job = self._top()[0]
        panels = tuple(
            revised(
                panel,
                {
                    "feature": tuple(
                        revised(line, {"reach": "machine"}) if line.kind in TRIM_KINDS else line
                        for line in panel.feature
                    )
                },
            )
            for panel in job.panel
        )
        if panels == job.panel:
            raise RefusedError("no handle or trim recess that only a hand reaches is on this job")
        self._try("handle and trim off", job=revised(job, {"panel": panels}))

    def back(self) -> str:
        """Take the last trial away and return its words, empty if there was none."""
        return self.trials.pop().says if self.trials else ""

    def clear(self) -> None:
        """Take all trials away."""
        self.trials.clear()

    def _top(self) -> tuple[OpenJob, "House", int]:
        if self.trials:
            last = self.trials[-1]
            return last.job, last.house, last.extra_coats
        return self._session.job, self._session.house, 0

    def _try(
        self,
        says: str,
        job: OpenJob | None = None,
        house: "House | None" = None,
        extra_coats: int | None = None,
    ) -> None:
        top_job, top_house, top_coats = self._top()
        job, house = job or top_job, house or top_house
        coats = top_coats if extra_coats is None else extra_coats
        if not job.panel:
            raise RefusedError("add a panel first")
        advice = self._session.advise_on(job, house)
        if coats:
            advice = self._line_of(job, house, advice, coats)
        self.trials.append(Trial(says, job, house, coats, advice))


def changes(before: Advice | None, after: Advice | None, place_id: str) -> tuple[str, ...]:
    """Return what differs at a place, in words such as "finish P800 → P1000"."""
    one, other = place_of(before, place_id), place_of(after, place_id)
    if before is None or after is None or one is None or other is None:
        return ()
    both = ((before, one), (after, other))
    pairs = [
        ("finish", *(place.finish or "STOP" for _, place in both)),
        ("by hand first", *(_hand(advice, place) for advice, place in both)),
        ("powder", *(POWDER[powder(advice, place)] for advice, place in both)),
        ("wet bed", *(bed(place.wet_bed.need, place.wet_bed.coats) for _, place in both)),
        ("done by", *(REACH[place.reach] for _, place in both)),
        ("risk that a line shows", *(_risk(advice, place) for advice, place in both)),
    ]
    return tuple(f"{what} {was} → {now}" for what, was, now in pairs if was != now)


def _hand(advice: Advice, place: Place) -> str:
    return hand_first(advice, place) or "none"


def _risk(advice: Advice, place: Place) -> str:
    risks = [spot.line.risk for spot in spots_of(advice, place) if spot.line]
    return f"{max(risks):.2f}" if risks else "none"


def _held_by(now: "JudgedColour", word: str) -> str:
    """Return why a colour is judged as before: three stages, or what the colour book has of it."""
    word = word.replace("-", " ")
    if now.book:
        return f'the colour book has "{now.book}", judged as {word} at least'
    return f"three stages are judged as {word} at least: say two stages first"


def _stepped(order: tuple[str, ...], now: str, step: int, what: str) -> str:
    at = order.index(now) + step
    if not 0 <= at < len(order):
        raise RefusedError(f"{now.replace('-', ' ')} is the last {what} that way")
    return order[at]
