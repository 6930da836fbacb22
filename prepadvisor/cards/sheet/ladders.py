"""Grit steps of patches, and of a face not yet at its last grade, with a box for each stop of powder."""

from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.record import Ladder, Tick
from prepadvisor.records.advice import LadderStep, PanelAdvice, Place
from prepadvisor.records.job import Done, Patch
from prepadvisor.wording import trade as words
from prepadvisor.wording.units import minutes


def patch_ladder(papers: Papers, place: Place) -> Ladder:
    """Return the steps of a patch; a patch on hold or with nothing to sand has no steps and says so."""
    patch = papers.feature(place)
    size = papers.units.size(*patch.size_mm) if isinstance(patch, Patch) else ""
    stop = place.id in papers.held
    steps = () if stop else place.ladder or ()
    now = patch.now if isinstance(patch, Patch) else None
    return Ladder(
        number=papers.number(place),
        place=place.id,
        title=f"{papers.name(place)}, {size}" if size else papers.name(place),
        size=size,
        steps="STOP" if stop else _chain(now, steps) or (place.finish or "not sanded"),
        tools="" if stop else _tools(now, steps),
        powder=_powder(papers, place.id, steps),
        checks=() if stop else (Tick("no step felt round it", papers.box(place.id, "inspected")),),
        says=(_next_coat(patch),) if isinstance(patch, Patch) else (),
        minutes=minutes(sum(step.minutes for step in steps)) if steps else "",
        stop=stop,
    )


def face_ladder(papers: Papers, panel: PanelAdvice, face: Place | None) -> Ladder | None:
    """Return the steps of a face that takes more than one; None where the last grade is the only one."""
    if len(panel.ladder) < 2 or face is None or papers.panel_held(panel):
        return None
    now = papers.job_panels[panel.id].now if panel.id in papers.job_panels else None
    return Ladder(
        number=papers.number(face),
        place=face.id,
        title=papers.name(face),
        size="",
        steps=_chain(now, panel.ladder),
        tools=_tools(now, panel.ladder),
        powder=_powder(papers, face.id, panel.ladder),
        checks=(),
        says=(),
        minutes=minutes(sum(step.minutes for step in panel.ladder)),
    )


def _chain(now: Done | None, steps: tuple[LadderStep, ...]) -> str:
    start = [now.grade] if now and now.grade and steps and now.grade != steps[0].grade else []
    return ">".join([*start, *(step.grade for step in steps)])


def _tools(now: Done | None, steps: tuple[LadderStep, ...]) -> str:
    found: list[str] = []
    if now and now.grade and steps:
        found.append(f"{now.grade} is on it now ({words.TOOL[now.tool]})")
    runs: list[tuple[str, list[str]]] = []
    for step in steps:
        if runs and runs[-1][0] == step.tool:
            runs[-1][1].append(step.grade)
        else:
            runs.append((step.tool, [step.grade]))
    found += [f"{words.listed(grades)} with {words.TOOL[tool]}" for tool, grades in runs]
    return "; ".join(found)


def _powder(papers: Papers, place: str, steps: tuple[LadderStep, ...]) -> tuple[Tick, ...]:
    box = papers.box(place, "guide-coated")
    return tuple(Tick(f"before {step.grade}", box) for step in steps if step.guide_coat)


def _next_coat(patch: Patch) -> str:
    coat = words.NEXT[patch.next]
    if patch.next in {"primer", "sealer"}:
        return f"next coat here: {coat}, before any colour; then this card again for the {coat}"
    return f"next coat here: {coat}"
