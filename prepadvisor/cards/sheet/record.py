"""The one record every renderer prints from: each fact of a card, already worded, in printing order.

Nothing is decided in a renderer. Text, page and PDF differ in how they lay this out, never in what they say.
Every string is plain text for a person, with units; a renderer escapes it for its own format. `tasks` are ids
of the plan of work: every task that is owed in the card's stage stands at exactly one box.
"""

from typing import Literal

from prepadvisor.records import NamedTuple

BoxState = Literal["open", "done", "held", "none"]
"""Still to tick; ticked, the log has it; logged but may not stand; no box because nothing is owed."""


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


class FoundNote(NamedTuple):
    """What a look or the log found that is not mended: where in words, what, and its mend."""

    place: str
    where: str
    says: str
    mend: str


class ToDecide(NamedTuple):
    """Something a person has to decide before work starts: what it is about, and the ways there are."""

    places: tuple[str, ...]
    title: str
    ways: tuple[str, ...]


class Tick(NamedTuple):
    """A box to tick with the words beside it; blanks to write in are underscores in the words."""

    says: str
    box: BoxState = "open"
    tasks: tuple[str, ...] = ()


class BigAnswer(NamedTuple):
    """One of a panel's four big answers: its title, the answer itself, and short lines under it."""

    title: str
    big: str
    small: tuple[str, ...] = ()


class OrderStep(NamedTuple):
    """One step of the order of work on a panel: its number over all panels, and what is done.

    A step that stands at no row has its own box; `box` is "none" where the rows have the boxes.
    """

    n: int
    says: str
    box: BoxState = "none"
    done: bool = False
    tasks: tuple[str, ...] = ()


class Ladder(NamedTuple):
    """Grit steps ahead of the last one, of a face with its lines or of a patch: a box for powder and pass.

    `steps` is the chain of grades, which starts with what is on the surface now where that was recorded;
    the last step's boxes stand at the rows.
    """

    number: str
    title: str
    steps: tuple[str, ...]
    boxes: tuple[Tick, ...]
    says: tuple[str, ...] = ()


class PlaceRow(NamedTuple):
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
    scuffed: BoxState
    powder: BoxState
    sanded: BoxState
    look: BoxState
    notes: tuple[str, ...] = ()
    stop: bool = False
    tasks: tuple[str, ...] = ()


class DrillText(NamedTuple):
    """What to do when something goes wrong: the case, then the steps."""

    case: str
    says: str


class PanelSheet(NamedTuple):
    """One panel. `answers` are always four: face, lines by hand first, hand-only places, wet bed.

    A panel on hold has `stop`. Where there is nothing to work by, on hold or in another stage, it has no
    order and no rows, and `instead` says why.
    """

    letter: str
    id: str
    kind: str
    heading: str
    role: str
    condition: str
    zones: tuple[str, ...]
    stop: bool
    instead: tuple[str, ...]
    order: tuple[OrderStep, ...]
    answers: tuple[BigAnswer, BigAnswer, BigAnswer, BigAnswer]
    ladders: tuple[Ladder, ...]
    rows: tuple[PlaceRow, ...]
    legend: tuple[str, ...]
    notes: tuple[str, ...]
    drills: tuple[DrillText, ...]
    film: str
    minutes: str


class BoothStep(NamedTuple):
    """One step in the booth, in order, with the looks that belong to it."""

    says: str
    ticks: tuple[Tick, ...] = ()


class Fact(NamedTuple):
    """A labelled line such as MIX, DISCS or TIME."""

    label: str
    says: str


class CardSheet(NamedTuple):
    """A whole card in printing order, from the job line to the cautions.

    `stage` says which stage it is for where there are two; `clear` is what the gate says at its end;
    `ticks_title` stands over the ticks before the coat, `booth_title` over the steps after them.
    """

    head: JobLine
    stage: str
    headline: str
    found: tuple[FoundNote, ...]
    holds: tuple[HoldNote, ...]
    choices: tuple[ToDecide, ...]
    taken: tuple[str, ...]
    house: tuple[str, ...]
    accepted: tuple[str, ...]
    standing: str
    before_sanding: tuple[Tick, ...]
    panels: tuple[PanelSheet, ...]
    notes: tuple[str, ...]
    drills: tuple[DrillText, ...]
    ticks_title: str
    before_paint: tuple[Tick, ...]
    booth_title: str
    booth: tuple[BoothStep, ...]
    materials: tuple[Fact, ...]
    clear: str
    signatures: tuple[str, ...]
    why: tuple[str, ...]
    rests_on: tuple[str, ...]
    cautions: tuple[str, ...]
