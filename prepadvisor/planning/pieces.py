"""What one panel brings to the advice on its job, kept for as long as the panel stays what it is.

A panel's plan depends on the panel, on what of it is primed, and on house and colour, which one planner
stands for; never on other panels. So a change of one panel plans one panel, however many there are.
"""

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, TypeVar

from prepadvisor.cases import standing, with_lines
from prepadvisor.planning.assumed import PanelAssumed, assumed_of
from prepadvisor.planning.materials import bed_ml
from prepadvisor.planning.panels import plan_panel
from prepadvisor.planning.work.plan import PanelWork, panel_work
from prepadvisor.records import NamedTuple

if TYPE_CHECKING:
    from prepadvisor.planning.planner import Planner
    from prepadvisor.records import (
        Advice,
        Colour,
        Hold,
        HoldKind,
        JobHead,
        Offer,
        Panel,
        PanelAdvice,
        Place,
        Spot,
    )
    from prepadvisor.standards import House

K = TypeVar("K")
V = TypeVar("V")

_LEAST_KEPT: Final = 64
_TIMES_KEPT: Final = 8
"""Of a job so many times as many pieces are kept as it has panels: what was undone or tried comes again."""
_ADVICE_KEPT: Final = 4


class PanelPiece(NamedTuple):
    """A panel's part of the advice.

    Attributes:
        panel: the panel with its lines, the usual ones where it states none.
        advice: its record, with its minutes.
        spots: its spots.
        places: its places, with their minutes.
        holds: what holds on it.
        work: its work; without steps where it is held.
        bed_ml: what its wet bed takes, 0 where none is laid.
        assumed: what is taken for granted on it.
        of_rules: what rules caution of.
        after_primer: what will hold once primer is on, with the places.
    """

    panel: "Panel"
    advice: "PanelAdvice"
    spots: tuple["Spot", ...]
    places: tuple["Place", ...]
    holds: tuple["Hold", ...]
    work: PanelWork
    bed_ml: float
    assumed: PanelAssumed
    of_rules: tuple[str, ...]
    after_primer: dict["HoldKind", tuple[str, ...]]


class PanelOffer(NamedTuple):
    """An offer on a panel, and what the panel's wet bed takes then; None where it says nothing of the bed."""

    offer: "Offer"
    bed_ml: float | None


class Asked(NamedTuple):
    """What an advice depends on: of the log only what is primed, by panel."""

    head: "JobHead"
    colour: "Colour"
    panels: tuple["Panel", ...]
    primed: tuple[frozenset[str], ...]
    house: "House"
    seek_offers: bool

    def is_alike(self, other: "Asked") -> bool:
        """Say whether the same was asked, of the same panels and the same house."""
        return (
            self.house is other.house
            and len(self.panels) == len(other.panels)
            and all(one is another for one, another in zip(self.panels, other.panels, strict=True))
            and (self.head, self.colour, self.primed, self.seek_offers)
            == (other.head, other.colour, other.primed, other.seek_offers)
        )


class KeptPieces:
    """Pieces of the panels lately advised on, each known by the panel itself and not by what it says."""

    def __init__(self) -> None:
        """Keep nothing yet."""
        self._pieces: dict[tuple[int, int, frozenset[str]], tuple[Panel, Planner, PanelPiece]] = {}
        self._offers: dict[int, tuple[PanelPiece, tuple[PanelOffer, ...]]] = {}
        self._advice: list[tuple[Asked, Advice]] = []

    def advice(self, asked: Asked) -> "Advice | None":
        """Return what was advised where the same was asked before, as when only the log grew; else None."""
        return next((known for before, known in self._advice if before.is_alike(asked)), None)

    def keep(self, asked: Asked, advice: "Advice") -> None:
        """Keep an advice for when the same is asked again."""
        self._advice = [(asked, advice), *self._advice[: _ADVICE_KEPT - 1]]

    def piece(self, panel: "Panel", primed: frozenset[str], planner: "Planner") -> PanelPiece:
        """Return the piece of a panel.

        Args:
            panel: the panel as stated.
            primed: its patches that primer is on, by the log.
            planner: house and colour.
        """
        key = (id(panel), id(planner), primed)
        found = self._pieces.pop(key, None)
        if found is None:  # what is kept holds panel and planner, so their ids stay their own
            found = panel, planner, _piece(panel, primed, planner)
        self._pieces[key] = found  # the last one asked for stands last
        return found[2]

    def offers(self, piece: PanelPiece, find: Callable[[], tuple[PanelOffer, ...]]) -> tuple[PanelOffer, ...]:
        """Return the offers on a panel; `find` is only asked where they are not known."""
        found = self._offers.pop(id(piece), None)
        if found is None:
            found = piece, find()
        self._offers[id(piece)] = found
        return found[1]

    def forget(self, panels: int) -> None:
        """Let go of what was not asked for lately, after a job of so many panels."""
        most = max(_LEAST_KEPT, _TIMES_KEPT * panels)
        _shorten(self._pieces, most)
        _shorten(self._offers, most)


def _shorten(known: dict[K, V], most: int) -> None:
    """Let go of what was asked for longest ago."""
    for key in list(known)[: max(0, len(known) - most)]:
        del known[key]


def _piece(panel: "Panel", primed: frozenset[str], planner: "Planner") -> PanelPiece:
    house, shop = planner.house, planner.house.shop
    panel = with_lines(panel, house.outlines)
    plan = plan_panel(standing(panel, primed, shop.lap_mm, shop.ring_mm), planner)
    work = panel_work(plan, planner)
    bed = plan.advice.wet_bed
    after: dict[HoldKind, tuple[str, ...]] = {}
    for hold in plan.later_holds:
        place = hold.spot.rpartition("/")[0]
        after[hold.fact] = tuple(dict.fromkeys((*after.get(hold.fact, ()), place)))
    of_rules = (text for spot in plan.plans for text in spot.decision.cautions)
    return PanelPiece(
        panel=panel,
        advice=plan.advice._replace(minutes=work.sums.get(panel.id, 0.0)),
        spots=tuple(one.spot for one in plan.plans),
        places=tuple(place._replace(minutes=work.sums.get(place.id, 0.0)) for place in plan.places),
        holds=plan.holds,
        work=work,
        bed_ml=bed_ml(bed.area_m2, bed.coats, shop.wet_bed) if bed.coats and work.steps else 0.0,
        assumed=assumed_of(panel, planner.judged, house),
        of_rules=tuple(dict.fromkeys(of_rules)) if work.steps else (),
        after_primer=after if work.steps else {},
    )
