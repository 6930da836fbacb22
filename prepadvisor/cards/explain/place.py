"""Why, for one place or one panel: what the card says there, and what stands behind it."""

from prepadvisor.cards.explain.line import line_model_lines
from prepadvisor.cards.explain.section import (
    Section,
    done_lines,
    hand_lines,
    minutes_lines,
    passport,
    reasons,
    shop_passport,
    step_lines,
)
from prepadvisor.cards.sheet.panel import bed_stretch, four_answers
from prepadvisor.cards.sheet.papers import Papers
from prepadvisor.cards.sheet.rows import rows_of
from prepadvisor.records import PanelAdvice, Place, Spot, finest
from prepadvisor.wording import (
    KIND,
    TOOL,
    ZONE,
    coats,
    deviation_says,
    exception_says,
    hold_mend,
    hold_why,
    sure_of,
)

_RANGE = ("finish_coarsest", "hand_last_coarsest", "finish_target", "finish_finest", "machine")
_LIMITS = ("risk_limit", "step_ratio_min", "film_off_max_um", "film_left_min_um")
_BED = ("wet_bed", "bed_coats_max", "bed_coats_min")
_SAID = ("holds", "cautions", "notes", "line")


def place_sections(papers: Papers, place: Place, zone: str | None) -> tuple[Section, ...]:
    """Return the sections of a place; with a zone, of that spot alone."""
    spots = [spot for spot in papers.spots_at[place.id] if zone is None or spot.zone == zone]
    sections = [Section(f"{papers.words.label(place)}   {place.id}", tuple(_on_the_card(papers, place)))]
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
    lines = [f"{KIND[place.kind]}, reach {place.reach}, {'seen' if place.seen else 'not seen'}"]
    for row in rows_of(papers, place, set()):
        star = " or finer" if row.hand_or_finer else ""
        powder = "powder" if row.powder != "none" else "no powder"
        lines.append(f"{row.zones}: by hand {row.hand}{star}, then DA {row.machine}, {powder}")
    if len(place.spots) > 1 and place.finish:
        lines.append(f"sanded in one go, so {place.finish} is the finest that its zones or its panel ask for")
    return lines + [f"HOLD at {papers.words.where(spot)}" for spot in papers.held.get(place.id, ())]


def _idle(papers: Papers, spot: Spot) -> list[str]:
    """Return rules for hand work ahead of a DA where no DA follows."""
    return [] if spot.hand_coarsest else reasons(papers, spot.because, ("hand_coarsest",))


def _spot_sections(papers: Papers, spot: Spot) -> list[Section]:
    name = f"{ZONE[spot.zone]} ({spot.id})"
    size = (
        papers.units.length(spot.length_mm) + " long" if spot.length_mm else papers.units.area(spot.area_m2)
    )
    lines = [f"{size} in this zone"]
    if spot.finish:
        finish = spot.finish
        lines.append(
            f"range {finish.coarsest} to {finish.finest}, chosen {finish.chosen} by "
            f"{TOOL[finish.tool]}: {finish.verdict}"
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


# Why, for a whole panel: which places decide its four answers, its film, minutes, and what the job mixes.


def panel_sections(papers: Papers, panel: PanelAdvice) -> tuple[Section, ...]:
    """Return the sections of a panel."""
    places = papers.places_of[panel.id]
    answers = tuple(f"{answer.title}: {answer.big}" for answer in four_answers(papers, panel))
    faces = [place for place in places if place.kind == "face"]
    sections = (
        Section(f"{papers.letter_of[panel.id]} {panel.id}", answers),
        Section("Which places decide", tuple(_deciding(papers, panel, places))),
        Section("Zones", tuple(_bands(papers, panel))),
        Section("Wet bed", tuple(_bed(papers, panel))),
        Section("Grit steps of the face", tuple(line for face in faces for line in step_lines(papers, face))),
        Section("Film", tuple(_film(papers, panel))),
        Section("Minutes", tuple(_minutes(papers, panel, places))),
        Section("Exceptions", tuple(exception_says(each, papers.words) for each in panel.exceptions)),
        Section("To mix, for the whole job", tuple(_mix(papers))),
        Section("Discs, for the whole job", tuple(_discs(papers))),
        Section(
            "What the house changed",
            tuple(deviation_says(item) for item in papers.advice.standards.deviations),
        ),
    )
    return tuple(section for section in sections if section.lines)


def _deciding(papers: Papers, panel: PanelAdvice, places: list[Place]) -> list[str]:
    lines = []
    by_machine = [one for one in places if one.kind != "patch" and one.id not in papers.hand_only]
    for title, grade, among in (
        ("final DA grade", panel.face, by_machine),
        ("hand-only grade", panel.hand_only, [one for one in places if one.id in papers.hand_only]),
    ):
        if grade and among:
            asking = [one for one in among if _finest_of_its_spots(papers, one) == grade]
            who = papers.words.numbers(asking)
            lines.append(f"{title} {grade}: the finest any of its places asks for: {who}")
    ahead = [one for one in by_machine if one.hand_coarsest and one.hand_coarsest == panel.hand]
    if panel.hand and ahead:
        lines.append(f"by hand first {panel.hand}: the finest hand limit: {papers.words.numbers(ahead)}")
    bed = panel.wet_bed
    if bed.need != "no":
        ask = [one for one in places if one.wet_bed.need == bed.need]
        lines.append(f"wet bed {bed.need}, {coats(bed.coats)}: {papers.words.numbers(ask)}")
    return [*lines, "prepadvisor why JOB NUMBER tells why each of these is what it is"]


def _finest_of_its_spots(papers: Papers, place: Place) -> str | None:
    chosen = [spot.finish.chosen for spot in papers.spots_at[place.id] if spot.finish]
    return finest(*chosen) if chosen else None


def _bands(papers: Papers, panel: PanelAdvice) -> list[str]:
    mist = papers.house.shop.mist_mm
    known = shop_passport(papers, "mist_mm")
    lines = [
        f"{band.zone}: {papers.units.span(band.from_mm, band.to_mm)}, {papers.units.area(band.area_m2)}"
        for band in panel.bands
    ]
    if any(band.zone == "fade" for band in panel.bands):
        lines.append(f"mist of {papers.units.length(mist)} counts as fade ({known})")
    return lines


def _bed(papers: Papers, panel: PanelAdvice) -> list[str]:
    bed, material = panel.wet_bed, papers.house.shop.wet_bed
    if bed.need == "no":
        return ["none is asked for"]
    stretch = bed_stretch(bed, panel.bands, material.overlap_mm, papers.units)
    overlap = papers.units.length(material.overlap_mm)
    return [
        (
            f"{coats(bed.coats)} over {stretch or 'its zones'}, {papers.units.area(bed.area_m2)}; "
            f"runs {overlap} past the fade ({shop_passport(papers, 'wet_bed.overlap_mm')})"
        )
    ]


def _film(papers: Papers, panel: PanelAdvice) -> list[str]:
    film, units = panel.film, papers.units
    lines = (
        [] if film.reading_um is None else [f"lowest gauge reading {units.film(film.reading_um)}, total film"]
    )
    if film.off_um:
        lines.append(
            f"the steps of the face take {units.film(film.off_um)}: each the groove depth of the one before"
        )
    if film.off_max_um is not None:
        lines.append(f"at most {units.film(film.off_max_um)} may come off the face")
    return [*lines, *([f"{units.film(film.left_um)} left"] if film.left_um is not None else [])]


def _minutes(papers: Papers, panel: PanelAdvice, places: list[Place]) -> list[str]:
    face = sum(step.minutes for step in panel.ladder)
    recut = sum(step.minutes for place in places for step in place.done.recut or ())
    each = ", ".join(f"{papers.words.number(place)} {place.minutes:.1f}" for place in places if place.minutes)
    return [f"{panel.minutes:.1f} = face {face:.1f} + lines and patches ({each}) + re-cuts {recut:.1f}"]


def _mix(papers: Papers) -> list[str]:
    bed, mixing = papers.house.shop.wet_bed, papers.house.constants.mixing
    wanted = [panel for panel in papers.advice.panels if panel.wet_bed.need != "no"]
    if not wanted:
        return []
    solids, film, transfer = (
        shop_passport(papers, f"wet_bed.{name}")
        for name in ("volume_solids", "dry_um_per_coat", "transfer_efficiency")
    )
    per_m2 = 1000 * bed.dry_um_per_coat / (1000 * bed.volume_solids * bed.transfer_efficiency)
    parts = " + ".join(f"{panel.wet_bed.area_m2:.3f} m2 x {panel.wet_bed.coats}" for panel in wanted)
    computed = per_m2 * sum(panel.wet_bed.area_m2 * panel.wet_bed.coats for panel in wanted)
    return [
        (
            f"computed: ({parts}) x {bed.dry_um_per_coat:g} um dry / (solids {bed.volume_solids:g} x "
            f"transfer {bed.transfer_efficiency:g}) = {computed:.0f} ml"
        ),
        (f"  solids {solids}, film {film}, transfer {transfer}"),
        (
            f"mixed: {mixing.factor.value:g} x {computed:.0f} + {mixing.extra_ml.value:g} ml, up to the next "
            f"{mixing.step_ml.value:g}, at least {mixing.least_ml.value:g} ({passport(mixing.factor)}): "
            f"{papers.advice.mix_ml} ml"
        ),
    ]


def _discs(papers: Papers) -> list[str]:
    if not papers.advice.discs:
        return []
    known = shop_passport(papers, "disc_dm2")
    listed = ", ".join(f"{grade} {count}" for grade, count in papers.advice.discs.items())
    return [
        f"{listed}: one for every {papers.house.shop.disc_dm2:g} dm2 sanded with it ({known}), at least one"
    ]
