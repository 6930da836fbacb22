"""The grit range of a spot against a naive reading of the rules, and what opens an empty one."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.planning import LineEstimate, Risks, Window
from prepadvisor.planning.window import window
from prepadvisor.records import (
    FLAKES,
    GRADES,
    RANK,
    BedForbidden,
    BedTooThin,
    Collision,
    Decision,
    Flake,
    Grade,
    WetBedAdvice,
    WillShow,
)

SHELF = tuple(GRADES[RANK[Grade("P80")] : RANK[Grade("P2500")] + 1])
grades = st.sampled_from(SHELF)
maybe_grades = st.none() | grades


@st.composite
def decisions(draw: st.DrawFn) -> Decision:
    """Whatever standards may say of a spot."""
    return Decision(
        finish_coarsest=draw(maybe_grades),
        finish_target=draw(maybe_grades),
        finish_finest=draw(maybe_grades),
        hand_last_coarsest=draw(maybe_grades),
        risk_limit=draw(st.none() | st.floats(0.05, 0.6)),
        bed_coats_max=draw(st.none() | st.integers(0, 3)),
        wet_bed=draw(st.sampled_from(["no", "advised", "required"])),
        holds=draw(st.sampled_from([(), ("primer first",)])),
    )


@st.composite
def falling_risks(draw: st.DrawFn) -> dict[tuple[str, int], LineEstimate]:
    """Risks that fall with a finer grade and with each coat, as the model's do."""
    scale, by_grade, by_coat = draw(st.floats(0, 1.2)), draw(st.floats(0.7, 1)), draw(st.floats(0.3, 1))
    return {
        (grade, coats): LineEstimate(0.0, min(1.0, scale * by_grade ** RANK[grade] * by_coat**coats))
        for grade in SHELF
        for coats in range(4)
    }


def _naive(
    decision: Decision, *, by_hand: bool, shelf: list[Grade], risk: dict[tuple[str, int], LineEstimate]
) -> tuple[str, str, str, str, int] | None:
    """Read the rules word by word: (coarsest, finest, chosen, verdict, coats that open it) or no finish."""
    low = decision.hand_last_coarsest if by_hand else decision.finish_coarsest
    high = decision.finish_finest
    if decision.holds or low is None or high is None:
        return None
    if decision.wet_bed == "required" and decision.bed_coats_max == 0:
        return None
    by_rules = [g for g in shelf if RANK[g] >= RANK[low] and RANK[g] <= RANK[high]]
    if not by_rules:
        return None
    limit = decision.risk_limit if decision.risk_limit is not None else 1.0
    allowed = [g for g in by_rules if risk[g, 0].risk <= limit]
    if allowed:
        enough = [g for g in allowed if decision.finish_target and RANK[g] >= RANK[decision.finish_target]]
        chosen = (enough or allowed[-1:])[0] if decision.finish_target else allowed[0]
        return allowed[0], allowed[-1], chosen, "safe", 0
    last, most = by_rules[-1], decision.bed_coats_max or 0
    for coats in range(1, most + 1):
        if risk[last, coats].risk <= limit:
            return last, last, last, "safe", coats
    if risk[last, most].risk <= 0.5:
        return last, last, last, "borderline", most
    return None


@settings(max_examples=400)
@given(decisions(), st.booleans(), st.sets(grades, min_size=1), falling_risks())
def test_the_range_is_what_a_naive_reading_finds(
    decision: Decision, by_hand: bool, shelf: set[Grade], risk: dict[tuple[str, int], LineEstimate]
) -> None:
    """Naive evaluator: one loop a sentence of the rules."""
    on_shelf = sorted(shelf, key=RANK.__getitem__)
    found = window(
        decision, by_hand=by_hand, tool="da", shelf=tuple(on_shelf), risks=Risks(risk), flake="medium"
    )
    expected = _naive(decision, by_hand=by_hand, shelf=on_shelf, risk=risk)
    if expected is None:
        assert found.finish is None
        assert found.trouble
        return
    finish = found.finish
    assert finish is not None
    assert (finish.coarsest, finish.finest, finish.chosen, finish.verdict) == expected[:4]
    coats = expected[4]
    need = "required" if coats else decision.wet_bed
    need = "no" if decision.bed_coats_max == 0 else need
    assert (found.wet_bed.need, found.wet_bed.coats) == (need, 0 if need == "no" else max(coats, 1))


def _of(decision: Decision, risk: float, *, shelf: tuple[Grade, ...] = SHELF, bed: float = 0.5) -> Window:
    risks: dict[tuple[str, int], LineEstimate] = {
        (grade, coats): LineEstimate(1.0, risk * bed**coats) for grade in SHELF for coats in range(4)
    }
    return window(decision, by_hand=False, tool="da", shelf=shelf, risks=Risks(risks), flake="medium")


RANGE = Decision(
    finish_coarsest=Grade("P800"),
    finish_target=Grade("P1000"),
    finish_finest=Grade("P1500"),
    risk_limit=0.25,
    bed_coats_max=2,
)


def test_a_wet_bed_never_buys_a_coarser_grade() -> None:
    """The bed opens the range at its finest grade only."""
    found = _of(RANGE, 0.4)
    assert found.finish is not None
    assert (found.finish.coarsest, found.finish.chosen) == ("P1500", "P1500")
    assert (found.wet_bed.need, found.wet_bed.coats) == ("required", 1)


def test_a_risk_that_is_just_the_limit_is_safe() -> None:
    """With and without a bed."""
    bare, bed = _of(RANGE, 0.25), _of(RANGE, 0.5)
    assert bare.finish is not None
    assert (bare.finish.coarsest, bare.wet_bed.coats) == ("P800", 0)
    assert bed.finish is not None
    assert (bed.finish.verdict, bed.wet_bed.coats) == ("safe", 1)


def test_coats_beyond_the_most_allowed_are_never_taken() -> None:
    """A bed instead of sanding is dangerous advice: past its most coats a spot is borderline or holds."""
    borderline, shows = _of(RANGE, 0.9, bed=0.7), _of(RANGE, 0.99, bed=0.99)
    assert borderline.finish is not None
    assert (borderline.finish.verdict, borderline.wet_bed.coats) == ("borderline", 2)
    assert shows.finish is None


def test_where_no_bed_is_allowed_none_is_asked_for() -> None:
    """Over primer there is no wet bed: a risk between the limit and a half is borderline without one."""
    found = _of(RANGE._replace(bed_coats_max=0), 0.4)
    assert found.finish is not None
    assert found.finish.verdict == "borderline"
    assert found.wet_bed.need == "no"


def test_a_bed_asked_for_where_none_may_be_laid_is_a_hold_and_no_bed() -> None:
    """Two rules collide: neither overrides the other, and nobody lays a bed over primer meanwhile."""
    found = _of(RANGE._replace(wet_bed="required", bed_coats_max=0), 0.0)
    assert found.finish is None
    assert found.wet_bed.need == "no"
    assert found.trouble[0].fact == BedForbidden()


def test_advice_of_a_bed_ends_where_none_may_be_laid() -> None:
    """Only advised: the limit wins, and there is nothing to hold for."""
    found = _of(RANGE._replace(wet_bed="advised", bed_coats_max=0), 0.0)
    assert found.finish is not None
    assert (found.wet_bed.need, found.wet_bed.coats) == ("no", 0)


def test_too_fine_to_key_beats_every_demand_for_finer() -> None:
    """A collision is a hold that names both grades, never the finer grade."""
    found = _of(RANGE._replace(finish_coarsest=Grade("P1500"), finish_finest=Grade("P1000")), 0.0)
    assert found.finish is None
    assert found.trouble[0].fact == Collision(Grade("P1500"), Grade("P1000"))


def test_a_shelf_without_a_grade_of_the_range_says_what_to_buy() -> None:
    """The hold lists the grades that would do."""
    found = _of(RANGE, 0.0, shelf=(Grade("P80"), Grade("P600"), Grade("P2000")))
    assert found.trouble[0].lacks == ("P800", "P1000", "P1200", "P1500")


def test_silence_of_the_model_leaves_the_rules_alone() -> None:
    """Where no flake is seen there is no estimate and no grade falls out."""
    found = window(RANGE, by_hand=False, tool="da", shelf=SHELF, risks=Risks(None), flake="medium")
    assert found.line is None
    assert found.finish is not None
    assert found.finish.coarsest == "P800"


def test_a_bed_has_the_coats_that_rules_ask_for_at_least() -> None:
    """Whether the rules or the line model ask for it; a place without a bed gets none by that."""
    asked = RANGE._replace(wet_bed="required", bed_coats_min=2)
    assert _of(asked, 0.0).wet_bed == WetBedAdvice("required", 2)
    assert _of(asked._replace(wet_bed="advised"), 0.0).wet_bed == WetBedAdvice("advised", 2)
    assert _of(RANGE._replace(bed_coats_min=2), 0.4).wet_bed == WetBedAdvice("required", 2)
    assert _of(RANGE._replace(bed_coats_min=2), 0.0).wet_bed == WetBedAdvice("no", 0)


def test_more_coats_asked_for_than_may_be_laid_hold_a_required_bed() -> None:
    """Neither rule overrides the other; an advised bed gets the coats that may be laid."""
    asked = RANGE._replace(wet_bed="required", bed_coats_min=3)
    assert [each.fact for each in _of(asked, 0.0).trouble] == [BedTooThin(3, 2)]
    assert _of(asked._replace(wet_bed="advised"), 0.0).wet_bed == WetBedAdvice("advised", 2)


@pytest.mark.practice
def test_no_bed_saves_a_cut_coarser_than_p800_from_fine_flake_on() -> None:
    """Even where a house's rules leave nothing finer (danger 4): sand again, lay no bed over it."""
    coarse, fine = Grade("P400"), Grade("P600")
    said = Decision(finish_coarsest=coarse, finish_finest=fine, risk_limit=0.1, bed_coats_max=3)
    risk: dict[tuple[str, int], LineEstimate] = {
        (grade, coats): LineEstimate(1.0, 0.6 - 0.25 * coats) for grade in SHELF for coats in range(4)
    }

    def found(flake: Flake) -> Window:
        return window(said, by_hand=False, tool="da", shelf=SHELF, risks=Risks(risk), flake=flake)

    assert found("medium").wet_bed == WetBedAdvice(need="required", coats=2)
    for flake in FLAKES[FLAKES.index("fine") :]:
        assert found(flake).finish is None
        assert isinstance(found(flake).trouble[0].fact, WillShow)
