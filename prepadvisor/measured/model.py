"""The probit model of rows: margin ln(A/T) of each as a function of the unknowns, and its curvature."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from prepadvisor.measured.answered import Answered, Places
from prepadvisor.measured.likelihood import (
    DEPTH,
    LAPSE,
    READ,
    SIZE,
    SOLIDS,
    THRESHOLD,
    AnswerBounds,
    Margins,
    Unknowns,
    bounds_of,
)
from prepadvisor.measured.strengths import PanelSetting, Strengths
from prepadvisor.records import DS50_UM, HAND_TOOLS, Constants, PanelRow

if TYPE_CHECKING:
    from prepadvisor.records import Grade
    from prepadvisor.surface import Array

OUTCOME_LAPSE: Final = 0.10
"""As LAPSE, of outcomes and wet looks: nobody looked as closely as at a test panel. Assumption."""

_STEP: Final = 2e-5  # for second slopes of ln A, from analytic first ones
_FAR_STEP: Final = 1e-3  # for those that far moves go by


class ModelFlake(NamedTuple):
    """A flake as the line model takes it, with the colour whose size is unknown, "" where it is known."""

    colour: str
    d50_um: float
    log_sd: float
    tilt_deg: float


class Settings:
    """Ways of preparing panels, ready for the model.

    Args:
        layout: the unknowns.
        constants: what is held fixed: widths, colour coats, distances.
    """

    def __init__(self, layout: Unknowns, constants: Constants) -> None:
        """Start with no setting."""
        self.layout = layout
        self._constants = constants
        self._places: dict[tuple[PanelSetting, int], int] = {}
        self._ready: _Ready | None = None

    def place(
        self,
        flake: ModelFlake,
        tool: str,
        grade: "Grade",
        zone: str,
        coats: int,
        *,
        pad: str = "",
        distance_mm: float | None = None,
        kind: str = "panel",
    ) -> int:
        """Return the place of a setting, which is new or known; arguments as in `PanelRow`."""
        film, sight, place = self._constants.film, self._constants.sight, self.layout.place
        earlier = film.earlier_colour_coats_colour if zone == "colour" else film.earlier_colour_coats_fade
        factor = sight.straight_line_factor if tool in HAND_TOOLS else sight.short_arc_factor
        setting = PanelSetting(
            grain_um=DS50_UM[grade],
            depth=place[f"{DEPTH}{pad or tool}"],
            size=place.get(f"{SIZE}{flake.colour}", -1) if flake.colour else -1,
            d50_um=flake.d50_um,
            log_sd=flake.log_sd,
            tilt_deg=flake.tilt_deg,
            coats=coats,
            earlier=earlier.value,
            line_factor=factor.value,
            distance_mm=distance_mm or sight.viewing_distance_mm.value,
        )
        return self._places.setdefault((setting, place.get(f"{READ}{kind}", -1)), len(self._places))

    def __len__(self) -> int:
        return len(self._places)

    def margins(self, unknowns: "Array") -> Margins:
        """Return m and its slopes of every setting, for unknowns of shape (p,)."""
        ready = self._made_ready()
        place = self.layout.place
        found = ready.strengths.at(unknowns, float(unknowns[place[SOLIDS]]))
        slopes = np.zeros((len(self._places), len(unknowns)))
        slopes[:, place[THRESHOLD]] = -1.0
        slopes[:, place[SOLIDS]] = found.by_solids
        slopes[np.arange(len(self._places)), ready.depth] = found.by_depth
        slopes[ready.sized, ready.size[ready.sized]] = found.by_size[ready.sized]
        slopes[ready.odd, ready.read[ready.odd]] = 1.0
        value = found.value - unknowns[place[THRESHOLD]]
        value[ready.odd] += unknowns[ready.read[ready.odd]]
        return Margins(value, slopes, found.by_left)

    def owners(self, mark: str) -> "Array":
        """Return which unknown of a sort each setting has: 1 among 0, of shape (n, unknowns)."""
        ready = self._made_ready()
        found = np.zeros((len(self._places), len(self.layout.names)))
        match mark:
            case "depth_per_grain.":
                found[np.arange(len(self._places)), ready.depth] = 1.0
            case "flake_um.":
                found[ready.sized, ready.size[ready.sized]] = 1.0
            case _:
                found[:, self.layout.place[SOLIDS]] = 1.0
        return found

    def _made_ready(self) -> "_Ready":
        if self._ready is None or self._ready.strengths.count != len(self._places):
            fixed = self._constants
            strengths = Strengths(
                [setting for setting, _ in self._places],
                fixed.groove.width_per_depth.value,
                fixed.film.colour_set_solids.value,
            )
            depth = np.array([one.depth for one, _ in self._places], dtype=np.intp)
            size = np.array([one.size for one, _ in self._places], dtype=np.intp)
            read = np.array([at for _, at in self._places], dtype=np.intp)
            (sized,), (odd,) = np.nonzero(size >= 0), np.nonzero(read >= 0)
            self._ready = _Ready(strengths=strengths, depth=depth, size=size, sized=sized, read=read, odd=odd)
        return self._ready


class _Ready(NamedTuple):
    """Settings as columns: places of their unknowns, and which rows have a size or a reading among them."""

    strengths: Strengths
    depth: Places
    size: Places
    sized: Places
    read: Places
    odd: Places


class Model(Answered):
    """Rows as settings and answers; rows alike are one with a count.

    Args:
        rows: what was seen.
        flakes: the flake of each row.
        settings: an empty `Settings`; the rows' are added.
        lapse: part of a panel's answers that fall at random; outcomes and wet looks have their own.
    """

    def __init__(
        self, rows: Sequence[PanelRow], flakes: Sequence[ModelFlake], settings: Settings, lapse: float = LAPSE
    ) -> None:
        """Count the rows."""
        self.settings = settings
        three = {row.by for row in rows if row.shows == "barely"}
        cells: dict[tuple[int, float, float, float, float], int] = {}
        self.cell_of: list[int] = []
        counts: list[int] = []
        for row, flake in zip(rows, flakes, strict=True):
            at = settings.place(
                flake, row.tool, row.grade, row.zone, row.coats,
                pad=row.pad, distance_mm=row.distance_mm, kind=row.kind,
            )  # fmt: skip
            steps = row.by in three
            own = lapse if row.kind == "panel" else max(lapse, OUTCOME_LAPSE)
            key = (at, *bounds_of(row.shows, three_steps=steps), 1 / 3 if steps else 1 / 2, own)
            cell = cells.setdefault(key, len(cells))
            if cell == len(counts):
                counts.append(0)
            counts[cell] += 1
            self.cell_of.append(cell)
        table = np.array(list(cells), dtype=np.float64).reshape(-1, 5)
        self._at = table[:, 0].astype(np.intp)
        answers = AnswerBounds(
            table[:, 1], table[:, 2], table[:, 3], table[:, 4], np.array(counts, dtype=np.float64)
        )
        super().__init__(settings.layout, answers)

    def owners(self, mark: str) -> "Array":
        """Return which unknown of a sort each cell has: 1 among 0, of shape (cells, unknowns)."""
        return self.settings.owners(mark)[self._at]

    def margins(self, unknowns: "Array") -> Margins:
        """Return m and its slopes of every cell of like rows."""
        found = self.settings.margins(unknowns)
        return Margins(found.value[self._at], found.slopes[self._at], found.by_left[self._at])

    def bend(self, unknowns: "Array", slopes: "Array", weight: "Array") -> "Array":
        """Return Σ weight · ∂²ln A: a difference of analytic slopes for each sort of unknown.

        A row has one depth, one flake size and one bed: moving all depths at once moves its own.
        """
        names, found = self.layout.names, np.zeros((len(unknowns), len(unknowns)))
        for mark in (DEPTH, SIZE, SOLIDS):
            sort = np.array([name.startswith(mark) for name in names])
            if not sort.any():
                continue
            step = sort * _STEP
            change = (self.margins(unknowns + step).slopes - slopes) / _STEP
            own = self.owners(mark)
            found[sort, :] += own[:, sort].T @ (change * weight[:, None])
        return (found + found.T) / 2.0

    def moved(self, mode: "Array", moves: "Array") -> "Array":
        """Return margins of every cell for moves of the unknowns, ln A to second order; shape (moves, cells).

        By the loss of a coat ψ = −ln(1−φ_s) rather than by its logarithm, in which ln A is nearly straight.
        """
        layout, bed = self.layout, self.layout.place[SOLIDS]
        moves = moves.copy()
        moves[:, bed] = np.expm1(np.clip(moves[:, bed], -8.0, 8.0))  # of β, in parts of ψ
        base = self.margins(mode)
        found: Array = base.value + moves @ base.slopes.T
        for mark in (DEPTH, SIZE, SOLIDS):
            sort = np.array([name.startswith(mark) for name in layout.names])
            if not sort.any():
                continue
            step = sort * _FAR_STEP
            up, down = self.margins(mode + step).slopes, self.margins(mode - step).slopes
            change = (up - down) / (2.0 * _FAR_STEP)
            if mark == SOLIDS:
                change[:, bed] -= base.slopes[:, bed]  # from slopes by ln ψ to those by ψ, in parts of it
            found += 0.5 * (moves @ self.owners(mark).T) * (moves @ change.T)
        return found
