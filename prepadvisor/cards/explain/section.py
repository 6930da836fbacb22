"""How an explanation is laid down in sections, and what stands behind the work at a place."""

from typing import TYPE_CHECKING

from prepadvisor.planning import WorkRates, clears, rates_of
from prepadvisor.records import GRADES, RANK, Grade, LadderStep, NamedTuple, Place, Quantity, Reason, Task
from prepadvisor.wording import TOOL, answer_says, done_says, reason_says

if TYPE_CHECKING:
    from prepadvisor.cards.sheet.papers import Papers


class Section(NamedTuple):
    """A heading with its lines; a line that starts with two blanks belongs to the one before it."""

    title: str
    lines: tuple[str, ...]


def reasons(
    papers: "Papers", because: tuple[Reason, ...], outputs: tuple[str, ...] | None = None
) -> list[str]:
    """Return the rules behind answers: value, rule id, layer, file and line, what it says, source."""
    lines = []
    for item in because:
        if outputs is not None and item.output not in outputs:
            continue
        place = f", {item.file}:{item.line}" if item.file else ""
        lines.append(
            f"{answer_says(item.output, item.value, papers.units)}: {item.rule} ({item.layer}{place})"
        )
        lines.append(f"  {reason_says(item)} [{_in_full(papers, item.source)}]")
    return lines


def _in_full(papers: "Papers", name: str) -> str:
    """Return a source; what is chosen here says what another choice would change."""
    entry = papers.house.sources.get(name)
    chosen = entry is not None and entry.known == "chosen"
    return f"{source(papers, name)}. {entry.note}" if entry and chosen else source(papers, name)


def source(papers: "Papers", name: str) -> str:
    """Return a source as its id with its title from the register, where it stands there."""
    entry = papers.house.sources.get(name)
    return f"{name}: {entry.title}" if entry and entry.title.lower() != name.lower() else name


def passport(quantity: Quantity) -> str:
    """Return how a constant is known: "assumption", "published, hecht-mintz-1939", "measured here, …"."""
    if quantity.known == "measured":
        rows = f", {quantity.rows} rows" if quantity.rows else ""
        on = f", {quantity.measured_on.isoformat()}" if quantity.measured_on else ""
        span = f", 90 % {quantity.low:.3g} to {quantity.high:.3g}" if quantity.low and quantity.high else ""
        return f"measured here{rows}{on}{span}"
    return quantity.known if quantity.source == quantity.known else f"{quantity.known}, {quantity.source}"


def shop_passport(papers: "Papers", name: str) -> str:
    """Return how a number of the shop file is known; one without a passport is the shop's own word."""
    found = papers.house.shop.passport.get(name)
    if found is None:
        return "the shop's own"
    if found.known == "measured":
        rows = f", {found.rows} rows" if found.rows else ""
        on = f", {found.measured_on.isoformat()}" if found.measured_on else ""
        return f"measured here{rows}{on}"
    return found.known


# Why, for the work at a place: hand limit by rule and by removal, grit steps, minutes, recorded scuff.


def hand_lines(papers: "Papers", place: Place) -> list[str]:
    """Return the hand limit of a line: what the rules say, and what the last DA pass can cut out."""
    if place.hand_coarsest is None or place.finish is None:
        return []
    shop, rates = papers.house.shop, rates_of(papers.house.constants, papers.house.shop)
    because = tuple(dict.fromkeys(item for spot in papers.spots_at[place.id] for item in spot.because))
    caps = [float(item.value) for item in because if item.output == "film_off_max_um"]
    cap, most = min(caps, default=None), shop.clearing_minutes_per_dm2_max
    lines = [f"{place.hand_coarsest} or finer, the tightest of the rules and of removal"]
    lines += reasons(papers, because, ("hand_coarsest",))
    film = f" and {papers.units.film(cap)} of film" if cap is not None else ""
    known = shop_passport(papers, "clearing_minutes_per_dm2_max")
    lines.append(f"removal: {place.finish} has {most:g} min a dm2 ({known}){film} to cut a hand groove out")
    for grade in _either_side(papers, place, rates, cap):
        depth = rates.depth_um[shop.hand_tool, grade]
        took = depth / rates.rate_um[place.finish]
        verdict = (
            "comes out"
            if clears(shop.hand_tool, grade, place.finish, rates=rates, minutes_max=most, film_max_um=cap)
            else "stays"
        )
        lines.append(
            f"  {grade} by {TOOL[shop.hand_tool]}: groove {depth:.2f} um / "
            f"{rates.rate_um[place.finish]:.1f} um a min = {took:.3f} min a dm2: {verdict}"
        )
    return lines


def _either_side(papers: "Papers", place: Place, rates: WorkRates, cap: float | None) -> list[Grade]:
    """Return the coarsest grade that still comes out and the next coarser one, which does not."""
    shop = papers.house.shop
    shelf = sorted(shop.shelf, key=RANK.__getitem__)
    most, finish = shop.clearing_minutes_per_dm2_max, place.finish or GRADES[-1]
    out = [
        grade
        for grade in shelf
        if clears(shop.hand_tool, grade, finish, rates=rates, minutes_max=most, film_max_um=cap)
    ]
    if not out:
        return shelf[-1:]
    first = shelf.index(out[0])
    return shelf[max(0, first - 1) : first + 1]


def step_lines(papers: "Papers", place: Place) -> list[str]:
    """Return the grit steps of a patch or of the face, each with how its minutes and film come about."""
    steps = place.ladder or ()
    if place.kind == "face":
        steps = next((panel.ladder for panel in papers.advice.panels if panel.id == place.panel), ())
    area = sum(spot.area_m2 for spot in papers.spots_at[place.id])
    return steps_explained(papers, steps, area, place.surface)


def steps_explained(
    papers: "Papers", steps: tuple[LadderStep, ...], area_m2: float, surface: str
) -> list[str]:
    """Return one line a step: minutes = longer of pass and cutting, disc change, powder."""
    shop, rates = papers.house.shop, rates_of(papers.house.constants, papers.house.shop)
    if not steps:
        return []
    known = shop_passport(papers, "pass_m2_per_minute")
    lines = [
        (
            f"minutes = longer of area / {shop.pass_m2_per_minute:g} m2 a min ({known}) "
            "and area x groove below / rate (assumption, law from Sydor et al. 2021), "
            f"+ {shop.disc_minutes:g} disc, + {shop.guide_coat_minutes:g} where powder goes on"
        )
    ]
    for index, step in enumerate(steps):
        once = area_m2 / shop.pass_m2_per_minute
        below_um = step.film_off_um
        if index == 0 and abs(below_um - rates.depth_um[step.tool, step.grade]) < 1e-9:
            below_um = 0.0  # from gloss: no groove to cut out, and the film that goes is the new groove
        rate = rates.rate_um[step.grade] * rates.cut_faster.get(surface, 1.0)
        cut = area_m2 * 100 * below_um / rate
        powder = ", powder before" if step.guide_coat else ""
        lines.append(
            f"  {step.grade} with {TOOL[step.tool]}{powder}: {area_m2:.3f} m2, once over {once:.2f}, "
            f"{below_um:.2f} um at {rate:.1f} um dm2 a min {cut:.2f}: "
            f"{step.minutes:.1f} min, film {step.film_off_um:.1f} um"
        )
    return lines


def minutes_lines(papers: "Papers", place: Place) -> list[str]:
    """Return how the minutes of a place add up, task by task."""
    tasks = [task for task in papers.advice.work.tasks if task.place == place.id and task.minutes]
    if not tasks:
        return []
    parts = [f"{_task(task)} {task.minutes:.1f}" for task in tasks]
    shop, lines = papers.house.shop, [f"{place.minutes:.1f} min: {', '.join(parts)}"]
    if any(task.do == "scuff" for task in tasks) and place.kind in shop.hand_minutes_per_metre:
        rate = dict(shop.hand_minutes_per_metre.items())[place.kind]
        known = shop_passport(papers, f"hand_minutes_per_metre.{place.kind}")
        lines.append(f"  by hand {rate:g} min a m ({known}), {shop.hand_minutes_least:g} at least")
    return lines


def _task(task: Task) -> str:
    return f"{task.do} {task.grade}" if task.grade else task.do


def done_lines(papers: "Papers", place: Place) -> list[str]:
    """Return the verdict on a recorded scuff, with the re-cut where it is too coarse."""
    done = place.done
    if done.grade is None and not done.fact:
        return []
    tool = f" with {TOOL[done.tool]}" if done.tool else ""
    lines = [f"{done.grade or 'grade not known'}{tool}: {done.verdict}"]
    if done.fact:
        lines.append(f"  {done_says(done)}")
    area = sum(spot.area_m2 for spot in papers.spots_at[place.id])
    return lines + steps_explained(papers, done.recut or (), area, place.surface)
