"""Advice for any job against a second, naive writing of how a spot, a place and a panel are decided.

The naive one knows no ranks, no caches and no records of the program: it goes by mean grain in µm, takes
the coarsest or finest by `max` and `min`, and asks the house standards and the line model only for single
answers. Lengths, areas and the grit steps have their own tests.
"""

from typing import Any, NamedTuple

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from prepadvisor.cases.colour import FlakeNumbers
from prepadvisor.cases.facts import Facts
from prepadvisor.planning import advise
from prepadvisor.planning.line_model import LineModel
from prepadvisor.records.advice import Advice, Place, Spot
from prepadvisor.records.decision import Decision
from prepadvisor.records.job import Feature, Job, Panel, Patch
from prepadvisor.standards.house import House
from prepadvisor.surface.grades import DS50_UM as GRAIN

NEEDS = ("no", "advised", "required")
GUIDES = ("no", "before-final", "after-hand", "every-change")
CLASSES = ("solid", "coarse", "medium", "fine", "very-fine", "vapour")


class Answer(NamedTuple):
    """What the naive writing says of one spot; `window` is (coarsest, finest, chosen, verdict)."""

    window: tuple[str, str, str, str] | None
    by_hand: bool
    tool: str
    need: str
    coats: int
    line: tuple[float, float] | None
    decision: Decision


class Naive:
    """One job decided naively."""

    def __init__(self, job: Job, house: House) -> None:
        self.house = house
        self.colour = job.colour
        self.shelf = sorted(set(house.shop.shelf), key=lambda grade: -GRAIN[grade])
        flake = "very-fine" if job.colour.flake == "unknown" else job.colour.flake
        if job.colour.stages in (None, 3) and CLASSES.index(flake) < CLASSES.index("very-fine"):
            flake = "very-fine"
        self.flake = flake
        self.numbers = self.flake_numbers()
        self.model = LineModel(house.constants)
        self.k = {tool: each.value for tool, each in house.constants.groove.depth_per_grain.items()}

    def flake_numbers(self) -> FlakeNumbers | None:
        """Of size and tilt the smaller of class and measurement, the spread as measured."""
        if self.flake == "solid":
            return None
        of_class, colour = self.house.constants.flake[self.flake], self.colour
        d50, tilt = of_class.d50_um.value, of_class.tilt_deg.value
        return FlakeNumbers(
            d50 if colour.flake_um is None else min(d50, colour.flake_um),
            of_class.log_sd.value if colour.log_sd is None else colour.log_sd,
            tilt if colour.tilt_deg is None else min(tilt, colour.tilt_deg),
        )

    def case(self, panel: Panel, part: Feature | Patch | None, spot: Spot) -> Facts:
        """State a spot as facts, straight from the job."""
        line = part if isinstance(part, Feature) else None
        own = part if isinstance(part, Patch) else panel
        unseen = line is not None and (
            not line.seen if line.seen is not None else line.kind in ("flange", "cut-out")
        )
        return Facts(
            flake=self.flake,
            tone=self.colour.tone or "light",
            zone=spot.zone,
            stages=self.colour.stages or 3,
            role=panel.role,
            surface=own.surface,
            next=own.next,
            feature=line.kind if line else "patch" if part else "face",
            reach=(line.reach or "hand") if line else "machine",
            seen=not unseen,
            panel=panel.kind,
            special=panel.special,
            film_um=min(panel.film_um) if panel.film_um else None,
            length_mm=spot.length_mm,
            panel_m2=panel.length_mm * panel.height_mm / 1e6,
        )

    def decide(self, case: Facts, was: str | None, hand: bool = False) -> Answer:
        """Decide a spot: grit range, chosen grade, wet bed, line; `hand` keeps the machine off."""
        decision = self.house.engine.decide(case)
        by_hand = case.reach == "hand"
        if (hand or decision.machine == "never") and not by_hand:
            by_hand, decision = True, self.house.engine.decide(case._replace(reach="hand"))
        tool = self.tool(case, decision, by_hand, was)
        need, coats = decision.wet_bed, 0 if decision.wet_bed == "no" else 1
        coarsest = decision.hand_last_coarsest if by_hand else decision.finish_coarsest
        finest = decision.finish_finest
        nothing = Answer(None, by_hand, tool, need, coats, None, decision)
        if decision.holds or coarsest is None or finest is None:
            return nothing
        rules = [one for one in self.shelf if GRAIN[finest] <= GRAIN[one] <= GRAIN[coarsest]]
        if not rules:
            return nothing
        limit = decision.risk_limit if decision.risk_limit is not None else 1.0
        safe = [one for one in rules if self.risk(case, tool, one, 0) <= limit]
        if safe:
            target = decision.finish_target
            enough = [one for one in safe if target is None or GRAIN[one] <= GRAIN[target]]
            chosen = max(enough, key=GRAIN.__getitem__) if enough else min(safe, key=GRAIN.__getitem__)
            line = self.line(case, tool, chosen, coats if need == "required" else 0)
            return nothing._replace(window=(safe[0], safe[-1], chosen, "safe"), line=line)
        grade = min(rules, key=GRAIN.__getitem__)
        most = decision.bed_coats_max or 0
        for n in range(1, most + 1):
            if self.risk(case, tool, grade, n) <= limit:
                window = (grade, grade, grade, "safe")
                line = self.line(case, tool, grade, n)
                return Answer(window, by_hand, tool, "required", n, line, decision)
        if self.risk(case, tool, grade, most) > 0.5:
            return nothing._replace(coats=-1, need="")
        return Answer(
            (grade, grade, grade, "borderline"), by_hand, tool, "required" if most else need, most or coats,
            self.line(case, tool, grade, most), decision,
        )  # fmt: skip

    def tool(self, case: Facts, decision: Decision, by_hand: bool, was: str | None) -> str:
        """Return the tool of the last touch."""
        if by_hand:
            return self.house.shop.hand_tool
        if case.surface in ("filler", "feather-edge"):  # cut flat
            return was if was in ("block", "da", "da-hard", "da-soft") else "block"
        return "da-soft" if decision.machine == "interface-pad" else self.house.shop.finishing_tool

    def line(self, case: Facts, tool: str, grade: str, coats: int) -> tuple[float, float] | None:
        """Return strength and risk, None where the line model is silent."""
        colour_may_go_on = case.surface not in ("electrocoat", "filler", "feather-edge", "bare")
        if case.zone == "clear" or case.next != "base" or not colour_may_go_on or not case.seen:
            return None
        if self.numbers is None:
            return None
        solids = self.house.shop.wet_bed.set_solids
        return tuple(self.model.estimate(self.numbers, tool, grade, case.zone, coats, solids))  # type: ignore[return-value]

    def risk(self, case: Facts, tool: str, grade: str, coats: int) -> float:
        """Return the risk that lines show, 0 where the model is silent."""
        line = self.line(case, tool, grade, coats)
        return line[1] if line else 0.0

    def hand_limit(self, decision: Decision, surface: str, final: str) -> str | None:
        """Return the coarsest hand grade whose groove a final DA grade cuts out."""
        shop = self.house.shop
        rate = 10 * (min(GRAIN[final], 100) / 18.3) ** 0.65
        no_film = surface in ("filler", "feather-edge", "primed-plastic")
        cap = decision.film_off_max_um
        good = [
            grade
            for grade in self.shelf
            if (depth := self.k[shop.hand_tool] * GRAIN[grade]) / rate <= shop.clearing_minutes_per_dm2_max
            and (no_film or cap is None or depth <= cap)
            and (decision.hand_coarsest is None or GRAIN[grade] <= GRAIN[decision.hand_coarsest])
        ]
        return max(good, key=GRAIN.__getitem__) if good else None


def parts(panel: Panel) -> dict[str, Feature | Patch | None]:
    """Return what a panel's place ids stand for."""
    return {
        "face": None,
        **{patch.id: patch for patch in panel.patch},
        **{line.id: line for line in panel.feature},
    }


def decided(job: Job, house: House, advice: Advice) -> list[tuple[Spot, Facts, Answer]]:
    """Return each spot with its facts and its naive answer; a place by hand in part is by hand in whole."""
    naive, by_hand = Naive(job, house), set()
    found: list[tuple[Spot, Facts, Answer]] = []
    for spot in advice.spots:
        panel = next(one for one in job.panel if one.id == spot.panel)
        part = parts(panel)[spot.feature]
        was = part.now if isinstance(part, Patch) else panel.now if part is None else part.done
        case = naive.case(panel, part, spot)
        answer = naive.decide(case, was.tool if was else None)
        found.append((spot, case, answer))
        by_hand |= {(spot.panel, spot.feature)} if answer.by_hand else set()
    return [
        (spot, case, naive.decide(case, None, hand=True) if (spot.panel, spot.feature) in by_hand else answer)
        for spot, case, answer in found
    ]


any_case = settings(max_examples=90, suppress_health_check=list(HealthCheck))


@given(data=st.data())
@any_case
def test_every_spot_is_decided_as_the_naive_writing_does(
    data: st.DataObject, any_job: st.SearchStrategy[Job], houses: st.SearchStrategy[House]
) -> None:
    """Range, chosen grade, verdict, tool, last touch, wet bed and line."""
    job, house = data.draw(any_job), data.draw(houses)
    advice = advise(job, house)
    held = {hold.spot for hold in advice.holds}
    for spot, _, naive in decided(job, house, advice):
        finish = spot.finish
        got = (finish.coarsest, finish.finest, finish.chosen, finish.verdict) if finish else None
        assert got == naive.window, spot.id
        assert (spot.reach == "hand") == naive.by_hand
        if finish is None:
            assert spot.id in held
            assert spot.line is None
            continue
        assert finish.tool == naive.tool
        assert (spot.wet_bed.need, spot.wet_bed.coats) == (naive.need, naive.coats), spot.id
        assert (spot.line) == naive.line
        assert spot.guide_coat == naive.decision.guide_coat


def _expected_place(spots: list[tuple[Spot, Facts, Answer]]) -> tuple[str | None, bool]:
    """Return a place's own grade and whether it is split, before the panel's one answer."""
    windows = [naive.window for _, _, naive in spots]
    if not all(windows):
        return None, False
    grade = min((window[2] for window in windows if window), key=GRAIN.__getitem__)
    return grade, any(GRAIN[grade] < GRAIN[window[1]] for window in windows if window)


@given(data=st.data())
@any_case
def test_every_place_and_panel_is_decided_as_the_naive_writing_does(
    data: st.DataObject, any_job: st.SearchStrategy[Job], houses: st.SearchStrategy[House]
) -> None:
    """One grade a place, one answer a panel where the ranges allow it, hand limit, guide coat, wet bed."""
    job, house = data.draw(any_job), data.draw(houses)
    advice, naive = advise(job, house), Naive(job, house)
    by_place: dict[str, list[tuple[Spot, Facts, Answer]]] = {}
    for spot, case, answer in decided(job, house, advice):
        by_place.setdefault(f"{spot.panel}/{spot.feature}", []).append((spot, case, answer))
    decided_places = [place for place in advice.places if not place.ring_of]
    assert [place.id for place in decided_places] == list(by_place)
    own = {name: _expected_place(spots) for name, spots in by_place.items()}
    for panel in advice.panels:
        mine = [place for place in decided_places if place.panel == panel.id]
        groups: dict[str, list[Place]] = {"hand": [], "machine": [], "patch": []}
        for place in mine:
            by_hand = all(answer.by_hand for _, _, answer in by_place[place.id])
            groups["hand" if by_hand else "patch" if place.kind == "patch" else "machine"].append(place)
        under_clear = _under_clear_alone(groups["hand"], by_place, own, panel.hand)
        groups["hand"] = [place for place in groups["hand"] if place.id not in under_clear]
        if not any(own[place.id][0] for place in groups["hand"]):
            told = next((grade for grade in under_clear.values() if grade), None)
            assert panel.hand_only == told
            groups["hand"] = []
        for group, told in (("hand", panel.hand_only), ("machine", panel.face)):
            if group == "hand" and not groups["hand"]:
                continue
            grades = [grade for place in groups[group] if (grade := own[place.id][0])]
            assert told == (min(grades, key=GRAIN.__getitem__) if grades else None)
        for group, places in groups.items():
            one = {"hand": panel.hand_only, "machine": panel.face, "patch": None}[group]
            for place in places:
                _check_place(place, by_place[place.id], own[place.id], one, naive)
        _check_bed(panel, [spot for place in mine for spot, _, _ in by_place[place.id]])
        hands = [place.hand_coarsest for place in mine if place.hand_coarsest]
        assert panel.hand == (min(hands, key=GRAIN.__getitem__) if hands else None)


def _under_clear_alone(
    places: list[Place],
    by_place: dict[str, list[tuple[Spot, Facts, Answer]]],
    own: dict[str, tuple[str | None, bool]],
    hand: str | None,
) -> dict[str, str | None]:
    """Check hand-only places that only clear goes on: the panel's hand grade if P800 to P1500, else P800."""
    found: dict[str, str | None] = {}
    for place in places:
        if any(spot.zone != "clear" for spot, _, _ in by_place[place.id]):
            continue
        wanted = hand if hand and GRAIN["P1500"] <= GRAIN[hand] <= GRAIN["P800"] else "P800"
        windows = [answer.window for _, _, answer in by_place[place.id]]
        fits = all(window and GRAIN[window[1]] <= GRAIN[wanted] <= GRAIN[window[0]] for window in windows)
        grade, split = own[place.id]
        assert place.finish == (wanted if fits and not split else grade), place.id
        found[place.id] = place.finish
    return found


def _check_place(
    place: Place,
    spots: list[tuple[Spot, Facts, Answer]],
    own: tuple[str | None, bool],
    one: str | None,
    naive: Naive,
) -> None:
    grade, split = own
    takes_one = one is not None and not split and grade is not None and all(
        answer.window and GRAIN[one] >= GRAIN[answer.window[1]] for _, _, answer in spots
    )  # fmt: skip
    assert place.finish == (one if takes_one else grade), place.id
    assert bool(place.split) == split
    if not split and place.finish:
        assert all(
            GRAIN[answer.window[1]] <= GRAIN[place.finish] <= GRAIN[answer.window[0]]
            for _, _, answer in spots
            if answer.window
        )
    limits = [
        naive.hand_limit(answer.decision, case.surface, place.finish)
        for _, case, answer in spots
        if place.finish and not answer.by_hand and place.kind not in ("face", "patch")
    ]
    stated = [limit for limit in limits if limit]
    assert place.hand_coarsest == (min(stated, key=GRAIN.__getitem__) if stated else None), place.id
    assert GUIDES.index(place.guide_coat) == max(
        GUIDES.index(answer.decision.guide_coat) for _, _, answer in spots
    )
    assert NEEDS.index(place.wet_bed.need) == max(NEEDS.index(spot.wet_bed.need) for spot, _, _ in spots)
    assert place.wet_bed.coats == max(spot.wet_bed.coats for spot, _, _ in spots)


def _check_bed(panel: Any, spots: list[Spot]) -> None:
    assert NEEDS.index(panel.wet_bed.need) == max(NEEDS.index(spot.wet_bed.need) for spot in spots)
    assert panel.wet_bed.coats == max(spot.wet_bed.coats for spot in spots)
    fade = any(spot.zone == "fade" and spot.wet_bed.need != "no" for spot in spots)
    colour = any(spot.zone == "colour" and spot.wet_bed.need == "required" for spot in spots)
    assert ("fade" in panel.wet_bed.zones, "colour" in panel.wet_bed.zones) == (fade, colour)
