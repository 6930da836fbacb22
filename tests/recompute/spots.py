"""Every spot of a job decided plainly: facts, rules, grit range, wet bed, line."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from shapely.geometry.base import BaseGeometry

from tests.recompute import climbing, scratch, shapes
from tests.recompute.house import GRAIN, ORDERED, House, coarsest, decide, finer, finest, plain
from tests.recompute.priming import Ring
from tests.recompute.troubles import Trouble, behind, of_rules, shelf_lacks

FLAKES: Final = ORDERED["flake"]
COLOUR_GOES_ON: Final = frozenset(
    {"aged-clear", "cured-clear", "primer-surfacer", "sealer", "primed-plastic"}
)
CUT_FLAT: Final = frozenset({"filler", "feather-edge"})
NO_FILM: Final = frozenset({"filler", "feather-edge", "primed-plastic"})
SANDERS: Final = frozenset({"block", "da-hard", "da", "da-soft"})


@dataclass
class Part:
    """A face, patch or line of a panel, before and after it is decided.

    `kept_off` names the rules that keep a machine off it, by the zones in which they do.
    """

    panel: Mapping[str, Any]
    id: str
    kind: str
    surface: str
    next: str
    shape: BaseGeometry
    amounts: dict[str, float]
    was: Mapping[str, Any] | None
    reach: str = "machine"
    seen: bool = True
    crosses: tuple[str, ...] = ()
    ring_of: str = ""
    kept_off: Mapping[str, frozenset[str]] = field(default_factory=dict)
    spots: dict[str, "Answer"] = field(default_factory=dict)

    @property
    def is_line(self) -> bool:
        """Whether it has a length."""
        return self.kind not in ("face", "patch")

    @property
    def amount(self) -> float:
        """Its mm or m²."""
        return sum(self.amounts.values())

    @property
    def by_hand(self) -> bool:
        """Whether hand is the last touch."""
        return all(spot.by_hand for spot in self.spots.values())


@dataclass
class Answer:
    """One spot decided; `window` is coarsest, finest, chosen and verdict."""

    by_hand: bool
    tool: str
    says: dict[str, Any]
    window: tuple[str, str, str, str] | None = None
    need: str = "no"
    coats: int = 0
    line: scratch.Estimate | None = None
    silent: str | None = None
    trouble: tuple[Trouble, ...] = ()


class Colour:
    """The colour as judged, and what the line model says of it."""

    def __init__(self, stated: Mapping[str, Any], house: House) -> None:
        """Judge what is not stated by the strict side."""
        self.house = house
        self.word = plain(stated.get("book", ""))
        self.entry = entry = house.book.get(self.word, {}) if self.word else {}
        self.sealed = bool(entry.get("sealed_by"))
        fills = entry if self.sealed else {}
        own = stated.get("flake", "unknown") or "unknown"
        of_book = entry.get("flake", "unknown")
        self.stages = max(stated.get("stages") or fills.get("stages") or 3, entry.get("stages", 0))
        tones = [stated.get("tone") or fills.get("tone") or "light", entry.get("tone", "dark")]
        self.tone = max(tones, key=ORDERED["tone"].index)
        known = [each for each in (own, of_book) if each != "unknown"]
        if own == "unknown" and not (self.sealed and known):
            known.append("very-fine")
        if self.stages == 3:
            known.append("very-fine")
        self.flake = max(known, key=FLAKES.index)
        finer_job = "unknown" not in (own, of_book) and FLAKES.index(own) > FLAKES.index(of_book)
        self.stands = self.sealed and not finer_job
        self.numbers = None
        if self.flake != "solid":
            of_class = house.constants["flake"][self.flake]
            usual, booked = of_class["log_sd"]["value"], entry.get("log_sd", 0.0)
            spread = (booked or usual) if self.stands else max(usual, booked)
            self.numbers = scratch.Flake(
                self._least(of_class, stated, "flake_um", "d50_um"),
                stated.get("log_sd") or spread,
                self._least(of_class, stated, "tilt_deg", "tilt_deg"),
            )

    def _least(self, of_class: Mapping[str, Any], stated: Mapping[str, Any], key: str, of: str) -> float:
        """Return the smaller of class and measurements; a sealed one stands for the class's."""
        usual = float(of_class[of]["value"])
        if self.stands and key in self.entry:
            usual = float(self.entry[key])
        return min(usual, *(float(each[key]) for each in (stated, self.entry) if key in each), usual)

    def silence(self, part: Part, zone: str) -> str | None:
        """Return why there is nothing to estimate, None where a flake that is seen comes over a scratch."""
        if zone == "clear" or part.next != "base":
            return "no-flake-next"
        if part.surface not in COLOUR_GOES_ON:
            return "surface"
        if self.numbers is None:
            return "no-flake"
        return None if part.seen else "not-seen"

    def line(self, part: Part, zone: str, tool: str, grade: str, coats: int) -> scratch.Estimate | None:
        """Return the estimate, None where no flake that is seen comes over the scratch."""
        if self.silence(part, zone) or self.numbers is None:
            return None
        solids = self.house.shop["wet_bed"]["set_solids"]
        return _estimate(self.house, id(self.house), self.numbers, tool, grade, zone, coats, solids)


_known: dict[tuple[object, ...], scratch.Estimate] = {}


def _estimate(house: House, key: int, *asked: Any) -> scratch.Estimate:
    found = _known.get((key, *asked))
    if found is None:
        found = _known[(key, *asked)] = scratch.estimate(house.constants, *asked)
    return found


def parts(
    panel: Mapping[str, Any], house: House, laid: Mapping[str, BaseGeometry], rings: Sequence[Ring] = ()
) -> list[Part]:
    """Return the face, patches, rings round them and lines of a panel, with how much lies in each zone.

    Args:
        panel: the panel as it stands at some time.
        house: its usual lines.
        laid: its zones, which never change.
        rings: the rings round primed patches.
    """
    patches = {patch["id"]: shapes.patch_box(panel, patch) for patch in panel.get("patch", [])}
    face = shapes.whole(panel)
    for each in (*patches.values(), *(ring.outer for ring in rings)):
        face = face.difference(each)
    found = []
    areas = shapes.amounts(face, laid, 1e-6, 1e6)
    common = (panel["surface"], panel.get("next", "base"))
    if areas:
        found.append(Part(panel, "face", "face", *common, face, areas, panel.get("now")))
    for patch in panel.get("patch", []):
        shape = patches[patch["id"]]
        own = (patch["surface"], patch.get("next", "base"), shape, shapes.amounts(shape, laid, 1e-6, 1e6))
        found.append(Part(panel, patch["id"], "patch", *own, patch.get("now")))
    keyed = {"tool": "da", "grade": house.shop["ring_grade"]}
    for ring in rings:
        lies = shapes.amounts(ring.shape, laid, 1e-6, 1e6)
        if lies:
            name = f"{ring.patch}-ring"
            found.append(Part(panel, name, "patch", *common, ring.shape, lies, keyed, ring_of=ring.patch))
    for line in panel.get("feature") or house.outlines[panel["kind"]]["feature"]:
        path = shapes.line_of(panel, line)
        found.append(
            Part(
                panel, line["id"], line["kind"], *common, path, shapes.amounts(path, laid, 1e-3, 1),
                line.get("done"), line.get("reach", "hand"),
                line.get("seen", line["kind"] not in ("flange", "cut-out")),
                tuple(id_ for id_, shape in patches.items() if shapes.length_inside(path, shape) > 1),
            )
        )  # fmt: skip
    return found


def decided(part: Part, colour: Colour) -> None:
    """Decide every zone of a part; kept off the machine in one zone it is by hand in all."""
    house = colour.house
    said = {zone: decide(house, _facts(part, zone, colour)) for zone in part.amounts}
    off = any(each["machine"] == "never" for each in said.values())
    by_hand = part.reach == "hand" or off
    if off and part.reach != "hand":
        part.kept_off = {
            zone: behind(each, "machine") for zone, each in said.items() if each["machine"] == "never"
        }
    for zone in part.amounts:
        facts = _facts(part, zone, colour)
        says = decide(house, {**facts, "reach": "hand"}) if by_hand and part.reach != "hand" else said[zone]
        part.spots[zone] = _spot(part, zone, says, by_hand, colour)


def _facts(part: Part, zone: str, colour: Colour) -> dict[str, Any]:
    panel = part.panel
    return {
        "flake": colour.flake,
        "tone": colour.tone,
        "book": colour.word if colour.entry else "",
        "zone": zone,
        "stages": colour.stages,
        "role": panel["role"],
        "surface": part.surface,
        "next": part.next,
        "feature": part.kind,
        "reach": part.reach,
        "seen": part.seen,
        "panel": colour.house.kinds(panel["kind"]),
        "special": panel.get("special", "none"),
        "film_um": min(panel.get("film_um") or [None]),
        "length_mm": part.amounts[zone] if part.is_line else None,
        "panel_m2": panel["length_mm"] * panel["height_mm"] / 1e6,
    }


def last_tool(part: Part, says: Mapping[str, Any], by_hand: bool, house: House) -> str:
    """Return the tool of the last touch."""
    if by_hand:
        return str(house.shop["hand_tool"])
    if part.surface in CUT_FLAT:
        used = part.was["tool"] if part.was else "block"
        return used if used in SANDERS else "block"
    soft = says["machine"] == "interface-pad" and house.shop.get("interface_pad", True)
    return "da-soft" if soft else str(house.shop["finishing_tool"])


def _spot(part: Part, zone: str, says: dict[str, Any], by_hand: bool, colour: Colour) -> Answer:
    house = colour.house
    forbidden = says["bed_coats_max"] == 0
    asked = "no" if forbidden else says["wet_bed"]
    answer = Answer(by_hand, last_tool(part, says, by_hand, house), says, need=asked)
    answer.silent = colour.silence(part, zone)
    asked_coats = says["bed_coats_min"] or 0
    least = max(
        1, min(asked_coats, says["bed_coats_max"] if says["bed_coats_max"] is not None else asked_coats)
    )
    answer.coats = 0 if answer.need == "no" else least
    low, high = says["hand_last_coarsest" if by_hand else "finish_coarsest"], says["finish_finest"]
    answer.trouble = of_rules(says, by_hand=by_hand)
    if answer.trouble:
        return answer
    grades = [grade for grade in house.shelf if GRAIN[high] <= GRAIN[grade] <= GRAIN[low]]
    if not grades:
        answer.trouble = (shelf_lacks(low, high),)
        return answer
    limit = 1.0 if says["risk_limit"] is None else says["risk_limit"]

    def risk(grade: str, coats: int) -> float:
        line = colour.line(part, zone, answer.tool, grade, coats)
        return line.risk if line else 0.0

    safe = [grade for grade in grades if risk(grade, 0) <= limit]
    if safe:
        target = says["finish_target"]
        fine = [grade for grade in safe if target is None or not finer(target, grade)]
        chosen = coarsest(fine) if fine else finest(safe)
        answer.window = (coarsest(safe), finest(safe), chosen, "safe")
    else:
        chosen, most = finest(grades), says["bed_coats_max"] or 0
        if colour.flake in {"fine", "very-fine", "vapour"} and finer("P800", chosen):
            most = 0  # no bed saves a coarser cut
        enough = [coats for coats in range(1, most + 1) if risk(chosen, coats) <= limit]
        coats = enough[0] if enough else most
        if risk(chosen, coats) > limit:
            if risk(chosen, coats) > house.constants["uncertainty"]["borderline_risk"]["value"]:
                shown = {"grade": chosen, "coats": coats, "risk": risk(chosen, coats), "panels": None}
                answer.trouble = (Trouble("will-show", shown),)
                if most:
                    answer.need, answer.coats = "required", max(most, least)
                return answer
            answer.window = (chosen, chosen, chosen, "borderline")
        else:
            answer.window = (chosen, chosen, chosen, "safe")
        if coats:
            answer.need, answer.coats = "required", max(coats, least)
    answer.line = colour.line(
        part, zone, answer.tool, answer.window[2], answer.coats if answer.need == "required" else 0
    )
    return answer


def film_max(part: Part, says: Mapping[str, Any]) -> float | None:
    """Return the film that may be cut, None where a gauge tells nothing of the clear."""
    return None if part.surface in NO_FILM else says["film_off_max_um"]


def clears(house: House, tool: str, grade: str, final: str, film: float | None) -> bool:
    """Say whether one pass of the final grade takes a hand groove out, in its time and within the film."""
    depth = climbing.depth_um(house, tool, grade)
    if film is not None and depth > film + 1e-9:
        return False
    return bool(depth / climbing.rate(house, final) <= house.shop["clearing_minutes_per_dm2_max"] + 1e-9)


def hand_limit(part: Part, says: Mapping[str, Any], final: str | None, house: House) -> str | None:
    """Return the coarsest hand grade ahead of a final DA grade, None where there is none or no DA follows."""
    if final is None or not part.is_line or part.by_hand:
        return None
    film, by_rule = film_max(part, says), says["hand_coarsest"]
    cleared = [grade for grade in house.shelf if clears(house, house.shop["hand_tool"], grade, final, film)]
    if not cleared:
        return None
    limit = finest([coarsest(cleared), by_rule]) if by_rule else coarsest(cleared)
    within = [grade for grade in house.shelf if not finer(limit, grade)]
    return coarsest(within) if within else None
