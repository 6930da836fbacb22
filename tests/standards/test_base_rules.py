"""The shipped standards: every row of practice, every case answered, every rule with its worked cases."""

import itertools
from collections import Counter
from collections.abc import Iterator
from typing import Any, cast

import numpy as np
import pytest
from numpy.typing import NDArray

from prepadvisor.cases import CATEGORIES, CATEGORY, Facts
from prepadvisor.standards import House, shortfalls
from prepadvisor.standards.engine import OUTPUTS, Engine, Example, Rule

FLAKES = ("solid", "coarse", "medium", "fine", "very-fine", "vapour")
CLEARS = ("aged-clear", "cured-clear")
LINES = ("edge", "body-line", "wheel-arch", "flange", "recess", "cut-out", "run-on")
ROLES = ("repair", "blend")


@pytest.fixture(scope="module")
def engine(shipped_house: House) -> Engine:
    """The shipped standards alone."""
    return shipped_house.engine


def spreads(**more: tuple[Any, ...]) -> Iterator[dict[str, Any]]:
    """Go through all combinations of the given values of facts."""
    for values in itertools.product(*more.values()):
        yield dict(zip(more, values, strict=True))


# Common practice of the trade, no published source. Blend or repair panel, old clear, colour next:
# coarsest, usual and finest grade in the fade by DA; coarsest in full colour by DA; coarsest by hand ahead of
# the DA; coarsest and finest by hand as the last touch; wet bed in the fade.
OVER_CLEAR = {
    ("solid", 2): ("P600", "P800", "P1200", "P600", "P500", "P800", "P1200", "no"),
    ("coarse", 2): ("P600", "P800", "P1200", "P600", "P600", "P800", "P1200", "advised"),
    ("medium", 2): ("P800", "P800", "P1200", "P800", "P600", "P1000", "P1500", "advised"),
    ("fine", 2): ("P800", "P1000", "P1500", "P800", "P800", "P1200", "P1500", "advised"),
    ("very-fine", 2): ("P1000", "P1000", "P1500", "P1000", "P1000", "P1500", "P1500", "advised"),
    ("vapour", 2): ("P1200", "P1500", "P1500", "P1200", "P1200", "P1500", "P1500", "required"),
    ("solid", 3): ("P1000", "P1000", "P1500", "P1000", "P1000", "P1500", "P1500", "advised"),
    ("medium", 3): ("P1000", "P1000", "P1500", "P1000", "P1000", "P1500", "P1500", "advised"),
    ("very-fine", 3): ("P1000", "P1000", "P1500", "P1000", "P1000", "P1500", "P1500", "advised"),
    ("vapour", 3): ("P1200", "P1500", "P1500", "P1200", "P1200", "P1500", "P1500", "required"),
}


@pytest.mark.practice
@pytest.mark.parametrize("row", OVER_CLEAR, ids=lambda row: f"{row[0]}-{row[1]}-stages")
def test_a_row_of_practice_over_old_clear_stands_in_the_rules(engine: Engine, row: tuple[str, int]) -> None:
    """Grades of fade, full colour and hand work, key limits and wet bed are those of the trade.

    The whole face gets one grade, so the usual one of full colour is that of the fade.
    """
    flake, stages = row
    coarsest, usual, finest, in_colour, ahead, last, last_finest, bed = OVER_CLEAR[row]
    for each in spreads(surface=CLEARS, role=ROLES, panel=("front-door", "front-wing")):
        case = Facts(flake=flake, stages=stages, **each)
        face, colour = engine.decide(case), engine.decide(case._replace(zone="colour"))
        assert (face.finish_coarsest, face.finish_target, face.finish_finest) == (coarsest, usual, finest)
        assert (colour.finish_coarsest, colour.finish_finest) == (in_colour, finest)
        assert colour.finish_target == usual
        assert (face.wet_bed, colour.wet_bed, face.holds) == (bed, "no", ())
        for line, zone in itertools.product(LINES, ("colour", "fade")):
            by_machine = engine.decide(case._replace(feature=line, zone=zone))
            by_hand = engine.decide(case._replace(feature=line, zone=zone, reach="hand"))
            assert by_machine.hand_coarsest == ahead
            assert (by_hand.hand_last_coarsest, by_hand.finish_finest) == (last, last_finest)


# Common practice, no published source: surface and next coat, flakes, then coarsest, usual, finest grade.
GROUND = [
    ("primer-surfacer", "base", ("solid", "coarse"), ("P500", "P600", "P1000"), "every-change"),
    ("primer-surfacer", "base", ("medium", "fine"), ("P600", "P800", "P1000"), "every-change"),
    ("primer-surfacer", "base", ("very-fine", "vapour"), ("P800", "P1000", "P1000"), "every-change"),
    ("primer-surfacer", "sealer", FLAKES, ("P400", "P500", "P600"), "every-change"),
    ("sealer", "base", FLAKES, ("P800", "P800", "P1000"), "no"),
    ("electrocoat", "primer", FLAKES, ("P320", "P320", "P400"), "no"),
    ("electrocoat", "sealer", FLAKES, ("P400", "P500", "P600"), "no"),
    ("primed-plastic", "base", ("solid", "coarse"), ("P500", "P600", "P800"), "no"),
    ("primed-plastic", "base", ("medium", "fine", "very-fine", "vapour"), ("P600", "P800", "P1000"), "no"),
    ("feather-edge", "primer", FLAKES, ("P240", "P320", "P320"), "every-change"),
    ("filler", "primer", FLAKES, ("P240", "P320", "P320"), "every-change"),
]


@pytest.mark.practice
@pytest.mark.parametrize(
    ("surface", "next_coat", "flakes", "grades", "guide_coat"), GROUND, ids=lambda value: str(value)[:20]
)
def test_a_row_of_practice_on_other_ground_stands_in_the_rules(
    engine: Engine,
    surface: str,
    next_coat: str,
    flakes: tuple[str, ...],
    grades: tuple[str, ...],
    guide_coat: str,
) -> None:
    """Grades, key limits and guide coat of every other surface are those of the trade."""
    for each in spreads(flake=flakes, role=ROLES, feature=("face", "patch")):
        said = engine.decide(Facts(surface=surface, next=next_coat, zone="colour", **each))
        assert (said.finish_coarsest, said.finish_target, said.finish_finest) == grades, each
        assert (said.guide_coat, said.wet_bed, said.holds) == (guide_coat, "no", ())
        line = Facts(surface=surface, next=next_coat, zone="colour", flake=each["flake"], feature="edge")
        last = engine.decide(line._replace(reach="hand"))
        assert (engine.decide(line).hand_coarsest, last.hand_last_coarsest) == grades[:2], each
        assert last.finish_finest == grades[2]


@pytest.mark.practice
def test_three_stages_are_judged_as_very_fine_on_other_ground_too(engine: Engine) -> None:
    """Primer and plastic under a translucent coat, whatever the flake is called."""
    for surface, then in (("primer-surfacer", "base"), ("primed-plastic", "base"), ("sealer", "base")):
        for flake, line in itertools.product(FLAKES, (False, True)):
            case = Facts(surface=surface, next=then, zone="colour", flake=flake, stages=3)
            case = case._replace(feature="edge") if line else case
            fine = case._replace(flake="very-fine", stages=2)
            for each, other in ((case, fine), (case._replace(reach="hand"), fine._replace(reach="hand"))):
                said, same = engine.decide(each), engine.decide(other)
                assert said.finish_coarsest == same.finish_coarsest
                assert said.finish_target == same.finish_target
                assert said.finish_finest == same.finish_finest
                assert said.hand_coarsest == same.hand_coarsest
                assert said.hand_last_coarsest == same.hand_last_coarsest


@pytest.mark.practice
def test_the_clear_zone_is_sanded_alike_for_every_flake(engine: Engine) -> None:
    """P800 / P1000 / P1500 by DA, P800 by hand, no guide coat, no wet bed, and no gloss left."""
    for each in spreads(
        flake=FLAKES, stages=(2, 3), surface=CLEARS, role=(*ROLES, "clear-only"), next=("base", "clear")
    ):
        case = Facts(zone="clear", **each)
        face, line = engine.decide(case), engine.decide(case._replace(feature="edge"))
        last = engine.decide(case._replace(feature="recess", reach="hand"))
        assert (face.finish_coarsest, face.finish_target, face.finish_finest) == ("P800", "P1000", "P1500")
        assert (line.hand_coarsest, last.hand_last_coarsest) == ("P800", "P800")
        assert (line.guide_coat, line.wet_bed, line.holds) == ("no", "no", ())
        assert any("No gloss" in note for note in face.notes)


@pytest.mark.practice
@pytest.mark.parametrize(
    ("flake", "stages", "panel", "reach", "seen", "bed"),
    [
        ("medium", 2, "front-door", "hand", True, "advised"),
        ("fine", 2, "front-door", "hand", True, "required"),
        ("fine", 2, "front-door", "hand", False, "advised"),
        ("fine", 2, "bonnet", "machine", True, "advised"),
        ("very-fine", 2, "bonnet", "machine", True, "required"),
        ("very-fine", 2, "roof", "machine", True, "required"),
        ("very-fine", 2, "boot-lid", "machine", True, "required"),
        ("very-fine", 2, "tailgate", "machine", True, "advised"),
        ("very-fine", 2, "front-door", "hand", True, "required"),
        ("solid", 3, "roof", "machine", True, "required"),
        ("solid", 3, "front-door", "hand", True, "required"),
        ("solid", 2, "roof", "hand", True, "no"),
        ("vapour", 2, "front-door", "machine", True, "required"),
    ],
)
def test_the_wet_bed_is_asked_for_as_the_trade_does(
    engine: Engine, flake: str, stages: int, panel: str, reach: str, seen: bool, bed: str
) -> None:
    """Fine flake with a seen hand-only place, very fine flake on large flat panels, vapour always."""
    case = Facts(flake=flake, stages=stages, panel=panel, feature="recess", reach=reach, seen=seen)
    assert engine.decide(case).wet_bed == bed


@pytest.mark.practice
def test_limits_for_every_job_are_those_of_the_trade(engine: Engine) -> None:
    """Risk, coats of wet bed, film cut and grit steps."""
    risks = {
        (zone, flake): engine.decide(Facts(zone=zone, flake=flake)).risk_limit
        for zone in ("clear", "colour", "fade")
        for flake in FLAKES
    }
    fade = dict(zip(FLAKES, (0.35, 0.35, 0.35, 0.25, 0.25, 0.25), strict=True))
    expected: dict[tuple[str, str], float | None] = {("fade", flake): risk for flake, risk in fade.items()}
    expected |= {(zone, flake): risk for zone, risk in (("clear", None), ("colour", 0.5)) for flake in FLAKES}
    assert risks == expected
    assert engine.decide(Facts(flake="solid", stages=3)).risk_limit == 0.25
    assert engine.decide(Facts()).bed_coats_max == 2
    assert [engine.decide(Facts(feature=line)).film_off_max_um for line in ("face", "patch", "edge")] == [
        10,
        10,
        5,
    ]
    assert engine.decide(Facts(surface="filler", next="primer")).step_ratio_min == 0.4
    assert engine.decide(Facts(surface="feather-edge", next="primer")).step_ratio_min == 0.4
    assert engine.decide(Facts(flake="medium")).step_ratio_min == 0.6


@pytest.mark.practice
def test_from_fine_flake_on_a_grade_more_stands_between(engine: Engine) -> None:
    """On clear and primer P500 to P1000 is too far for fine flake and finer, and for three stages."""
    for surface in ("aged-clear", "cured-clear", "primer-surfacer"):
        ratios = [engine.decide(Facts(flake=one, surface=surface)).step_ratio_min for one in FLAKES]
        assert ratios == [0.6, 0.6, 0.6, 0.63, 0.63, 0.63]
        assert engine.decide(Facts(flake="solid", stages=3, surface=surface)).step_ratio_min == 0.63
    assert engine.decide(Facts(flake="vapour", surface="primed-plastic")).step_ratio_min == 0.6


@pytest.mark.practice
def test_powder_is_asked_for_at_every_change_from_medium_flake_on(engine: Engine) -> None:
    """Where a DA reaches in colour and fade; not in the clear zone or in hand-only places."""
    zones, features = ("clear", "colour", "fade"), ("face", *LINES)
    for each in spreads(flake=FLAKES, zone=zones, feature=features, reach=("machine", "hand")):
        if each["feature"] == "face" and each["reach"] == "hand":
            continue
        asked = each["flake"] in FLAKES[2:] and each["zone"] != "clear" and each["reach"] == "machine"
        expected = "every-change" if asked else "no"
        assert engine.decide(Facts(**each)).guide_coat == expected, each


@pytest.mark.practice
def test_film_readings_change_what_the_trade_changes(engine: Engine) -> None:
    """Under 90 µm P1000 or finer and no hard pad, over 300 µm a word to the lead, else nothing."""
    said = {um: engine.decide(Facts(flake="solid", film_um=um)) for um in (None, 89.9, 90.0, 300.0, 300.1)}
    assert [each.finish_coarsest for each in said.values()] == ["P600", "P1000", "P600", "P600", "P600"]
    assert [each.machine for each in said.values()] == ["any", "interface-pad", "any", "any", "any"]
    assert [len(each.cautions) for each in said.values()] == [0, 1, 0, 0, 1]
    for surface, flake in itertools.product(CLEARS, ("solid", "coarse")):
        thin = Facts(flake=flake, film_um=60.0, surface=surface, zone="clear")
        face, line = engine.decide(thin), engine.decide(thin._replace(feature="edge"))
        last = engine.decide(thin._replace(feature="edge", reach="hand"))
        assert (face.finish_coarsest, face.finish_target, line.hand_coarsest, last.hand_last_coarsest) == (
            "P1000",
        ) * 4
        assert (face.film_left_min_um, face.holds) == (60, ())
        assert engine.decide(thin._replace(film_um=59.9)).holds
        assert engine.decide(thin._replace(film_um=90.0)).film_left_min_um is None


@pytest.mark.practice
def test_crests_and_outer_edges_get_the_interface_pad(engine: Engine) -> None:
    """In every zone and role, where a machine gets there."""
    for each in spreads(zone=("clear", "colour", "fade"), role=ROLES, feature=("edge", "body-line")):
        assert engine.decide(Facts(**each)).machine == "interface-pad", each
        assert engine.decide(Facts(reach="hand", **each)).machine == "any", each


def whole_grid() -> dict[str, NDArray[Any]]:
    """All combinations of categories the base tells apart, with film unknown, thin, usual and thick."""
    values: dict[str, Any] = {
        fact: range(len(CATEGORIES[CATEGORY[fact]].values))
        for fact in ("flake", "zone", "stages", "role", "surface", "next", "feature", "reach", "seen")
    }
    values["panel"] = [
        CATEGORIES[CATEGORY["panel"]].values.index(panel) for panel in ("front-door", "bonnet")
    ]
    values["film_um"] = [np.nan, 80.0, 120.0, 400.0]
    grid = np.meshgrid(*(np.array(list(each)) for each in values.values()), indexing="ij")
    return {fact: each.reshape(-1) for fact, each in zip(values, grid, strict=True)}


def test_every_case_that_can_be_has_its_grades_or_a_hold(engine: Engine) -> None:
    """No surface, next coat, line, zone and role is left without an answer, and none asks the impossible."""
    cases = whole_grid()
    said = {output: column.astype(float) for output, column in engine.sweep(cases).items()}
    face = cases["feature"] <= 1
    can_be = ~((cases["role"] == 2) & (cases["zone"] > 0)) & ~(
        face & ((cases["reach"] == 1) | (cases["seen"] == 0))
    )
    machine = cases["reach"] == 0
    coarsest = np.where(machine, said["finish_coarsest"], said["hand_last_coarsest"])
    missing = (said["finish_finest"] < 0) | (coarsest < 0) | (machine & ~face & (said["hand_coarsest"] < 0))
    collide = (coarsest >= 0) & (said["finish_finest"] >= 0) & (coarsest > said["finish_finest"])
    assert not (can_be & missing & ~said["holds"].astype(bool)).any()
    assert not (can_be & collide).any()


def test_what_cannot_be_is_refused_with_its_reason(engine: Engine) -> None:
    """Colour on a clear-only panel; a face or patch that only the hand reaches or that nobody sees."""
    cannot = [
        Facts(role="clear-only", zone="fade"),
        Facts(role="clear-only", zone="colour"),
        *(Facts(feature=kind, reach="hand") for kind in ("face", "patch")),
        *(Facts(feature=kind, seen=False) for kind in ("face", "patch")),
    ]
    assert all(engine.impossible(case) for case in cannot)
    can = [Facts(), Facts(role="clear-only", zone="clear"), Facts(feature="recess", reach="hand", seen=False)]
    assert not any(engine.impossible(case) for case in can)


def test_there_are_at_least_fifty_rules_and_ten_promises(engine: Engine) -> None:
    """The base is a whole standard, not a sample."""
    assert len(engine.rules) >= 50
    assert len(engine.promises) >= 10


def test_every_example_comes_out_as_it_says(engine: Engine) -> None:
    """Each worked case has the outputs it expects, listing all that have not."""
    wrong = {
        f"{example.file}:{example.line}": shortfalls(example, engine.decide(example.facts))
        for example in engine.examples
    }
    assert {place: lacks for place, lacks in wrong.items() if lacks} == {}


def test_every_example_is_a_case_that_can_be(engine: Engine) -> None:
    """No example states a case on the impossible list."""
    assert [example.given for example in engine.examples if engine.impossible(example.facts)] == []


def applying(rule: Rule, examples: tuple[Example, ...]) -> list[Example]:
    """Return the examples in the rule's file that it meets and that expect an output it sets."""
    return [
        example
        for example in examples
        if example.file == rule.file
        and rule.when.holds(example.facts)
        and set(rule.set) & set(example.expect)
    ]


def sparing(rule: Rule, examples: tuple[Example, ...]) -> list[Example]:
    """Return the examples in the rule's file that would come out otherwise if the rule applied there."""
    return [
        example
        for example in examples
        if example.file == rule.file and not rule.when.holds(example.facts) and would_change(rule, example)
    ]


def would_change(rule: Rule, example: Example) -> bool:
    """Say whether the rule's value, combined with an expected one, gives another."""
    for name, expected in example.expect.items():
        if name not in rule.set:
            continue
        output, value = OUTPUTS[name], rule.set[name]
        if output.is_union:
            forbidden = expected.get("not", ()) if isinstance(expected, dict) else ()
            texts = value if isinstance(value, tuple) else ()
            if expected == () or any(text in said for text in forbidden for said in texts):
                return True
        elif expected is None or (output.combine([cast("Any", expected), value]) != expected):
            return True
    return False


def test_every_rule_has_an_example_that_applies(engine: Engine) -> None:
    """A rule can be read off a worked case in its own file."""
    assert [rule.id for rule in engine.rules if not applying(rule, engine.examples)] == []


def test_every_rule_has_an_example_that_does_not_apply(engine: Engine) -> None:
    """And off one that would come out otherwise if the rule reached further.

    The larger grit step on filler alone would change nothing elsewhere: smaller steps win there.
    """
    met_by_all = [
        rule.id for rule in engine.rules if all(rule.when.holds(each.facts) for each in engine.examples)
    ]
    assert met_by_all == []
    assert [rule.id for rule in engine.rules if not sparing(rule, engine.examples)] == ["grit-step-filler"]


@pytest.mark.parametrize("removed", range(3), ids=lambda part: f"part-{part}")
def test_every_rule_is_missed_by_an_example_when_it_is_taken_away(engine: Engine, removed: int) -> None:
    """The worked cases guard each rule: without it, at least one of them fails."""
    unguarded = []
    for rule in engine.rules[removed::3]:
        rest = Engine([other for other in engine.rules if other is not rule])
        if not any(
            shortfalls(example, rest.decide(example.facts)) for example in applying(rule, engine.examples)
        ):
            unguarded.append(rule.id)
    assert unguarded == []


def test_every_rule_has_a_sentence_of_its_own(engine: Engine) -> None:
    """No two rules say the same sentence; what their sources are worth is held in test_passports."""
    said = Counter(rule.says for rule in engine.rules)
    assert [sentence for sentence, count in said.items() if count > 1] == []


def test_every_fact_of_the_shop_is_asked_about_by_some_rule(engine: Engine) -> None:
    """Surfaces, next coats, lines and zones are all covered by name somewhere."""
    asked = {fact for rule in engine.rules for fact in rule.when.asked}
    assert asked >= {
        "flake",
        "zone",
        "stages",
        "surface",
        "next",
        "feature",
        "reach",
        "seen",
        "panel",
        "special",
    }
