"""What rows cannot say by themselves: one answer only, separable, contradictory, copied, not read blind."""

from collections import defaultdict
from collections.abc import Sequence

from prepadvisor.records.fit import (
    Alike,
    ClassesDiffer,
    Contradictory,
    DimLight,
    KeptUnused,
    NoRows,
    NotBlind,
    OneAnswerOnly,
    RowFitted,
    Separable,
    ToldOfFit,
)  # fmt: skip
from prepadvisor.records.panel_rows import LUX_LEAST, PanelRow
from prepadvisor.records.words import FLAKES

_OFTEN = 2.0
"""Standard deviations above what scatter makes likely from which contradictions are too many."""


def data_told(rows: Sequence[PanelRow], fitted: Sequence[RowFitted]) -> list[ToldOfFit]:
    """Return what is told about rows, given their fit."""
    if not rows:
        return [NoRows()]
    told: list[ToldOfFit] = []
    answers = {row.shows for row in rows}
    if len(answers) == 1 and answers != {"barely"}:
        told.append(OneAnswerOnly(rows[0].shows))
    elif _separable(fitted):
        told.append(Separable())
    told.extend(_contradictions(rows, fitted))
    told.extend(_alike(rows))
    told.extend(_classes(rows))
    panels = [row for row in rows if row.kind == "panel"]
    known, unsaid = (sum(row.blind is value for row in panels) for value in (False, None))
    if known or unsaid:
        told.append(NotBlind(known, unsaid))
    told.extend(_kept(panels))
    return told


def _kept(panels: Sequence[PanelRow]) -> list[ToldOfFit]:
    """Tell what stands in the rows and is not used, and rows that were read by too little light."""
    found: list[ToldOfFit] = []
    light, film, photo = (
        (
            sum(bool(said) for said in each)
            for each in zip(*((row.light, row.film_um, row.photo) for row in panels), strict=True)
        )
        if panels
        else (0, 0, 0)
    )
    if light or film or photo:
        found.append(KeptUnused(light, film, photo))
    dim = [row.lux for row in panels if row.lux is not None and row.lux < LUX_LEAST]
    if dim:
        found.append(DimLight(len(dim), min(dim)))
    return found


def _separable(fitted: Sequence[RowFitted]) -> bool:
    """Say whether one line strength parts all that show from all that do not."""
    shows = [each.margin for each in fitted if each.row.shows == "yes"]
    hidden = [each.margin for each in fitted if each.row.shows == "no"]
    return bool(shows and hidden) and min(shows) > max(hidden)


def _setting(row: PanelRow) -> PanelRow:
    return row._replace(
        shows="yes", by="", blind=None, date=None, note="", file="", line=0, light="", film_um=None, photo=""
    )


def _contradictions(rows: Sequence[PanelRow], fitted: Sequence[RowFitted]) -> list[ToldOfFit]:
    """Tell settings answered yes and no, with how many the fit itself expects by chance."""
    alike: dict[PanelRow, list[int]] = defaultdict(list)
    for place, row in enumerate(rows):
        alike[_setting(row)].append(place)
    both = [places for places in alike.values() if {"yes", "no"} <= {rows[place].shows for place in places}]
    if not both:
        return []
    split, expected, variance = 0.0, 0.0, 0.0
    for places in alike.values():
        if len(places) > 1:
            p = min(max(fitted[places[0]].chance, 1e-6), 1 - 1e-6)
            odds = 1.0 - p ** len(places) - (1.0 - p) ** len(places)
            expected, variance = expected + odds, variance + odds * (1.0 - odds)
            split += {"yes", "no"} <= {rows[place].shows for place in places}
    often = split - expected > _OFTEN * max(variance, 1e-9) ** 0.5
    lines = tuple(sorted((rows[place].file, rows[place].line) for places in both for place in places))
    return [Contradictory(lines, len(both), often)]


def _alike(rows: Sequence[PanelRow]) -> list[ToldOfFit]:
    """Tell rows of one judge and day with one note or photo that say the same twice; else nothing is told."""
    seen: dict[PanelRow, list[int]] = defaultdict(list)
    for place, row in enumerate(rows):
        if row.kind == "panel" and row.by and (row.note or row.photo):
            seen[row._replace(line=0)].append(place)
    twice = [places for places in seen.values() if len(places) > 1]
    return (
        [Alike(tuple((rows[at].file, rows[at].line) for places in twice for at in places))] if twice else []
    )


def _classes(rows: Sequence[PanelRow]) -> list[ToldOfFit]:
    found: list[ToldOfFit] = []
    for colour in dict.fromkeys(row.colour for row in rows if row.colour):
        classes = {row.flake for row in rows if row.colour == colour and row.flake}
        if len(classes) > 1:
            found.append(ClassesDiffer(colour, tuple(sorted(classes, key=FLAKES.index))))
    return found
