"""The one record every renderer prints from: each fact of a card, already worded, in printing order.

Nothing is decided in a renderer. Text, page and PDF differ in how they lay this out, never in what they say.
Every string is plain text for a person, with units; a renderer escapes it for its own format.
"""

from typing import Literal, NamedTuple

Box = Literal["open", "done", "none"]
"""A tick box still to tick, one ticked already (the check-off has it), or no box because nothing is owed."""


class JobLine(NamedTuple):
    """The top line: which job, which colour, which car, when and by whom."""

    number: str
    colour: str
    paint: str
    vehicle: str
    date: str
    by: str


class HoldNote(NamedTuple):
    """What blocks the job: where in words, why, what mends it. `spots` are the spot ids it stands for."""

    spots: tuple[str, ...]
    where: str
    why: str
    mend: str
    rules: tuple[str, ...]
    lacks: tuple[str, ...]


class Choice(NamedTuple):
    """Something a person has to decide before work starts: what it is about, and the ways there are."""

    places: tuple[str, ...]
    title: str
    ways: tuple[str, ...]


class Tick(NamedTuple):
    """A box to tick with the words beside it; blanks to write in are underscores in the words."""

    says: str
    box: Box = "open"


class Answer(NamedTuple):
    """One of a panel's four big answers: its title, the answer itself, and short lines under it."""

    title: str
    big: str
    small: tuple[str, ...] = ()


class Ladder(NamedTuple):
    """Grit steps of a face or patch from what is on it now; `powder` has a box for each stop of guide coat.

    `steps` is the chain in one string, "P320>P500>P800", that starts with what is on the surface now where
    that was recorded. `powder` has the stops for guide coat, `checks` what to feel or see in the end.
    """

    number: str
    place: str
    title: str
    size: str
    steps: str
    tools: str
    powder: tuple[Tick, ...]
    checks: tuple[Tick, ...]
    says: tuple[str, ...]
    minutes: str
    stop: bool = False


class Row(NamedTuple):
    """One place, or one zone of a place that is split: grades and boxes.

    `hand` and `machine` are a grade, "STOP" on a hold, or "-" where there is no such work. `hand_or_finer`
    says that a finer hand grade will do as well. `mark` is a sign explained in the panel's legend, or empty.
    `need` is how the line is drawn: by hand only, by hand and then DA, or by DA or block alone.
    """

    number: str
    place: str
    feature: str
    kind: str
    name: str
    zones: str
    need: Literal["hand-only", "hand-then-machine", "machine"]
    hand: str
    hand_or_finer: bool
    machine: str
    mark: str
    scuffed: Box
    powder: Box
    sanded: Box
    look: Box
    notes: tuple[str, ...] = ()
    stop: bool = False


class PanelSheet(NamedTuple):
    """One panel. `answers` are always four: face, lines by hand first, hand-only places, wet bed."""

    letter: str
    id: str
    kind: str
    heading: str
    role: str
    condition: str
    zones: tuple[str, ...]
    stop: bool
    answers: tuple[Answer, Answer, Answer, Answer]
    ladders: tuple[Ladder, ...]
    order: tuple[str, ...]
    rows: tuple[Row, ...]
    legend: tuple[str, ...]
    notes: tuple[str, ...]
    film: str
    minutes: str


class Drill(NamedTuple):
    """What to do when something goes wrong: the case, then the steps."""

    case: str
    says: str


class BoothStep(NamedTuple):
    """One step in the booth, in order, with the looks that belong to it."""

    says: str
    ticks: tuple[Tick, ...] = ()


class Fact(NamedTuple):
    """A labelled line such as MIX, DISCS or TIME."""

    label: str
    says: str


class CardSheet(NamedTuple):
    """A whole card in printing order, from the job line to the cautions."""

    head: JobLine
    headline: str
    holds: tuple[HoldNote, ...]
    choices: tuple[Choice, ...]
    taken: tuple[str, ...]
    standing: str
    before_sanding: tuple[Tick, ...]
    panels: tuple[PanelSheet, ...]
    notes: tuple[str, ...]
    drills: tuple[Drill, ...]
    before_paint: tuple[Tick, ...]
    booth: tuple[BoothStep, ...]
    materials: tuple[Fact, ...]
    accepted: tuple[str, ...]
    signatures: tuple[str, ...]
    why: tuple[str, ...]
    deviations: tuple[str, ...]
    rests_on: tuple[str, ...]
    cautions: tuple[str, ...]
