"""Which rules a stop is put down to: those that say just that, each text by itself."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from prepadvisor.cases import subjects, zoning
from prepadvisor.planning import LineEstimate, Risks, advise
from prepadvisor.planning.drafts import draft
from prepadvisor.planning.planner import Planner
from prepadvisor.planning.window import window
from prepadvisor.records import BedTooThin, Decision, Grade, Job, RuleHold
from prepadvisor.standards import House
from prepadvisor.standards.engine import EVERYTHING, Engine, Rule


def with_rules(house: House, **settings: Any) -> House:
    """Return a house with more rules, each for every case."""
    rules = [Rule(name, "Says.", EVERYTHING, set_, "practice") for name, set_ in settings.items()]
    engine = house.engine
    more = Engine([*engine.rules, *rules], engine.impossibles, used=engine.used)
    return replace(house, engine=more)


def test_a_stop_names_the_rules_that_say_it(job_of: Callable[..., Job], shipped_house: House) -> None:
    """Two say the same, one another thing; none is named for what it does not say."""
    house = with_rules(
        shipped_house, a={"holds": ("Stop.",)}, b={"holds": ("Wait.",)}, c={"holds": ("Stop.",)},
        d={"notes": ("Stop.",)},
    )  # fmt: skip
    held = [hold for hold in advise(job_of(), house).holds if hold.spot == "door/face/fade"]
    named = {hold.fact.says: set(hold.rules) for hold in held if isinstance(hold.fact, RuleHold)}
    assert named == {"Stop.": {"a", "c"}, "Wait.": {"b"}}


def test_a_bed_may_have_just_the_coats_that_it_must(job_of: Callable[..., Job], shipped_house: House) -> None:
    """Two at least and two at most are two; three at least are too many for two."""
    thin = {}
    for least in (2, 3):
        house = with_rules(
            shipped_house,
            least={"bed_coats_min": least},
            most={"bed_coats_max": 2},
            bed={"wet_bed": "required"},
        )
        thin[least] = any(isinstance(hold.fact, BedTooThin) for hold in advise(job_of(), house).holds)
    assert thin == {2: False, 3: True}


def test_a_risk_of_just_the_limit_is_safe() -> None:
    """As likely as may be is allowed; a hair more is not, and then the finest alone is asked about."""
    asked = Decision(finish_coarsest=Grade("P800"), finish_finest=Grade("P1200"), risk_limit=0.25)
    shelf = (Grade("P800"), Grade("P1000"), Grade("P1200"))
    for risk, coarsest in ((0.25, "P800"), (0.2501, "P1000")):
        risky: dict[tuple[str, int], LineEstimate] = {
            (grade, n): LineEstimate(0.0, 0.1) for grade in shelf for n in range(4)
        }
        risky[Grade("P800"), 0] = LineEstimate(0.0, risk)
        found = window(
            asked, by_hand=False, shelf=shelf, tool="da", risks=Risks(risky), flake="medium"
        ).finish
        assert found is not None
        assert (found.coarsest, found.verdict) == (coarsest, "safe")


def test_a_place_steps_as_its_strictest_zone_says_and_freely_where_no_rule_does(
    job_of: Callable[..., Job], shipped_house: House
) -> None:
    """The highest share of its zones; none at all is nought."""
    job = job_of()
    planner = Planner(shipped_house, shipped_house.judged(job.colour))
    (panel,) = job.panel
    face = subjects(panel, zoning(panel, 150.0))[0]
    plans = planner.spots(face)
    assert len(plans) == 3
    for shares, least in (((None, None, None), 0.0), ((0.4, None, 0.63), 0.63), ((0.7, 0.5, 0.4), 0.7)):
        own = tuple(
            plan._replace(decision=plan.decision._replace(step_ratio_min=share))
            for plan, share in zip(plans, shares, strict=True)
        )
        assert draft(face, own).step_ratio_min == least
