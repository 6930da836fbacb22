"""Where the line model is asked: where a flake that can be seen comes over a scratch."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from prepadvisor.cases.fact import Value
from prepadvisor.cases.facts import CATEGORIES, CATEGORY, Facts
from prepadvisor.records import COLOURED_SURFACES, NamedTuple

if TYPE_CHECKING:
    from prepadvisor.records import SilenceWhy


class _Asked(NamedTuple):
    """What the line model asks of one fact, and why it is silent elsewhere."""

    fact: str
    values: tuple[Value, ...]
    why: "SilenceWhy"


def _all_but(fact: str, *left_out: Value) -> tuple[Value, ...]:
    return tuple(value for value in CATEGORIES[CATEGORY[fact]].values if value not in left_out)


_ASKED: Final = (
    _Asked("zone", ("colour", "fade"), "no-flake-next"),
    _Asked("next", ("base",), "no-flake-next"),
    _Asked("surface", tuple(sorted(COLOURED_SURFACES)), "surface"),
    _Asked("flake", _all_but("flake", "solid"), "no-flake"),
    _Asked("seen", (True,), "not-seen"),
)

LINE_MODEL_ASKS: Final[Mapping[str, tuple[Value, ...]]] = {asked.fact: asked.values for asked in _ASKED}
"""Where a flake that can be seen comes over a scratch: fact to the values it must have."""


def silence(case: Facts) -> "SilenceWhy | None":
    """Say why the line model has nothing to say of a case, None where it has."""
    return next((asked.why for asked in _ASKED if getattr(case, asked.fact) not in asked.values), None)
