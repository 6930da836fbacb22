"""A replay as rows: one a changed place and one a changed job, before and after side by side."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from prepadvisor.planning.replay import JobDifference, PlaceChange
    from prepadvisor.records.advice import Advice, Place

ReplayRow = dict[str, str | float | int | None]

_PLACE: Final = ("finish", "hand", "wet_bed", "guide_coat", "held_by")
_JOB: Final = ("ml", "discs", "money")
COLUMNS: Final = (
    "kind",
    "job",
    "number",
    "place",
    "ways",
    *(f"{what}_{side}" for what in (*_PLACE, "minutes", *_JOB) for side in ("before", "after")),
    "rules",
    "where",
)
"""The columns; `kind` is "place" or "job", what a row does not have is empty."""


def rows_of(name: str, change: "JobDifference", before: "Advice", after: "Advice") -> Iterator[ReplayRow]:
    """Yield the rows of one job that changes: its places, then the job with its sums."""
    number = before.job.number
    for each in change.changes:
        yield _row("place", name, number, each.place, each.ways) | _place(each, before, after)
    yield _row("job", name, number, "", ()) | {
        "minutes_before": round(change.minutes[0], 2),
        "minutes_after": round(change.minutes[1], 2),
        "ml_before": change.ml[0],
        "ml_after": change.ml[1],
        "discs_before": sum(change.discs[0].values()),
        "discs_after": sum(change.discs[1].values()),
        "money_before": None if change.money is None else round(change.money[0], 2),
        "money_after": None if change.money is None else round(change.money[1], 2),
    }


def _row(kind: str, name: str, number: str, place: str, ways: tuple[str, ...]) -> ReplayRow:
    row: ReplayRow = dict.fromkeys(COLUMNS)
    return row | {"kind": kind, "job": name, "number": number, "place": place, "ways": "|".join(ways)}


def _place(change: "PlaceChange", before: "Advice", after: "Advice") -> ReplayRow:
    row: ReplayRow = {
        "rules": "|".join(dict.fromkeys(cause.rule for cause in change.causes)),
        "where": "|".join(dict.fromkeys(f"{cause.file}:{cause.line}" for cause in change.causes)),
    }
    for side, place, advice in (("before", change.before, before), ("after", change.after, after)):
        if place is not None:
            row |= {f"{what}_{side}": value for what, value in _answers(place, advice).items()}
    return row


def _answers(place: "Place", advice: "Advice") -> ReplayRow:
    bed = place.wet_bed
    held = dict.fromkeys(rule for hold in advice.holds if hold.spot in place.spots for rule in hold.rules)
    return {
        "finish": place.finish,
        "hand": place.hand_coarsest,
        "wet_bed": bed.need if bed.need == "no" else f"{bed.need} {bed.coats}",
        "guide_coat": place.guide_coat,
        "held_by": "|".join(held) or None,
        "minutes": round(place.minutes, 2),
    }
