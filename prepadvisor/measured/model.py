"""The probit model of rows: margin ln(A/T) of each as a function of the unknowns, and its curvature."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from prepadvisor.measured.likelihood import (
    DEPTH,
    LAPSE,
    READ,
    SCATTER,
    SIZE,
    SOLIDS,
    THRESHOLD,
    AnswerBounds,
    LogLikelihood,
    Unknowns,
    bounds_of,
    log_likelihood,
)
from prepadvisor.measured.strengths import PanelSetting, Strengths
from prepadvisor.named import NamedTuple
from prepadvisor.records import DS50_UM, HAND_TOOLS, Constants, PanelRow

if TYPE_CHECKING:
    from prepadvisor.measured.numerics import Curved
    from prepadvisor.records import Grade
    from prepadvisor.surface import Array

OUTCOME_LAPSE: Final = 0.10
"""As LAPSE, of outcomes and wet looks: nobody looked as closely as at a test panel. Assumption."""

Places = np.ndarray[tuple[int, ...], np.dtype[np.intp]]

_STEP: Final = 1e-4  # for second slopes of ln A, from analytic first ones


class ModelFlake(NamedTuple):
    """A flake as the line model takes it, with the colour whose size is unknown, "" where it is known."""

    colour: str
    d50_um: float
    log_sd: float
    tilt_deg: float


class Margins(NamedTuple):
    """m = ln(A/T) of rows, its slopes by the unknowns (n, unknowns), and its slope by ln B."""

    value: "Array"
    slopes: "Array"
    by_left: "Array"


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


class Model:
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
        self.layout = settings.layout
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
        self.answers = AnswerBounds(
            table[:, 1], table[:, 2], table[:, 3], table[:, 4], np.array(counts, dtype=np.float64)
        )

    @property
    def cells(self) -> "Array":
        """How many rows each cell of like rows has; shape (cells,)."""
        return self.answers.times

    def owners(self, mark: str) -> "Array":
        """Return which unknown of a sort each cell has: 1 among 0, of shape (cells, unknowns)."""
        return self.settings.owners(mark)[self._at]

    def margins(self, unknowns: "Array") -> Margins:
        """Return m and its slopes of every cell of like rows."""
        found = self.settings.margins(unknowns)
        return Margins(found.value[self._at], found.slopes[self._at], found.by_left[self._at])

    def objective(self, unknowns: "Array") -> "Curved":
        """Return −ln posterior (up to a constant) with its gradient and a positive curvature.

        The curvature leaves out that ln A is bent, and bends that go upwards: for steps, not for intervals.
        """
        layout = self.layout
        z = (unknowns - layout.mean) / layout.sd
        value, gradient = 0.5 * float(z @ z), z / layout.sd
        curvature = np.diag(layout.sd**-2.0)
        if len(self._at):
            at = layout.place[SCATTER]
            margins = self.margins(unknowns)
            seen = log_likelihood(margins.value, float(np.exp(unknowns[at])), self.answers)
            value -= float(seen.value.sum())
            gradient = gradient - margins.slopes.T @ seen.by_margin
            gradient[at] -= float(seen.by_log_spread.sum())
            curvature = curvature + _positive(seen, margins.slopes, at)
        return value, gradient, curvature

    def curvature(self, unknowns: "Array") -> "Array":
        """Return the matrix of second slopes of −ln posterior, the bend of ln A included."""
        layout = self.layout
        found = np.diag(layout.sd**-2.0)
        if not len(self._at):
            return found
        at = layout.place[SCATTER]
        margins = self.margins(unknowns)
        seen = log_likelihood(margins.value, float(np.exp(unknowns[at])), self.answers)
        found -= margins.slopes.T @ (margins.slopes * seen.by_margin_twice[:, None])
        mixed = margins.slopes.T @ seen.by_both
        found[at, :] -= mixed
        found[:, at] -= mixed
        found[at, at] -= float(seen.by_log_spread_twice.sum())
        found -= self._bend(unknowns, seen.by_margin)
        return found

    def _bend(self, unknowns: "Array", weight: "Array") -> "Array":
        """Return Σ weight · ∂²ln A: differences of analytic slopes, one pair for each sort of unknown.

        A row has one depth, one flake size and one bed: moving all depths at once moves its own.
        """
        names, found = self.layout.names, np.zeros((len(unknowns), len(unknowns)))
        for mark in (DEPTH, SIZE, SOLIDS):
            sort = np.array([name.startswith(mark) for name in names])
            if not sort.any():
                continue
            step = sort * _STEP
            up, down = self.margins(unknowns + step).slopes, self.margins(unknowns - step).slopes
            change = (up - down) / (2.0 * _STEP)
            own = self.owners(mark)
            found[sort, :] += own[:, sort].T @ (change * weight[:, None])
        return (found + found.T) / 2.0


def _positive(seen: LogLikelihood, slopes: "Array", scatter: int) -> "Array":
    """Return Σ of each row's second slopes in margin and ln s, made positive row by row."""
    along, across = np.maximum(-seen.by_margin_twice, 0.0), np.maximum(-seen.by_log_spread_twice, 0.0)
    most = np.sqrt(along * across)
    mixed = np.clip(-seen.by_both, -most, most)
    found = slopes.T @ (slopes * along[:, None])
    both = slopes.T @ mixed
    found[scatter, :] += both
    found[:, scatter] += both
    found[scatter, scatter] += float(across.sum())
    return found
