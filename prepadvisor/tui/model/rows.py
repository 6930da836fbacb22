"""What a panel's drawing shows, the list of its parts, and all places of a job as rows."""

from collections.abc import Collection

from prepadvisor.cards import bed_span_mm, ends_of, is_mirrored
from prepadvisor.records import Advice, Job, NamedTuple, Place, Point, card_numbers, letters
from prepadvisor.tui.model.line_edits import WHOLE, Corners, room_mm
from prepadvisor.tui.model.picture import Border, NumberedLine, Picture
from prepadvisor.tui.model.says import place_name, place_sign
from prepadvisor.tui.model.session import Session, place_of
from prepadvisor.tui.model.what_if import changes
from prepadvisor.wording import ZONE, Units, Words, face_name, hold_why, line_name, patch_name

# What the drawing of the selected panel shows, and its zones in words.


def drawn(
    session: Session,
    border: Border = "",
    points: tuple[Point, ...] = (),
    cross: Point | None = None,
    done: Collection[str] = (),
) -> Picture | None:
    """Return the picture of the selected panel, or None without one.

    Args:
        session: the open job.
        border: the border that can be moved, "colour" or "fade"; empty for none.
        points: points of a path being drawn.
        cross: where the pointing cross stands.
        done: ids of the lines that are done.
    """
    panel = session.panel
    if panel is None:
        return None
    shape, outline = shape_of(session), session.house.outlines.get(panel.kind)
    numbers = place_numbers(session)
    strokes = tuple(
        NumberedLine(line.id, numbers[line.id], line.path, line.id in done) for line in panel.feature
    )
    picked = "" if border else session.part_id
    return Picture(
        panel=panel,
        shape=shape,
        mist_mm=session.house.shop.mist_mm,
        strokes=strokes,
        picked=picked,
        border=border,
        points=points,
        cross=cross,
        mirrored=is_mirrored(panel, outline),
        bed_mm=_bed_mm(session, panel.id),
        patch_signs=tuple((patch.id, numbers[patch.id]) for patch in panel.patch),
        ends=ends_of(panel, outline),
        units=Units(session.job.job.units == "imperial"),
    )


def shape_of(session: Session) -> Corners:
    """Return the outline of the selected panel, 0 to 1."""
    outline = session.house.outlines.get(session.panel.kind) if session.panel else None
    return outline.shape if outline else WHOLE


def _bed_mm(session: Session, panel_id: str) -> tuple[float, float] | None:
    """Return the depths between which the selected panel gets a wet bed, None where it gets none."""
    advice = session.advice
    own = next((one for one in advice.panels if one.id == panel_id), None) if advice else None
    return None if own is None else bed_span_mm(own, session.house.shop.wet_bed.overlap_mm)


def place_numbers(session: Session) -> dict[str, str]:
    """Return the number of each line and patch of the selected panel, the card's where there is advice."""
    panel = session.panel
    if panel is None:
        return {}
    known: dict[str, int] = {}
    if session.advice is not None:
        known = {place.feature: place.number for place in session.advice.places if place.panel == panel.id}
    ids = [*(line.id for line in panel.feature), *(patch.id for patch in panel.patch)]
    return {part: str(known.get(part) or at) for at, part in enumerate(ids, 1)}


def zone_words(session: Session, units: Units) -> list[str]:
    """Return the zones of the selected panel with their widths; nothing where the scale has them."""
    panel = session.panel
    if panel is None or (panel.colour_mm is not None and panel.colour_from in {("front",), ("rear",)}):
        return []
    if panel.role == "clear-only":
        return ["clear over the whole panel, no colour"]
    if panel.colour_mm is None:
        return ["full colour over the whole panel"]
    fade_to = panel.colour_mm + (panel.fade_mm or 0.0)
    mist_to = min(fade_to + session.house.shop.mist_mm, room_mm(panel))
    return [
        f"full colour {units.span(0, panel.colour_mm)}, fade {units.span(panel.colour_mm, fade_to)},",
        f"mist to {units.length(mist_to)}, then clear, to {units.length(room_mm(panel))}",
    ]


# The list of a panel's face, patches and lines, with the numbers of the drawing.


class PartRow(NamedTuple):
    """One entry of the list: id, words, sign of the advice there, ink, and the answer at its right end."""

    id: str
    says: str
    sign: str
    ink: str
    right: str = ""


def part_rows(session: Session) -> list[PartRow]:
    """Return the entries of the selected panel: face, lines, patches."""
    panel = session.panel
    if panel is None:
        return []
    numbers = place_numbers(session)
    rows = [_row(session, "face", f"   {face_name(patched=bool(panel.patch))}")]
    for line in panel.feature:
        facts = ["hand"] if line.judged_reach == "hand" else []
        facts += [] if line.judged_seen else ["unseen"]
        name = line_name(line.name, line.kind, line.id)
        says = f"{name}: {', '.join(facts)}" if facts else name
        rows.append(_row(session, line.id, f"{numbers[line.id]:>2} {says}"))
    rows += [
        _row(session, patch.id, f"{numbers[patch.id]:>2} {patch_name(patch.surface, patch.id)}")
        for patch in panel.patch
    ]
    return rows


def length_words(session: Session, units: Units) -> str:
    """Return how much of the selected place lies in each zone."""
    place = place_of(session.advice, session.place_id)
    if place is None or session.advice is None:
        return ""
    parts = []
    for spot in session.spots(place):
        zone = ZONE[spot.zone]
        if spot.length_mm is not None:
            parts.append(f"{units.length(spot.length_mm)} {zone}")
        else:
            parts.append(f"{units.area(spot.area_m2)} {zone}")
    return ", ".join(parts)


def _row(session: Session, part_id: str, says: str) -> PartRow:
    place = place_of(session.advice, f"{session.panel_id}/{part_id}")
    if place is None or session.advice is None:
        return PartRow(part_id, says, " ", "plain")
    sign = place_sign(session.advice, place)
    return PartRow(part_id, says, sign, {"×": "stop", "▲": "warn"}.get(sign, "plain"))


BED_SIGN = "+"
"""After a grade: a wet bed is needed there."""


def place_rows(job: Job, advice: Advice | None, before: Advice | None = None) -> list[PartRow]:
    """Return a row for each place, panel by panel, the face first: its grade or HOLD, and a needed wet bed.

    Args:
        job: the job, for the order of its panels.
        advice: the advice shown.
        before: the job's own advice while a what-if is shown; places that differ are marked ▲.
    """
    if advice is None:
        return []
    letter_of = {panel.id: (at, letters(at)) for at, panel in enumerate(job.panel)}
    places = (place for place in advice.places if place.panel in letter_of)
    ordered = sorted(
        places, key=lambda place: (letter_of[place.panel][0], place.feature != "face", place.number)
    )
    labels = [place_label(letter_of[place.panel][1], place) for place in ordered]
    wide = max(map(len, labels), default=0)
    return [
        _place_row(f"{label:<{wide}}", advice, before, place)
        for label, place in zip(labels, ordered, strict=True)
    ]


def held_words(job: Job, advice: Advice | None) -> str:
    """Return which places hold, by their numbers: "× HOLD: A8, B1"; empty where none does."""
    if advice is None or not advice.holds:
        return ""
    held = {"/".join(hold.spot.split("/")[:2]) for hold in advice.holds}
    numbers = card_numbers((panel.id for panel in job.panel), advice.places)
    found = [numbers[place.id] for place in advice.places if place.id in held and place.id in numbers]
    return f"× HOLD: {', '.join(found)}" if found else f"× HOLD: {hold_why(advice.holds[0], Words(advice))}"


def place_label(letter: str, place: Place) -> str:
    """Return the number of a place as on the card, A4; the face goes by its panel's letter."""
    return letter if place.feature == "face" else f"{letter}{place.number}"


def _place_row(label: str, advice: Advice, before: Advice | None, place: Place) -> PartRow:
    bed = BED_SIGN if place.wet_bed.need == "required" else " "
    label = f"{label} {place_name(advice, place)}"
    right = f"{place.finish or 'HOLD '}{bed}"
    sign = place_sign(advice, place)
    if before is not None and changes(before, advice, place.id):
        return PartRow(place.id, label, "▲", "warn", right)
    if before is not None:
        sign = " "
    return PartRow(place.id, label, sign, {"×": "stop", "▲": "warn"}.get(sign, "plain"), right)
