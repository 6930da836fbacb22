"""A worked job laid out by hand, so that what a card prints is tested apart from what is advised."""

from collections.abc import Callable
from typing import Literal, NamedTuple

import pytest

from prepadvisor.records.advice import (
    Advice,
    Deviation,
    DoneAdvice,
    FilmBudget,
    Finish,
    Hold,
    JobSummary,
    LadderStep,
    Line,
    Offer,
    PanelAdvice,
    PanelWetBed,
    Place,
    RuleFileUsed,
    Spot,
    StandardsUsed,
    WetBedAdvice,
    ZoneBand,
)
from prepadvisor.records.decision import Reason
from prepadvisor.records.job import Job
from prepadvisor.records.kinds import NoWayUp, TooCoarse, TrimOff
from prepadvisor.records.words import GuideCoat, Reach, Tool, Zone
from prepadvisor.standards.house import House

DOOR, WING = "left-front-door", "left-front-wing"
JOB = {
    "job": {"number": "1042", "vehicle": "five-door hatchback", "by": "K. M."},
    "colour": {"name": "Harbour mist", "flake": "very-fine", "stages": 2, "tone": "light"},
    "panel": [
        {
            "id": DOOR, "kind": "front-door", "role": "blend", "surface": "aged-clear",
            "length_mm": 1050, "height_mm": 640, "colour_from": ["front"], "colour_mm": 150, "fade_mm": 400,
            "film_um": [118, 112],
            "feature": [
                {"id": "E1", "kind": "edge", "name": "front edge", "path": [[0, 0], [0, 1]],
                    "reach": "machine"},
                {
                    "id": "L1", "kind": "body-line", "name": "body line", "path": [[0, 0.5], [1, 0.5]],
                    "reach": "machine", "done": {"tool": "hand-pad", "grade": "P600"},
                },
                {
                    "id": "H1", "kind": "recess", "name": "handle recess", "path": [[0.5, 0.4], [0.6, 0.4]],
                    "reach": "hand",
                },
            ],
        },
        {
            "id": WING, "kind": "front-wing", "role": "repair", "surface": "aged-clear",
            "length_mm": 900, "height_mm": 600, "colour_from": ["R1"], "colour_mm": 100, "fade_mm": 300,
            "patch": [
                {
                    "id": "R1", "surface": "primer-surfacer", "at": [0.4, 0.6], "size_mm": [300, 250],
                    "now": {"tool": "block", "grade": "P320"},
                }
            ],
            "feature": [{"id": "E1", "kind": "edge", "path": [[0, 0], [0, 1]], "reach": "hand"}],
        },
    ],
}  # fmt: skip


class Worked(NamedTuple):
    """A job with its advice and house."""

    job: Job
    advice: Advice
    house: House


def _spot(panel: str, feature: str, zone: Zone, kind: str, reach: Reach, chosen: str, tool: Tool) -> Spot:
    finish = Finish(coarsest=chosen, finest="P1500", chosen=chosen, tool=tool, verdict="safe")
    return Spot(
        id=f"{panel}/{feature}/{zone}", panel=panel, feature=feature, zone=zone, kind=kind, reach=reach,
        seen=True, finish=finish, area_m2=0.1, length_mm=None if kind in {"face", "patch"} else 400.0,
    )  # fmt: skip


def _step(grade: str, tool: Tool, *, powder: bool) -> LadderStep:
    return LadderStep(grade=grade, tool=tool, guide_coat=powder, minutes=4.2, film_off_um=1.0)


def _place(
    panel: str, feature: str, kind: str, number: int, zones: tuple[Zone, ...], finish: str, tool: Tool,
    name: str = "", reach: Reach = "machine", hand: str | None = None, powder: GuideCoat = "no",
) -> Place:  # fmt: skip
    return Place(
        id=f"{panel}/{feature}", panel=panel, feature=feature, kind=kind, name=name, number=number,
        reach=reach, seen=True,
        spots=tuple(f"{panel}/{feature}/{zone}" for zone in zones), finish=finish, tool=tool,
        hand_coarsest=hand, guide_coat=powder, minutes=2.0,
    )  # fmt: skip


_ALL: tuple[Zone, ...] = ("colour", "fade", "clear")
_BECAUSE = Reason(
    output="hand_last_coarsest", value="P1500", rule="hand-last-very-fine", layer="base",
    file="rules/base/hand.toml", line=12, says="Last touch by hand in very fine flake: P1500.",
    source="practice",
)  # fmt: skip


def _spots() -> tuple[Spot, ...]:
    recess = _spot(DOOR, "H1", "fade", "recess", "hand", "P1500", "hand-pad")._replace(
        line=Line(arcsec=0.41, risk=0.22), risk_limit=0.25, because=(_BECAUSE,),
        wet_bed=WetBedAdvice(need="required", coats=2),
    )  # fmt: skip
    return (
        *(_spot(DOOR, "face", zone, "face", "machine", "P1000", "da-soft") for zone in _ALL),
        _spot(DOOR, "E1", "colour", "edge", "machine", "P1000", "da-soft"),
        *(_spot(DOOR, "L1", zone, "body-line", "machine", "P1000", "da-soft") for zone in _ALL),
        recess,
        _spot(WING, "R1", "colour", "patch", "machine", "P1000", "da"),
        *(_spot(WING, "face", zone, "face", "machine", "P1000", "da-soft") for zone in _ALL[1:]),
        _spot(WING, "E1", "clear", "edge", "hand", "P800", "hand-pad"),
    )


def _places() -> tuple[Place, ...]:
    crest = _place(DOOR, "L1", "body-line", 2, _ALL, "P1000", "da-soft", "body line", "machine", "P1000")
    recut = (_step("P800", "da-soft", powder=False), _step("P1000", "da-soft", powder=True))
    done = DoneAdvice(
        tool="hand-pad", grade="P600", verdict="too-coarse", recut=recut, fact=TooCoarse("P600", "none")
    )
    steps = tuple(_step(grade, "da", powder=True) for grade in ("P500", "P800", "P1000"))
    patch = _place(WING, "R1", "patch", 2, ("colour",), "P1000", "da", powder="every-change")._replace(
        surface="primer-surfacer"
    )
    return (
        _place(DOOR, "face", "face", 0, _ALL, "P1000", "da-soft"),
        _place(
            DOOR,
            "E1",
            "edge",
            1,
            ("colour",),
            "P1000",
            "da-soft",
            "front edge",
            "machine",
            "P1000",
            "after-hand",
        ),
        crest._replace(guide_coat="after-hand", interface_pad=True, done=done),
        _place(DOOR, "H1", "recess", 3, ("fade",), "P1500", "hand-pad", "handle recess", "hand"),
        _place(WING, "face", "face", 0, ("fade", "clear"), "P1000", "da-soft"),
        patch._replace(ladder=steps),
        _place(WING, "E1", "edge", 1, ("clear",), "P800", "hand-pad", reach="hand"),
    )


def _bands(colour_mm: float, fade_mm: float, end_mm: float) -> tuple[ZoneBand, ...]:
    return (
        ZoneBand(zone="colour", from_mm=0, to_mm=colour_mm, area_m2=0.1),
        ZoneBand(zone="fade", from_mm=colour_mm, to_mm=fade_mm, area_m2=0.3),
        ZoneBand(zone="clear", from_mm=fade_mm, to_mm=end_mm, area_m2=0.2),
    )


def _panels() -> tuple[PanelAdvice, ...]:
    last = (_step("P1000", "da-soft", powder=False),)
    return (
        PanelAdvice(
            id=DOOR, kind="front-door", role="blend", face="P1000", tool="da-soft", hand="P1000",
            hand_only="P1500", wet_bed=PanelWetBed(need="required", coats=2, area_m2=0.42, zones=("fade",)),
            ladder=last, minutes=31, bands=_bands(150, 700, 1050),
            film=FilmBudget(reading_um=112, off_um=1.2, off_max_um=10, left_um=110.8),
        ),
        PanelAdvice(
            id=WING, kind="front-wing", role="repair", face="P1000", tool="da-soft", hand_only="P800",
            wet_bed=PanelWetBed(need="advised", coats=1, area_m2=0.3, zones=("fade",)),
            ladder=last, minutes=50, bands=_bands(100, 550, 700),
        ),
    )  # fmt: skip


def _advice(units: Literal["metric", "imperial"]) -> Advice:
    head = JobSummary(
        number="1042", vehicle="five-door hatchback", by="K. M.", date="2026-03-02", colour="Harbour mist",
        flake="very-fine", flake_stated="very-fine", stages=2, tone="light", units=units,
    )  # fmt: skip
    changed = Deviation(rule="fade-foam", kind="replaced", by="house-foam", says="Foam pads in the fade. JB")
    standards = StandardsUsed(
        name="Base",
        version="1",
        files=(RuleFileUsed(path="hand.toml", sha256="ab" * 32),),
        deviations=(changed,),
    )
    off = Offer(
        places=(f"{DOOR}/H1",), fact=TrimOff((f"{DOOR}/H1",), "required", 2, "advised", 1),
        wet_bed=WetBedAdvice(need="advised", coats=1), saves_minutes=4, saves_ml=100,
    )  # fmt: skip
    return Advice(
        job=head, standards=standards, spots=_spots(), places=_places(), panels=_panels(), mix_ml=250,
        discs={"P500": 1, "P800": 1, "P1000": 4}, minutes=81, offers=(off,),
    )  # fmt: skip


@pytest.fixture
def worked(shipped_house: House) -> Worked:
    """A blend door with a hand-only recess and a scuff too coarse, and a wing with a primer patch."""
    return Worked(Job.model_validate(JOB), _advice("metric"), shipped_house)


@pytest.fixture
def worked_imperial(shipped_house: House) -> Worked:
    """The same, to be shown in inches and mils."""
    return Worked(Job.model_validate(JOB), _advice("imperial"), shipped_house)


@pytest.fixture
def held(worked: Worked) -> Worked:
    """The same with a hold on the wing's edge."""
    hold = Hold(
        spot=f"{WING}/E1/clear", fact=NoWayUp("P800", "P1500"),
        rules=("clear-hand",), lacks=("P1000", "P1200"),
    )  # fmt: skip
    unfinished = {f"{WING}/E1/clear"}
    spots = tuple(
        spot._replace(finish=None) if spot.id in unfinished else spot for spot in worked.advice.spots
    )
    return worked._replace(advice=worked.advice._replace(holds=(hold,), spots=spots))


@pytest.fixture
def renamed(worked: Worked) -> Callable[[str], Worked]:
    """Gives the same job with one name everywhere a person may type one."""

    def rename(name: str) -> Worked:
        places = tuple(
            place._replace(name=name) if place.kind == "edge" else place for place in worked.advice.places
        )
        head = worked.advice.job._replace(vehicle=name, colour=name, by=name, number=name)
        return worked._replace(advice=worked.advice._replace(job=head, places=places))

    return rename


@pytest.fixture(scope="session")
def of_rows(shipped_house: House) -> Callable[[int, int], Worked]:
    """Makes an advised job with so many places in all, on so many equal panels."""
    from prepadvisor.planning import advise

    kinds = ("edge", "body-line", "recess", "flange")

    def line(number: int, of: int) -> dict[str, object]:
        x = 0.02 + 0.95 * number / max(1, of)
        kind = kinds[number % 4]
        reach = "machine" if number % 4 < 2 else "hand"
        name = f"{kind.replace('-', ' ')} {number + 1}"
        return {
            "id": f"E{number + 1}", "kind": kind, "name": name, "reach": reach,
            "path": [[x, 0.05], [x, 0.95]],
        }  # fmt: skip

    def make(places: int, panels: int = 1) -> Worked:
        lines = places // panels - 1
        panel = {
            "kind": "front-door", "role": "blend", "surface": "aged-clear", "length_mm": 1050,
            "height_mm": 640, "colour_from": ["front"], "colour_mm": 150, "fade_mm": 400, "film_um": [118],
        }  # fmt: skip
        outline = [line(number, lines) for number in range(lines)] or [line(0, 1)]
        each = [{**panel, "id": f"door-{count + 1}", "feature": outline} for count in range(panels)]
        job = Job.model_validate({**JOB, "panel": each})
        return Worked(job, advise(job, shipped_house), shipped_house)

    return make
