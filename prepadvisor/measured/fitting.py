"""Fits the shop's numbers to its rows and tells what the data can and cannot say."""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple, get_args

import numpy as np

from prepadvisor.measured.checks import calibration, data_told
from prepadvisor.measured.force import (
    ColourSize,
    InForce,
    colour_priors,
    flakes_of,
    known_colours,
    risks_in_force,
)
from prepadvisor.measured.likelihood import (  # fmt: skip
    DEPTH,
    LAPSE,
    SCATTER,
    SIZE,
    SOLIDS,
    THRESHOLD,
    Z_90,
    AnswerBounds,
    Margins,
    Unknowns,
    chance,
    layout_of,
    log_likelihood,
    solids_of_unknown,
)
from prepadvisor.measured.model import Model, ModelFlake, Settings
from prepadvisor.measured.posterior import Posterior, intervals, posterior, prior
from prepadvisor.records import (  # fmt: skip
    DS50_UM,
    GRADES,
    TOOLS,
    Constants,
    FarFromBefore,
    Fit,
    FittedNumber,
    FixedTogether,
    NotSettled,
    PadAsGrade,
    PanelRow,
    RowFitted,
    RowKind,
    StartedAfresh,
    ToldOfFit,
)

if TYPE_CHECKING:
    from prepadvisor.surface import Array

_FAR: Final = 2.0
_SHOWED: Final = {"yes": 1.0, "barely": 0.5, "no": 0.0}


class Fitted(NamedTuple):
    """A fit, and what further questions are asked of: posterior, model and the flake of each row."""

    fit: Fit
    believed: Posterior
    start: Constants
    flakes: tuple[ModelFlake, ...]


def fit_rows(
    rows: Sequence[PanelRow],
    force: InForce,
    lapse: float = LAPSE,
    doubted: Mapping[str, ColourSize] | None = None,
) -> Fitted:
    """Fit threshold, depth by tool and pad, set solids and flake size by colour to rows.

    Args:
        rows: test panels, outcomes and wet looks; none is an answer too.
        force: the numbers in force and those to start from.
        lapse: part of answers that fall at random [1].
        doubted: further colours whose size is among the unknowns, with rows or without.

    Returns:
        `Fitted`: the most likely numbers under the priors, with Laplace's 90 % intervals.
    """
    start = _start(force)
    colours, told = known_colours(rows, force.book)
    colours |= doubted or {}
    pads = {row.pad: row.tool for row in rows if row.pad}
    layout = layout_of(
        start, force.shipped_solids, pads, colour_priors(colours, start), {row.kind for row in rows}
    )
    flakes = flakes_of(rows, colours, start)
    model = Model(rows, flakes, Settings(layout, start), lapse)
    before, after = prior(layout), posterior(model)
    fitted = _rows(rows, model, risks_in_force(rows, flakes, force), after)
    spans = _Spans(before, after, *intervals(model, after))
    numbers = tuple(_numbers(layout, spans, rows, force))
    fit = Fit(
        numbers=numbers,
        scatter=_number(layout, SCATTER, spans, len(rows), None),
        rows=len(rows),
        panels=len({row._replace(by="", shows="yes", line=0, note="", blind=None, photo="") for row in rows}),
        judges=len({row.by for row in rows if row.by}),
        by_kind=tuple((kind, sum(row.kind == kind for row in rows)) for kind in get_args(RowKind)),
        fixed=tuple(_fixed(rows, flakes, after, start)),
        fitted=fitted,
        before=calibration([each.chance_before for each in fitted], [_SHOWED[r.shows] for r in rows]),
        after=calibration([each.left_out for each in fitted], [_SHOWED[r.shows] for r in rows]),
        told=(
            *data_told(rows, fitted),
            *told,
            *_far(numbers, before, after),
            *_pads(pads, rows, after),
            *_afresh(force),
            *(() if after.settled else (NotSettled(),)),
        ),
    )
    return Fitted(fit, after, start, flakes)


def _start(force: InForce) -> Constants:
    """Return the constants in force, measured numbers as shipped, so that nothing counts twice."""
    now, shipped = force.constants, force.shipped
    depth = {
        tool: shipped.groove.depth_per_grain[tool] if own.known == "measured" else own
        for tool, own in now.groove.depth_per_grain.items()
    }
    line = now.sight.thinnest_line_arcsec
    if line.known == "measured":
        line = shipped.sight.thinnest_line_arcsec
    scatter = now.uncertainty.thinnest_line
    if scatter.known == "measured":
        scatter = shipped.uncertainty.thinnest_line
    return now.model_copy(
        update={
            "groove": now.groove.model_copy(update={"depth_per_grain": depth}),
            "sight": now.sight.model_copy(update={"thinnest_line_arcsec": line}),
            "uncertainty": now.uncertainty.model_copy(update={"thinnest_line": scatter}),
        }
    )


def _afresh(force: InForce) -> tuple[ToldOfFit, ...]:
    depths = [each.known for each in force.constants.groove.depth_per_grain.values()]
    measured = [*depths, force.constants.sight.thinnest_line_arcsec.known].count("measured")
    measured += force.set_solids != force.shipped_solids
    return (StartedAfresh(measured),) if measured else ()


def _rows(
    rows: Sequence[PanelRow], model: Model, was: Sequence[tuple[float, float]], after: Posterior
) -> tuple[RowFitted, ...]:
    if not rows:
        return ()
    cells = np.array(model.cell_of)
    now = model.margins(after.mode)
    shows = model.answers._replace(low=np.zeros(len(now.value)), high=np.full(len(now.value), np.inf))
    sd = np.sqrt(after.variance(now))
    left_out, surprise = _left_out(model, now, after)
    columns = [now.value, sd, _shows(now, after, shows), left_out, surprise]
    found = []
    for row, cell, (margin, risk) in zip(rows, cells, was, strict=True):
        value, unsure, chance_now, alone, odd = (float(column[cell]) for column in columns)
        found.append(
            RowFitted(
                row=row,
                margin_before=margin,
                margin=value,
                sd=unsure,
                chance_before=risk,
                chance=chance_now,
                left_out=alone,
                surprise=odd,
            )
        )
    return tuple(found)


def _shows(margins: Margins, believed: Posterior, shows: AnswerBounds) -> "Array":
    spread = np.sqrt(believed.scatter**2 + believed.variance(margins))
    return chance(margins.value, spread, shows)


def _left_out(model: Model, now: Margins, after: Posterior) -> tuple["Array", "Array"]:
    """Return the chance of showing by a fit without one row of the cell, and −ln of the chance of its answer.

    One Newton step away from the whole fit: without a row the margin moves by −v·l′/(1 + v·l″) and its
    variance grows to v/(1 + v·l″), l the row's ln P (leave-one-out by influence).
    """
    one = model.answers._replace(times=np.ones(len(now.value)))
    seen = log_likelihood(now.value, after.scatter, one)
    v = after.variance(now)
    share = np.maximum(1.0 + v * np.minimum(seen.by_margin_twice, 0.0), 0.05)
    margin = now.value - v * seen.by_margin / share
    spread = np.sqrt(after.scatter**2 + v / share)
    shows = one._replace(low=np.zeros(len(v)), high=np.full(len(v), np.inf))
    return chance(margin, spread, shows), -np.log(chance(margin, spread, one))


def _numbers(
    layout: Unknowns, spans: "_Spans", rows: Sequence[PanelRow], force: InForce
) -> list[FittedNumber]:
    now = force.constants
    found = [_number(layout, THRESHOLD, spans, len(rows), now.sight.thinnest_line_arcsec.value)]
    for name in layout.names:
        if name.startswith(DEPTH):
            word = name.removeprefix(DEPTH)
            count = sum((row.pad or row.tool) == word for row in rows)
            own = now.groove.depth_per_grain[word].value if word in TOOLS else None
            found.append(_number(layout, name, spans, count, own))
    bedded = sum(row.coats > 0 for row in rows)
    found.append(_number(layout, SOLIDS, spans, bedded, force.set_solids))
    for name in layout.names:
        if name.startswith(SIZE):
            count = sum(row.colour == name.removeprefix(SIZE) for row in rows)
            found.append(_number(layout, name, spans, count, None))
    return found


class _Spans(NamedTuple):
    """What is believed before and after, with the ends of the 90 % intervals after."""

    before: Posterior
    after: Posterior
    low: "Array"
    high: "Array"


def _number(layout: Unknowns, name: str, spans: _Spans, rows: int, in_force: float | None) -> FittedNumber:
    at = layout.place[name]
    back = solids_of_unknown if name == SOLIDS else math.exp
    before, mode = spans.before, float(spans.after.mode[at])
    reach = Z_90 * float(before.sd[at])
    centre = float(before.mode[at])
    return FittedNumber(
        name=name,
        value=back(mode),
        low=back(min(float(spans.low[at]), mode)),
        high=back(max(float(spans.high[at]), mode)),
        before=back(centre) if in_force is None else in_force,
        before_low=back(centre - reach),
        before_high=back(centre + reach),
        rows=rows,
        log_sd=float(spans.after.sd[at]),
    )


def _fixed(
    rows: Sequence[PanelRow], flakes: Sequence[ModelFlake], after: Posterior, start: Constants
) -> list[FixedTogether]:
    """Return, for each tool and pad with rows, what its rows fix: T/k^e and the grain half-way to be seen.

    e = cov(ln T, ln k)/var(ln k): the exponent that leaves T/k^e least uncertain.
    """
    layout, found = after.layout, []
    for word in dict.fromkeys(row.pad or row.tool for row in rows):
        own = [place for place, row in enumerate(rows) if (row.pad or row.tool) == word]
        t, k = layout.place[THRESHOLD], layout.place[f"{DEPTH}{word}"]
        cov = after.covariance
        exponent = float(cov[t, k] / cov[k, k])
        sd = math.sqrt(max(float(cov[t, t] - exponent * cov[t, k]), 0.0))
        centre = float(after.mode[t] - exponent * after.mode[k])
        ((usual, _),) = Counter(flakes[place] for place in own).most_common(1)
        row = next(rows[place] for place in own if flakes[place] == usual)
        grain, grain_sd = _grain_half_seen(row, usual, after, start)
        found.append(
            FixedTogether(
                tool=word,
                exponent=exponent,
                value=math.exp(centre),
                low=math.exp(centre - Z_90 * sd),
                high=math.exp(centre + Z_90 * sd),
                grain_um=math.exp(grain),
                grain_low_um=math.exp(grain - Z_90 * grain_sd),
                grain_high_um=math.exp(grain + Z_90 * grain_sd),
                flake=row.colour or row.flake or f"{usual.d50_um:g} µm",
                narrower=float(after.sd[t]) / max(sd, 1e-12),
            )
        )
    return found


def _grain_half_seen(
    row: PanelRow, flake: ModelFlake, after: Posterior, start: Constants
) -> tuple[float, float]:
    """Return ln of the grain [µm] whose line is seen half of the time, with its standard deviation.

    Margins rise with the grain: the grade pair about m = 0 is found and the logarithm interpolated; slope by
    ln grain is that by ln k.
    """
    settings = Settings(after.layout, start)
    places = [settings.place(flake, row.tool, grade, "fade", 0, pad=row.pad) for grade in GRADES]
    margins = settings.margins(after.mode)
    value = margins.value[places]
    log_grain = np.log([DS50_UM[grade] for grade in GRADES])
    order = np.argsort(value, kind="stable")
    at = float(np.interp(0.0, value[order], log_grain[order]))
    nearest = int(np.argmin(np.abs(log_grain - at)))
    slope = margins.slopes[places[nearest], after.layout.place[f"{DEPTH}{row.pad or row.tool}"]]
    one = Margins(value[[nearest]], margins.slopes[[places[nearest]]], value[[nearest]])
    return at, math.sqrt(float(after.variance(one)[0])) / max(float(slope), 1e-6)


def _far(numbers: Sequence[FittedNumber], before: Posterior, after: Posterior) -> list[ToldOfFit]:
    layout = after.layout
    found: list[ToldOfFit] = []
    for number in numbers:
        at = layout.place[number.name]
        away = float((after.mode[at] - before.mode[at]) / before.sd[at])
        if abs(away) > _FAR:
            found.append(FarFromBefore(number.name, away))
    return found


def _pads(pads: Mapping[str, str], rows: Sequence[PanelRow], after: Posterior) -> list[ToldOfFit]:
    """Tell which grade of its plain tool a pad scratches like: the same depth."""
    found: list[ToldOfFit] = []
    for pad, tool in sorted(pads.items()):
        depth = float(after.mode[after.layout.place[f"{DEPTH}{pad}"]])
        said = next(row.grade for row in rows if row.pad == pad)
        plain = float(after.mode[after.layout.place[f"{DEPTH}{tool}"]])
        grain = depth + math.log(DS50_UM[said]) - plain
        like = min(GRADES, key=lambda grade: abs(math.log(DS50_UM[grade]) - grain))
        if like != said:
            found.append(PadAsGrade(pad, like, said))
    return found
