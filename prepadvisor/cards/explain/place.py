"""Why, for one place: what the card says there, and spot by spot what stands behind it."""

from prepadvisor.cards.explain.line import line_model_lines
from prepadvisor.cards.explain.section import Section, reasons
from prepadvisor.cards.explain.work import done_lines, hand_lines, minutes_lines, step_lines
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.rows import rows_of
from prepadvisor.records.advice import Place, Spot
from prepadvisor.wording import trade as words
from prepadvisor.wording.holds import hold_mend, hold_why
from prepadvisor.wording.measured import sure_of
from prepadvisor.wording.standards import deviation_says

_RANGE = ("finish_coarsest", "hand_last_coarsest", "finish_target", "finish_finest", "machine")
_LIMITS = ("risk_limit", "step_ratio_min", "film_off_max_um", "film_left_min_um")
_BED = ("wet_bed", "bed_coats_max", "bed_coats_min")
_SAID = ("holds", "cautions", "notes", "line")


def place_sections(papers: Papers, place: Place, zone: str | None) -> tuple[Section, ...]:
    """Return the sections of a place; with a zone, of that spot alone."""
    spots = [spot for spot in papers.spots_of(place) if zone is None or spot.zone == zone]
    sections = [Section(f"{papers.label(place)}   {place.id}", tuple(_on_the_card(papers, place)))]
    for spot in spots:
        sections += _spot_sections(papers, spot)
    sections += [
        Section("Hand limit ahead of the DA", tuple(hand_lines(papers, place))),
        Section("Grit steps", tuple(step_lines(papers, place))),
        Section("Minutes", tuple(minutes_lines(papers, place))),
        Section("Recorded scuff", tuple(done_lines(papers, place))),
        Section(
            "What the house changed",
            tuple(deviation_says(item) for item in papers.advice.standards.deviations),
        ),
    ]
    return tuple(section for section in sections if section.lines)


def _on_the_card(papers: Papers, place: Place) -> list[str]:
    lines = [f"{words.KIND[place.kind]}, reach {place.reach}, {'seen' if place.seen else 'not seen'}"]
    for row in rows_of(papers, place, set()):
        star = " or finer" if row.hand_or_finer else ""
        powder = "powder" if row.powder != "none" else "no powder"
        lines.append(f"{row.zones}: by hand {row.hand}{star}, then DA {row.machine}, {powder}")
    if len(place.spots) > 1 and place.finish:
        lines.append(f"sanded in one go, so {place.finish} is the finest that its zones or its panel ask for")
    return lines + [f"HOLD at {papers.where(spot)}" for spot in papers.held.get(place.id, ())]


def _idle(papers: Papers, spot: Spot) -> list[str]:
    """Return rules for hand work ahead of a DA where no DA follows."""
    return [] if spot.hand_coarsest else reasons(papers, spot.because, ("hand_coarsest",))


def _spot_sections(papers: Papers, spot: Spot) -> list[Section]:
    name = f"{words.ZONE[spot.zone]} ({spot.id})"
    size = (
        papers.units.length(spot.length_mm) + " long" if spot.length_mm else papers.units.area(spot.area_m2)
    )
    lines = [f"{size} in this zone"]
    if spot.finish:
        finish = spot.finish
        lines.append(
            f"range {finish.coarsest} to {finish.finest}, chosen {finish.chosen} by "
            f"{words.TOOL[finish.tool]}: {finish.verdict}"
        )
    else:
        lines.append("no finish: see the hold")
    held = [hold for hold in papers.advice.holds if hold.spot == spot.id]
    lines += [_hold(hold_why(hold, papers.words), hold_mend(hold, papers.words)) for hold in held]
    bed = spot.wet_bed
    return [
        Section(f"Grit range, {name}", (*lines, *reasons(papers, spot.because, _RANGE))),
        Section(f"Limits, {name}", tuple(reasons(papers, spot.because, _LIMITS))),
        Section(f"Line model, {sure_of(spot)}, {name}", tuple(line_model_lines(papers, spot))),
        Section(
            f"Wet bed, {name}",
            (f"{bed.need}, coats {bed.coats}", *reasons(papers, spot.because, _BED)),
        ),
        Section(
            f"Guide coat, {name}",
            (spot.guide_coat, *reasons(papers, spot.because, ("guide_coat",))),
        ),
        Section(f"Also said, {name}", tuple(reasons(papers, spot.because, _SAID))),
        Section(f"Rules met that decide nothing here, {name}", tuple(_idle(papers, spot))),
    ]


def _hold(why: str, mend: str) -> str:
    return f"HOLD: {why} -> {mend}" if mend else f"HOLD: {why}"
