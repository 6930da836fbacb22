"""Why: every number a card has at one place or panel, with rule, model, layer and source behind it."""

from typing import TYPE_CHECKING, Final

from prepadvisor.cards.explain.deciding import governing_spot
from prepadvisor.cards.explain.place import panel_sections, place_sections
from prepadvisor.cards.page.columns import wrap
from prepadvisor.cards.sheet.panel import four_answers
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.records import (
    Advice,
    Job,
    PanelAdvice,
    Place,
    Reason,
    Spot,
    Task,
    first_words_of_place,
    nearest,
)
from prepadvisor.wording import ZONE, as_data, coats, hold_mend, hold_why, minutes, reason_says, sure_of

if TYPE_CHECKING:
    from prepadvisor.cards.explain.section import Section
    from prepadvisor.standards import House

# Why in ten lines: what is done at a place or on a panel, and the rule or number that decides it.

LINES: Final = 10
COLUMNS: Final = 100
MORE: Final = "every rule, number and source behind it: the same with --numbers"


def short_place(papers: Papers, place: Place, zone: str | None) -> list[str]:
    """Return why a place, or one zone of it, is worked as it is, in at most ten lines."""
    spots = [spot for spot in papers.spots_at[place.id] if zone is None or spot.zone == zone]
    spot = max(spots, key=_press_words, default=None)
    where = papers.words.label(place) + (f", {ZONE[spot.zone]}" if spot and zone else "")
    says = [f"{where}: {_work(papers.at.get(place.id, []))}"]
    says += _held(papers, {spot.id for spot in spots})
    if spot is not None:
        says += _grade(spot, place, by_hand=place.id in papers.hand_only)
        says += _risk(spot)
        says += _rule(spot, "wet bed", ("wet_bed",)) if spot.wet_bed.need != "no" else []
        says += _rule(spot, "powder", ("guide_coat",)) if _powdered(papers, place, spot) else []
        says += _rule(spot, "film", ("film_off_max_um",))
    took = sum(task.minutes for task in papers.at.get(place.id, ()))
    says.append(f"takes {minutes(took)}")
    return _cut(says)


def short_panel(papers: Papers, panel: PanelAdvice) -> list[str]:
    """Return what decides a panel, in at most ten lines."""
    answers = ", ".join(f"{answer.title.lower()} {answer.big}" for answer in four_answers(papers, panel))
    says = [f"{papers.words.panel(panel.id)}: {answers}"]
    says += _held(papers, {spot.id for spot in papers.advice.spots if spot.panel == panel.id})
    spot = governing_spot(papers, panel.id)
    if spot is not None and (place := papers.place_of_spot.get(spot.id)):
        says.append(f"{papers.words.where(spot.id)} decides")
        says += _grade(spot, papers.places[place], by_hand=place in papers.hand_only)
        says += _risk(spot)
        says += _rule(spot, "wet bed", ("wet_bed",)) if spot.wet_bed.need != "no" else []
    says.append(f"takes {minutes(panel.minutes)}")
    return _cut(says)


def _powdered(papers: Papers, place: Place, spot: Spot) -> bool:
    """Say whether powder goes on: where it is asked for and the plan, if it has work there, has it too."""
    done = {task.do for task in papers.work.tasks if task.place == place.id}
    return spot.guide_coat != "no" and (not done or "powder" in done)


def _press_words(spot: Spot) -> tuple[float, float]:
    near = spot.line.risk / spot.risk_limit if spot.line and spot.risk_limit else 0.0
    return (1.0 if spot.finish is None else 0.0, near)


def _work(tasks: list[Task]) -> str:
    names = {"scuff": "by hand ", "sand": "", "powder": "powder", "look": "look"}
    done = [f"{names[task.do]}{task.grade or ''}" for task in tasks if task.do in names]
    return ", ".join(done) if done else "no work in this stage"


def _held(papers: Papers, spots: set[str]) -> list[str]:
    found: dict[str, None] = {}
    for hold in papers.advice.holds:
        if hold.spot in spots:
            mend = hold_mend(hold, papers.words)
            found[f"STOP: {hold_why(hold, papers.words)}" + (f" -> {mend}" if mend else "")] = None
    return list(found)[:2]


def _grade(spot: Spot, place: Place, *, by_hand: bool) -> list[str]:
    if spot.finish is None:
        return []
    finish = spot.finish
    limit = "hand_last_coarsest" if by_hand else "finish_coarsest"
    reach = (
        f"{finish.coarsest} to {finish.finest}"
        if finish.coarsest != finish.finest
        else f"only {finish.chosen}"
    )
    said = _rule(spot, f"grade {finish.chosen} (may be {reach})", (limit,), always=True)
    if place.finish and place.finish != finish.chosen:
        said.append(f"it gets {place.finish}: what is sanded in one go has the finest grade of its parts")
    if spot.hand_coarsest and not by_hand:
        said += _rule(spot, f"by hand first {spot.hand_coarsest} or finer", ("hand_coarsest",))
    return said


def _risk(spot: Spot) -> list[str]:
    if spot.line is None:
        said = [reason_says(item) for item in spot.because if item.output == "line"]
        return [f"risk: {text}" for text in said[:1]]
    limit = f" of {spot.risk_limit:.2f} allowed" if spot.risk_limit is not None else ""
    bed = f" with {coats(spot.wet_bed.coats)} of wet bed" if spot.wet_bed.need == "required" else ""
    return [f"risk that a line shows {spot.line.risk:.2f}{limit}{bed}, {sure_of(spot)}"]


def _rule(spot: Spot, title: str, outputs: tuple[str, ...], *, always: bool = False) -> list[str]:
    """Return the first rule behind an answer, in its writer's words, with where it comes from."""
    item: Reason | None = next((item for item in spot.because if item.output in outputs), None)
    if item is None:
        return [title] if always else []
    return [f"{title}: {reason_says(item)} ({item.rule}, {item.layer}, {item.source})"]


def _cut(says: list[str]) -> list[str]:
    """Return lines of a terminal, ten at most, whole statements first to last, then how to get the rest."""
    lines: list[str] = []
    for number, text in enumerate(says):
        wrapped = wrap(text, COLUMNS, first="" if number == 0 else "  ", rest="    ")
        if len(lines) + len(wrapped) > LINES - 1:
            break
        lines += wrapped
    return [*lines, f"  {MORE}"]


class NoSuchPlaceError(LookupError):
    """There is no such place on this job; the message says what was probably meant and what there is."""


def explain(job: Job, advice: Advice, house: "House", asked: str) -> tuple["Section", ...]:
    """Return everything that stands behind the numbers of a place, a spot or a panel.

    Args:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        asked: an id (panel, panel/feature or panel/feature/zone), or what the card calls it ("A", "A4").

    Raises:
        NoSuchPlaceError: nothing on this job is called that.
    """
    papers = Papers(job, advice, house)
    found, zone = _found(papers, asked)
    if isinstance(found, PanelAdvice):
        return panel_sections(papers, found)
    return place_sections(papers, found, zone)


def short(job: Job, advice: Advice, house: "House", asked: str) -> list[str]:
    """Return the same in ten lines: what is done there and what decides each answer.

    Args:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        asked: as in `explain`.

    Raises:
        NoSuchPlaceError: nothing on this job is called that.
    """
    papers = Papers(job, advice, house)
    found, zone = _found(papers, asked)
    return short_panel(papers, found) if isinstance(found, PanelAdvice) else short_place(papers, found, zone)


def because(job: Job, advice: Advice, house: "House", asked: str) -> list[dict[str, object]]:
    """Return every reason behind a place, a spot or a panel as data, each with its spot and its kind.

    Args:
        job: the job as loaded.
        advice: what was advised for exactly this job.
        house: what it was advised by.
        asked: as in `explain`.
    """
    papers = Papers(job, advice, house)
    found, zone = _found(papers, asked)
    places = [found] if isinstance(found, Place) else papers.places_of[found.id]
    spots = [spot for place in places for spot in papers.spots_at[place.id] if zone in {None, spot.zone}]
    return [
        {
            "spot": spot.id,
            "kind": "rule" if isinstance(reason.says, str) else reason.says.kind,
            **as_data(reason, papers.words),
        }
        for spot in spots
        for reason in spot.because
    ]


def _found(papers: Papers, asked: str) -> tuple[PanelAdvice | Place, str | None]:
    """Return the panel or place that is meant, and the zone if one is."""
    names = _names(papers)
    meant = next((one for one in (asked, asked.upper(), first_words_of_place(asked)) if one in names), None)
    if meant is None:
        raise NoSuchPlaceError(_unknown(papers, asked, names))
    return names[meant], meant.split("/")[2] if meant.count("/") == 2 else None


def _names(papers: Papers) -> dict[str, PanelAdvice | Place]:
    names: dict[str, PanelAdvice | Place] = {}
    for panel in papers.advice.panels:
        names[papers.letter_of[panel.id]] = names[panel.id] = panel
    for place in papers.advice.places:
        if place.kind != "face":
            names[papers.words.number(place)] = place
        names[place.id] = place
        names.update(dict.fromkeys(place.spots, place))
    return names


def _unknown(papers: Papers, asked: str, names: dict[str, PanelAdvice | Place]) -> str:
    near = nearest(asked, names)
    meant = f', did you mean "{near}"?' if near else ""
    places = ", ".join(f"{papers.words.number(place)} = {place.id}" for place in papers.advice.places[:8])
    more = ", …" if len(papers.advice.places) > 8 else ""
    return f'there is no place "{asked}" on this job{meant}; there are {places}{more}'
