"""The list of a panel's face, patches and lines, with the numbers of the drawing."""

from prepadvisor.named import NamedTuple
from prepadvisor.tui.model.drawn import place_numbers
from prepadvisor.tui.model.says import place_sign
from prepadvisor.tui.model.session import Session, place_of
from prepadvisor.wording import trade as words
from prepadvisor.wording.names import face_name, line_name, patch_name
from prepadvisor.wording.units import Units


class PartRow(NamedTuple):
    """One entry of the list: id, words, sign of the advice there, ink, and the answer at its right end."""

    id: str
    says: str
    sign: str
    ink: str
    right: str = ""


def part_rows(session: Session) -> list[PartRow]:
    """Return the entries of the selected panel: face, patches, lines."""
    panel = session.panel
    if panel is None:
        return []
    numbers = place_numbers(session)
    rows = [_row(session, "face", f"   {face_name(patched=bool(panel.patch))}")]
    rows += [_row(session, patch.id, f"   {patch_name(patch.surface, patch.id)}") for patch in panel.patch]
    for line in panel.feature:
        facts = ["hand"] if line.judged_reach == "hand" else []
        facts += [] if line.judged_seen else ["unseen"]
        name = line_name(line.name, line.kind, line.id)
        says = f"{name}: {', '.join(facts)}" if facts else name
        rows.append(_row(session, line.id, f"{numbers[line.id]:>2} {says}"))
    return rows


def length_words(session: Session, units: Units) -> str:
    """Return how much of the selected place lies in each zone."""
    place = place_of(session.advice, session.place_id)
    if place is None or session.advice is None:
        return ""
    parts = []
    for spot in session.spots(place):
        zone = words.ZONE[spot.zone]
        if spot.length_mm is not None:
            parts.append(f"{units.length(spot.length_mm)} in {zone}")
        else:
            parts.append(f"{units.area(spot.area_m2)} in {zone}")
    return ", ".join(parts)


def _row(session: Session, part_id: str, says: str) -> PartRow:
    place = place_of(session.advice, f"{session.panel_id}/{part_id}")
    if place is None or session.advice is None:
        return PartRow(part_id, says, " ", "plain")
    sign = place_sign(session.advice, place)
    return PartRow(part_id, says, sign, {"×": "stop", "▲": "warn"}.get(sign, "plain"))
