"""What is odd about a log, one kind each, as facts: sentences are made where it is shown.

`entries` and `number` count the entries of the file from 1.
"""

import datetime as dt
from typing import Literal

from prepadvisor.named import NamedTuple


class NoKnew(NamedTuple):
    """Entries of an older version or by hand: they are taken to have known all above them."""

    entries: tuple[int, ...]
    kind: Literal["no-knew"] = "no-knew"


class NewerKeys(NamedTuple):
    """Entries of a newer version carry keys that this one does not know: they are kept, and not read."""

    entries: tuple[int, ...]
    keys: tuple[str, ...]
    kind: Literal["newer-keys"] = "newer-keys"


class KnewBelow(NamedTuple):
    """An entry says it knew one that stands below it: the file was edited by hand."""

    number: int
    knew: int
    kind: Literal["knew-below"] = "knew-below"


class KnewNone(NamedTuple):
    """An entry says it knew one that is not in the file: the file was edited by hand."""

    number: int
    knew: str
    kind: Literal["knew-none"] = "knew-none"


class OutOfTurn(NamedTuple):
    """An entry stands below a later one of the same writer: the file was edited by hand."""

    number: int
    after: int
    kind: Literal["out-of-turn"] = "out-of-turn"


class TwiceThere(NamedTuple):
    """An entry has the id of an earlier one: it does not count again, or was edited by hand if it differs."""

    number: int
    first: int
    is_same: bool
    kind: Literal["twice-there"] = "twice-there"


class TimeBack(NamedTuple):
    """An entry is dated before one that its writer knew: a clock differs, the order of entry stands."""

    number: int
    before: int
    kind: Literal["time-back"] = "time-back"


class Ahead(NamedTuple):
    """An entry is dated over ten minutes ahead of the reader's clock: it does not count until then."""

    number: int
    at: dt.datetime
    kind: Literal["ahead"] = "ahead"


class Unsigned(NamedTuple):
    """Entries without readable initials: nobody stands for them."""

    entries: tuple[int, ...]
    kind: Literal["unsigned"] = "unsigned"


class StruckEntry(NamedTuple):
    """An entry that was taken back; `by_himself` where a one-man shop took back its own adverse look."""

    number: int
    by: int
    by_himself: bool
    kind: Literal["struck-entry"] = "struck-entry"


WhyNotStruck = Literal[
    "no-such-entry", "not-known", "edited", "struck-itself", "not-signed", "not-its-writer", "not-a-lead"
]


class NotStruck(NamedTuple):
    """A strike that does not count, and why; `leads` are those who may."""

    number: int
    of: str
    why: WhyNotStruck
    leads: tuple[str, ...] = ()
    kind: Literal["not-struck"] = "not-struck"


Remark = (
    NoKnew
    | NewerKeys
    | KnewBelow
    | KnewNone
    | OutOfTurn
    | TwiceThere
    | TimeBack
    | Ahead
    | Unsigned
    | StruckEntry
    | NotStruck
)
