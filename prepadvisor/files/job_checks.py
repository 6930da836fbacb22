"""Checks a job beyond its records: names, sizes and zones on a panel, the log's times, what cannot be."""

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, Final

from prepadvisor.cases import CaseSpot, Subject, blend_layout, facts_of, stated_rect, subjects, zoning
from prepadvisor.records import SIDES, Job, Panel, Problem, did_you_mean, nearest
from prepadvisor.surface import depth_mm, farthest_mm

if TYPE_CHECKING:
    from prepadvisor.standards import House

# Checks the names in a job: none twice, and none that could mean two things.


def id_problems(data: Mapping[str, Any]) -> list[Problem]:
    """Return ids that stand twice and patches named like a side.

    A check-off entry about a place that is no longer there is no fault: a job must open after a line that was
    logged is taken out. The gate tells of it.

    Args:
        data: the job file as parsed; entries that are malformed in other ways are passed over.
    """
    panels = list(_tables(data, "panel"))
    problems = list(_twice("panel", [((*path, "id"), panel.get("id")) for path, panel in panels]))
    for path, panel in panels:
        own = [
            ((*path, *inner, "id"), entry.get("id"))
            for key in ("patch", "feature")
            for inner, entry in _tables(panel, key)
        ]
        problems += _twice("panel's lines and patches", own)
        problems += _named_like_side(path, panel)
        problems += _named_like_ring(path, panel)
    return problems


def _tables(table: Mapping[str, Any], key: str) -> Iterator[tuple[tuple[str | int, ...], Mapping[str, Any]]]:
    entries = table.get(key)
    for number, entry in enumerate(entries if isinstance(entries, list) else ()):
        if isinstance(entry, dict):
            yield (key, number), entry


def _twice(what: str, ids: Iterable[tuple[tuple[str | int, ...], object]]) -> Iterator[Problem]:
    seen: set[str] = set()
    for path, written in ids:
        if isinstance(written, str):
            name = written.strip()
            if name in seen:
                among = "another panel" if what == "panel" else "another line or patch of this panel"
                yield Problem(
                    path, f'the id "{name[:60]}" is already taken by {among}', "give each its own id"
                )
            seen.add(name)


def _named_like_side(path: tuple[str | int, ...], panel: Mapping[str, Any]) -> Iterator[Problem]:
    for inner, patch in _tables(panel, "patch"):
        if patch.get("id") in SIDES:
            says = f'"{patch["id"]}" is a side of the panel, so colour_from could mean either'
            yield Problem((*path, *inner, "id"), says, "give the patch another id")


def _named_like_ring(path: tuple[str | int, ...], panel: Mapping[str, Any]) -> Iterator[Problem]:
    """Yield ids that are those of the ring of old paint round a patch of the panel, a place of its own."""
    rings = {
        f"{patch['id'].strip()}-ring"
        for _, patch in _tables(panel, "patch")
        if isinstance(patch.get("id"), str)
    }
    for key in ("patch", "feature"):
        for inner, entry in _tables(panel, key):
            name = entry.get("id")
            if isinstance(name, str) and name.strip() in rings:
                says = f'"{name.strip()[:60]}" is what the ring round that patch is called when it is primed'
                yield Problem((*path, *inner, "id"), says, "give it another id")


# Checks that what a job lays on a panel fits it: sizes, patches, lines, and the blend's zones.

PANEL_MM_MIN: Final = 30
"""No panel is shorter or lower; a smaller number was meant in another unit."""
PATCH_MM_MIN: Final = 1
_HAIR_MM: Final = 0.1
"""A fade that ends this near the panel's far end ends at it; also how exact the farthest point is known."""


def layout_problems(job: Job) -> list[Problem]:
    """Return everything that does not fit its panel, and every blend layout that is not complete."""
    return [*source_problems(job), *fit_problems(job)]


def source_problems(job: Job) -> list[Problem]:
    """Return where colour comes in from what is neither a side nor a patch; no length bears on that."""
    return [
        problem
        for number, panel in enumerate(job.panel)
        if panel.role != "clear-only"
        for problem in _unknown_sources(panel, ("panel", number))
    ]


def fit_problems(job: Job) -> list[Problem]:
    """Return everything that does not fit its panel, and every blend layout that lacks something."""
    problems: list[Problem] = []
    for number, panel in enumerate(job.panel):
        at: tuple[str | int, ...] = ("panel", number)
        problems += _absurd(panel, at)
        problems += _off_the_panel(panel, at)
        problems += _dots(panel, at)
        problems += _layout(panel, at)
    return problems


def _absurd(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    for key, size in (("length_mm", panel.length_mm), ("height_mm", panel.height_mm)):
        if size < PANEL_MM_MIN:
            mend = "give it in millimetres" + (f": {size * 1000:g}?" if 0.1 < size <= 6 else "")
            yield Problem((*at, key), f"{key} is {size:g}: no panel is under {PANEL_MM_MIN} mm", mend)
    for number, patch in enumerate(panel.patch):
        if min(patch.size_mm) < PATCH_MM_MIN:
            says = f"the patch {patch.id} is under {PATCH_MM_MIN} mm"
            yield Problem((*at, "patch", number, "size_mm"), says, "give length and height in millimetres")


def _off_the_panel(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    if min(panel.length_mm, panel.height_mm) < PANEL_MM_MIN:
        return
    for number, patch in enumerate(panel.patch):
        rect = stated_rect(panel, patch)
        past = {
            "front": -rect.left,
            "rear": rect.right - panel.length_mm,
            "top": -rect.top,
            "bottom": rect.bottom - panel.height_mm,
        }
        off = [f"{mm:.0f} mm past the {side}" for side, mm in past.items() if mm > 0.5]
        if off:
            says = f"the patch {patch.id} reaches {' and '.join(off)} of the panel"
            mend = "move its middle (at) or make it smaller (size_mm)"
            yield Problem((*at, "patch", number, "size_mm"), says, mend)


def _dots(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    for number, line in enumerate(panel.feature):
        first = line.path[0]
        if all(point == first for point in line.path):
            says = f"the line {line.id} has no length: all its points are one"
            yield Problem((*at, "feature", number, "path"), says, "give where it starts and where it ends")


def _layout(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    """Check the blend layout: complete and with room for it, or none where no colour goes on."""
    if panel.role == "clear-only":
        yield from _colour_on_clear_only(panel, at)
        return
    if panel.role == "repair" and not _states_layout(panel):
        return
    gaps = list(_layout_gaps(panel, at))
    yield from gaps
    if (
        not any(_unknown_sources(panel, at))
        and not gaps
        and min(panel.length_mm, panel.height_mm) >= PANEL_MM_MIN
    ):
        yield from _no_room(panel, at)


def _states_layout(panel: Panel) -> bool:
    return bool(panel.colour_from) or panel.colour_mm is not None or panel.fade_mm is not None


def _colour_on_clear_only(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    stated = [key for key in ("colour_from", "colour_mm", "fade_mm") if key in panel.model_fields_set]
    if _states_layout(panel):
        says = f"a clear-only panel gets no colour, yet {', '.join(stated)} is stated"
        mend = 'take that out, or say role = "blend"'
        yield Problem((*at, stated[0]), says, mend)


def _unknown_sources(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    known = [*SIDES, *(patch.id for patch in panel.patch)]
    for number, source in enumerate(panel.colour_from):
        if source not in known:
            says = f'"{source[:60]}" is neither a side nor a patch of this panel'
            yield Problem((*at, "colour_from", number), says, did_you_mean(source, known))


def _layout_gaps(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    if panel.role == "blend":
        whose, otherwise = "a blend panel", ""
    else:
        whose = "a repair panel that is blended inside itself"
        otherwise = ", or take colour_from, colour_mm and fade_mm out: then all of it is full colour"
    if not panel.colour_from:
        says = f"{whose} needs colour_from: where the colour comes in"
        yield Problem((*at, "colour_from"), says, f'add colour_from = ["front"]{otherwise}')
    if panel.colour_mm is None:
        says = f"{whose} needs colour_mm: how far full colour reaches"
        yield Problem((*at, "colour_mm"), says, f"add colour_mm = 150{otherwise}")
    if panel.fade_mm is None:
        says = f"{whose} needs fade_mm: how far the colour fades out"
        yield Problem((*at, "fade_mm"), says, f"add fade_mm = 400{otherwise}")
    elif panel.fade_mm == 0:
        says = "fade_mm is 0: colour that stops at a line leaves a step"
        yield Problem((*at, "fade_mm"), says, "give the fade some width, such as fade_mm = 400")


def _no_room(panel: Panel, at: tuple[str | int, ...]) -> Iterator[Problem]:
    reach = (panel.colour_mm or 0.0) + (panel.fade_mm or 0.0)
    layout = blend_layout(panel)
    across, down = (0, panel.length_mm, 0, panel.length_mm), (0, 0, panel.height_mm, panel.height_mm)
    if depth_mm(layout, across, down).max() >= reach:  # a corner is deep enough: no search
        return
    farthest = farthest_mm(layout)
    if reach > farthest + _HAIR_MM:
        says = (
            f"no room for this blend: colour and fade reach {reach:.0f} mm, the panel's farthest point is "
            f"{farthest:.0f} mm from where the colour comes in"
        )
        yield Problem((*at, "fade_mm"), says, 'full colour here (role = "repair"), blend the next panel')


# Checks the check-off and the outcomes of a job: a time without its zone cannot be put in order.


def log_problems(job: Job) -> list[Problem]:
    """Return entries whose time does not say its zone."""
    return list(_without_zone(job))


def _without_zone(job: Job) -> Iterator[Problem]:
    logs = (("check", [entry.at for entry in job.check]), ("outcome", [entry.at for entry in job.outcome]))
    for key, times in logs:
        for number, at in enumerate(times):
            if at.tzinfo is None:
                says = f"at = {at.isoformat()} does not say its time zone"
                mend = "end it with Z for universal time, or with the distance to it such as +01:00"
                yield Problem((key, number, "at"), says, mend)


_MEND = "compare role, surface, next, special and reach"


def impossible_places(job: Job, house: "House") -> list[Problem]:
    """Return one problem for each place whose facts cannot be true together, in a zone it really touches."""
    problems: list[Problem] = []
    colour = house.judged(job.colour)
    for number, panel in enumerate(job.panel):
        told: set[str] = set()
        for subject in subjects(panel, zoning(panel, house.shop.mist_mm)):
            cases = (facts_of(CaseSpot(colour, subject, *part)) for part in subject.amounts)
            because = next(filter(None, map(house.engine.impossible, cases)), None)
            if because and because not in told:
                told.add(because)
                says = f"{_called(subject)} cannot be as stated: {because}"
                problems.append(Problem(("panel", number, *_key(subject)), says, _MEND))
    return problems


def unknown_kinds(job: Job, house: "House") -> list[Problem]:
    """Return one problem for each panel of a kind that the house has no outline of."""
    return [
        Problem(("panel", number, "kind"), *_not_there(panel.kind, house))
        for number, panel in enumerate(job.panel)
        if panel.kind not in house.outlines
    ]


def _not_there(kind: str, house: "House") -> tuple[str, str]:
    """Return what is wrong with a kind, and its mend."""
    if kind in house.engine.kinds:
        says = f'kind "{kind}" is stated by a layer that does not count for this job'
        return says, "compare the job's date and customer with [standards] of the layers"
    meant = did_you_mean(kind, house.outlines)
    own = "a kind of the shop's own is stated in its panels.toml, with an outline"
    return f'kind "{kind}" is not known', meant if nearest(kind, house.outlines) else f"{meant}; {own}"


def _called(subject: Subject) -> str:
    if subject.kind == "face":
        return f"the panel {subject.panel.id}"
    return f"the {'line' if subject.is_line else 'patch'} {subject.feature}"


def _key(subject: Subject) -> tuple[str | int, ...]:
    """Return where on its panel a fault of a place is shown; places are numbered lines first."""
    if subject.kind == "face":
        return ("surface",)
    if subject.is_line:
        return ("feature", subject.number - 1, "kind")
    return ("patch", subject.number - 1 - len(subject.panel.feature), "surface")
