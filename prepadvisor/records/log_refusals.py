"""Why an entry of the log is refused, one kind each, as facts: sentences are made where it is shown."""

import datetime as dt
from typing import Literal

from prepadvisor.named import NamedTuple


class UnknownWord(NamedTuple):
    """A word that is none of the known ones."""

    what: Literal["step", "tool", "result", "panel", "place", "pad"]
    word: str
    known: tuple[str, ...]
    panel: str = ""
    kind: Literal["unknown-word"] = "unknown-word"


class EntryLacks(NamedTuple):
    """Something that every such entry states is not stated."""

    what: Literal["initials", "result", "reason", "which-entry", "why-struck", "offset"]
    results: tuple[str, ...] = ()
    kind: Literal["entry-lacks"] = "entry-lacks"


class OutOfPlace(NamedTuple):
    """Something is stated that an entry of this step does not have."""

    what: Literal["result", "cut", "which-entry", "again"]
    step: str
    kind: Literal["out-of-place"] = "out-of-place"


class WholePanelOnly(NamedTuple):
    """The step is for the whole panel, and a place was named."""

    step: str
    panel: str
    kind: Literal["whole-panel-only"] = "whole-panel-only"


class OnePlaceOnly(NamedTuple):
    """The step is for a place, and only the panel was named."""

    step: str
    panel: str
    places: tuple[str, ...]
    kind: Literal["one-place-only"] = "one-place-only"


class OwnLook(NamedTuple):
    """Every place needs its own look; `renews` where clear ones may be renewed for all."""

    step: str
    lines: bool
    renews: bool = False
    kind: Literal["own-look"] = "own-look"


class NoLineOwes(NamedTuple):
    """No line of the panel asks for the step."""

    panel: str
    step: str
    where: str
    kind: Literal["no-line-owes"] = "no-line-owes"


class NeverLooked(NamedTuple):
    """Looks were to be renewed, and these places were never looked at."""

    places: tuple[str, ...]
    kind: Literal["never-looked"] = "never-looked"


class OnlyClearOfAll(NamedTuple):
    """Something was seen "everywhere": only clear can be said of all places."""

    kind: Literal["only-clear-of-all"] = "only-clear-of-all"


class AheadOfNow(NamedTuple):
    """The time stated is not yet."""

    at: dt.datetime
    now: dt.datetime
    kind: Literal["ahead-of-now"] = "ahead-of-now"


class GradeOrPad(NamedTuple):
    """Both a grade and a pad's name were given."""

    kind: Literal["grade-or-pad"] = "grade-or-pad"


class NoPadsNamed(NamedTuple):
    """A pad's name was given, and the shop file names none."""

    pad: str
    kind: Literal["no-pads-named"] = "no-pads-named"


class NotRead(NamedTuple):
    """A value that its reader refuses, in the reader's words."""

    says: str
    kind: Literal["not-read"] = "not-read"


class NoSuchEntry(NamedTuple):
    """The log has no entry of this id."""

    of: str
    kind: Literal["no-such-entry"] = "no-such-entry"


class WrongHand(NamedTuple):
    """A machine for a step by hand, or a hand tool for a step by machine."""

    step: Literal["scuffed", "sanded"]
    tool: str
    kind: Literal["wrong-hand"] = "wrong-hand"


class HandPlace(NamedTuple):
    """The place is worked by hand only: no powder, or no machine."""

    where: str
    step: Literal["guide-coated", "sanded"]
    kind: Literal["hand-place"] = "hand-place"


class OnFillOnly(NamedTuple):
    """The result is seen on fill, and the place is a line."""

    result: str
    where: str
    kind: Literal["on-fill-only"] = "on-fill-only"


LogRefusal = (
    UnknownWord | EntryLacks | OutOfPlace | WholePanelOnly | OnePlaceOnly | OwnLook | NoLineOwes | NeverLooked
    | OnlyClearOfAll | AheadOfNow | GradeOrPad | NoPadsNamed | NotRead | NoSuchEntry | WrongHand | HandPlace
    | OnFillOnly
)  # fmt: skip
"""Why an entry is refused."""
