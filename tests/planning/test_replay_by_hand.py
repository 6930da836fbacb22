"""Replay and archive in numbers worked by hand: what is counted, summed, ordered and put down to a rule."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from types import SimpleNamespace
from typing import Any, Final

import pytest

from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import (
    BothWays,
    ChangedBy,
    JobDifference,
    JobDifferences,
    PlaceChange,
    Tally,
    advise,
    difference,
    job_differences,
    spot_facts,
    spot_plans,
    ways_of,
)
from prepadvisor.planning.replay_tally import SHOP, ByCause, Largest, Sums
from prepadvisor.records import Advice, Deviation, Grade, LadderStep, Rates, Reason, WetBedAdvice
from prepadvisor.standards import Difference, House
from prepadvisor.standards.engine import Rule, box_of
from tests.planning.test_replay import CAUSE, FADE, PLACE, STRICTER, draft_of

OTHER: Final = ChangedBy("other", "draft.toml", 9, "gone")
P800, P1000, P1200 = Grade("P800"), Grade("P1000"), Grade("P1200")
BED: Final = {need: WetBedAdvice(need, 1) for need in ("no", "advised", "required")}
STEP: Final = LadderStep(tool="da", grade=P800, guide_coat=False, minutes=1.0, film_off_um=0.0)


def because(output: str, value: object, rule: str, file: str = "base.toml", line: int = 1) -> Reason:
    """Return a reason."""
    return Reason(output, value, rule, "base", file, line, "Says.", "practice")  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def two_panels(shipped_house: House) -> Advice:
    """Return the advice for a fine colour over two panels."""
    return advise(load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house), shipped_house)


@pytest.fixture(scope="module")
def bare(two_panels: Advice) -> Advice:
    """Return an advice of places p/E1, p/E2, p/E10 and q/E1, one spot each, whose sums are worked by hand."""
    names = ("p/E1", "p/E2", "p/E10", "q/E1")
    places = tuple(PLACE._replace(id=name, panel=name[0], spots=(f"{name}/fade",)) for name in names)
    spots = tuple(two_panels.spots[0]._replace(id=f"{name}/fade", because=()) for name in names)
    return two_panels._replace(
        places=places, spots=spots, minutes=30.0, mix_ml=200, discs={P800: 1},
        standards=two_panels.standards._replace(deviations=()),
    )  # fmt: skip


def changed(advice: Advice, reasons: Mapping[str, tuple[Reason, ...]], **places: Mapping[str, Any]) -> Advice:
    """Return an advice with other reasons at spots and other answers at places, named like p_E1."""
    named = {name.replace("_", "/"): parts for name, parts in places.items()}
    return advice._replace(
        places=tuple(place._replace(**named.get(place.id, {})) for place in advice.places),
        spots=tuple(
            spot._replace(because=reasons.get(spot.id.removesuffix("/fade"), ())) for spot in advice.spots
        ),
    )


@pytest.mark.parametrize(
    ("old", "new", "ways"),
    [
        ({}, {"guide_coat": "every-change"}, ("guide coat more",)),
        ({"hand_coarsest": P1000}, {"hand_coarsest": P800}, ("hand coarser",)),
        ({"hand_coarsest": None}, {"hand_coarsest": P800}, ("hand finer",)),
        ({"finish": P1200}, {"finish": P800}, ("coarser",)),
        ({"wet_bed": BED["required"]}, {"wet_bed": BED["advised"]}, ("wet bed less",)),
        ({"wet_bed": WetBedAdvice("advised", 2)}, {"wet_bed": BED["advised"]}, ("wet bed less",)),
        ({"wet_bed": BED["advised"]}, {"wet_bed": WetBedAdvice("advised", 2)}, ("wet bed more",)),
        ({"minutes": 4.0}, {"minutes": 4.06}, ("minutes more",)),
        ({"minutes": 4.0}, {"minutes": 4.04}, ()),
        ({"minutes": 0.0}, {"minutes": 0.05}, ("minutes more",)),
        ({"minutes": 5.0}, {"minutes": 4.0}, ("minutes less",)),
        ({}, {"interface_pad": not PLACE.interface_pad}, ("tool",)),
        ({}, {"reach": "hand"}, ("tool",)),
        ({}, {"split": (("fade", P1000), ("clear", P800))}, ("tool",)),
        ({}, {"ladder": (STEP,)}, ("tool",)),
        ({"ladder": (STEP,)}, {"ladder": (STEP._replace(tool="da-soft"),)}, ("tool",)),
        ({"ladder": (STEP,)}, {"ladder": (STEP._replace(grade=P1000),)}, ("tool",)),
        ({"ladder": (STEP,)}, {"ladder": (STEP._replace(minutes=9.0),)}, ()),
        (
            {},
            {"finish": None, "hand_coarsest": None, "minutes": 0.0},
            ("held", "hand coarser", "minutes less"),
        ),
    ],
    ids=str,
)
def test_what_two_answers_for_a_place_differ_in(
    old: dict[str, Any], new: dict[str, Any], ways: tuple[str, ...]
) -> None:
    """Each way by itself, both directions; less than three seconds is rounding."""
    assert ways_of(PLACE._replace(**old), PLACE._replace(**new)) == ways


def test_a_place_that_only_one_of_two_has() -> None:
    """It is released where it is new and has a finish, else held."""
    assert ways_of(None, PLACE) == ("released",)
    assert ways_of(None, PLACE._replace(finish=None)) == ("held",)
    assert ways_of(PLACE, None) == ("held",)


def test_a_change_is_put_down_to_the_rules_that_decide_under_one_of_two_only(bare: Advice) -> None:
    """New ones first. The line model is no rule; another rule with the same answer is no cause."""
    model = because("line", "x", "line-model", file="", line=0)
    before = changed(bare, {
        "p/E1": (because("finish_coarsest", P800, "old"), because("guide_coat", "no", "same"), model),
        "p/E2": (because("hand_coarsest", P800, "lost", line=7),),
        "q/E1": (because("risk_limit", 0.5, "taken", line=5),),
    })  # fmt: skip
    after = changed(
        bare._replace(standards=bare.standards._replace(deviations=(
            Deviation("taken", "withdrawn", "w", "Ours.", "ours.toml", 3),
        ))),
        {
            "p/E1": (
                because("finish_coarsest", P1000, "new", "ours.toml", 2), because("guide_coat", "no", "twin"),
                because("finish_coarsest", P1000, "a-new", "ours.toml", 4),
            ),
            "q/E1": (because("risk_limit", 0.3, "tighter", "ours.toml", 8),),
        },
        p_E1={"finish": P1000, "minutes": 9.0}, p_E2={"hand_coarsest": None}, q_E1={"finish": P1200},
    )  # fmt: skip
    found = {change.place: change for change in difference(before, after).changes}
    assert found["p/E1"].causes == (
        ChangedBy("a-new", "ours.toml", 4, "new"),
        ChangedBy("new", "ours.toml", 2, "new"),
    )
    assert found["p/E2"].causes == (ChangedBy("lost", "base.toml", 7, "gone"),)
    assert found["q/E1"].causes == (
        ChangedBy("tighter", "ours.toml", 8, "new"),
        ChangedBy("taken", "ours.toml", 3, "gone"),
    )
    assert set(found) == {"p/E1", "p/E2", "q/E1"}
    assert found["p/E1"].ways == ("minutes more",)
    assert (found["p/E1"].before, found["p/E1"].after) == (before.places[0], after.places[0])


def test_what_no_rule_of_its_own_is_behind_follows_its_panel_alone(bare: Advice) -> None:
    """E2 has the causes of E1 and E10, each once and in their order; the other panel's place has none."""
    reasons = {
        "p/E1": (because("finish_coarsest", P1200, "one"),),
        "p/E10": (because("finish_coarsest", P1200, "two"), because("wet_bed", "required", "one", line=1)),
    }
    after = changed(bare, reasons, **{
        name: {"finish": P1200} for name in ("p_E1", "p_E2", "p_E10", "q_E1")
    })  # fmt: skip
    found = {
        change.place: [cause.rule for cause in change.causes] for change in difference(bare, after).changes
    }
    assert found == {"p/E1": ["one"], "p/E2": ["one", "two"], "p/E10": ["one", "two"], "q/E1": []}


def test_sums_of_both_stand_beside_each_other(bare: Advice) -> None:
    """Before first. Money at 60 an hour, 40 a litre, 2 a disc: 30 + 8 + 2 = 40, then 45 + 20 + 6 = 71."""
    after = bare._replace(minutes=45.0, mix_ml=500, discs={P1000: 3})
    rates = Rates(labour_per_hour=60, wet_bed_per_litre=40, per_disc=2)
    found = difference(bare, after, rates)
    assert (found.places, found.changes) == (4, ())
    assert (found.minutes, found.ml, found.money) == ((30.0, 45.0), (200, 500), (40.0, 71.0))
    assert found.discs == ({P800: 1}, {P1000: 3})
    assert found.is_change
    assert difference(bare, after).money is None
    same = difference(bare, bare, rates)
    assert (same.places, same.changes, same.minutes, same.is_change) == (4, (), (30.0, 30.0), False)


def one_change(*ways: str, minutes: float = 0.0, causes: tuple[ChangedBy, ...] = (CAUSE,)) -> PlaceChange:
    """Return a place that changes."""
    return PlaceChange("p/E1", ways, PLACE, PLACE._replace(minutes=PLACE.minutes + minutes), causes)


def job_change(
    *changes: PlaceChange, minutes: tuple[float, float] = (5.0, 5.0), **parts: Any
) -> JobDifference:
    """Return a job of ten places with these changes."""
    return JobDifference(10, changes, minutes, **{"discs": ({}, {}), **parts})


def test_discs_or_minutes_alone_make_a_job_a_changed_one() -> None:
    """And nothing at all does not."""
    assert not job_change().is_change
    assert job_change(minutes=(5.0, 6.0)).is_change
    assert job_change(discs=({P800: 1}, {P800: 2})).is_change
    assert job_change(one_change("tool")).changed == {"p/E1": ("tool",)}
    assert job_change(one_change("finer"), one_change("held")).is_held_otherwise
    assert not job_change(one_change("finer")).is_held_otherwise


def test_a_tally_counts_jobs_places_ways_and_sums() -> None:
    """Two changed jobs, one that is held, one alike, by hand."""
    tally = Tally()
    tally.add("a", job_change(
        one_change("finer", minutes=2.0), one_change("finer", "tool", minutes=1.0, causes=(CAUSE, OTHER)),
        minutes=(5.0, 8.0), ml=(100, 200), money=(10.0, 12.0), discs=({P800: 1}, {P1000: 2}),
    ))  # fmt: skip
    tally.add(
        "b", job_change(one_change("held", minutes=-4.0), minutes=(9.0, 1.0), ml=(50, 0), money=(4.0, 1.0))
    )
    tally.add("c", job_change(minutes=(3.0, 3.0), ml=(7, 7)))
    tally.add("d", job_change(one_change("minutes less", minutes=-1.0, causes=()), minutes=(6.0, 5.0)))
    counts = (tally.jobs, tally.jobs_changed, tally.jobs_held, tally.places, tally.places_changed)
    assert counts == (4, 3, 1, 40, 4)
    assert tally.ways == Counter({"finer": 2, "tool": 1, "held": 1, "minutes less": 1})
    assert tally.sums == Sums((14.0, 16.0), (107, 207), (10.0, 12.0), Counter({P800: 1}), Counter({P1000: 2}))
    assert tally.held == Sums((9.0, 1.0), (50, 0), (4.0, 1.0))
    assert tally.causes == {
        CAUSE: ByCause(3, 2, 3.0, Counter({"finer": 2, "tool": 1, "held": 1}),
                       [("a", "p/E1"), ("a", "p/E1"), ("b", "p/E1")]),
        OTHER: ByCause(1, 1, 1.0, Counter({"finer": 1, "tool": 1}), [("a", "p/E1")]),
        SHOP: ByCause(1, 1, -1.0, Counter({"minutes less": 1}), [("d", "p/E1")]),
    }  # fmt: skip
    assert (SHOP.rule, SHOP.file, SHOP.line) == ("", "", 0)  # no rule is behind it
    assert tally.largest == [Largest(2, 3.0, "a"), Largest(1, -8.0, "b"), Largest(1, -1.0, "d")]
    twice = Tally()
    twice.merge(tally)
    twice.merge(tally)
    assert (twice.jobs, twice.jobs_changed, twice.jobs_held) == (8, 6, 2)
    assert (twice.places, twice.places_changed, twice.ways["finer"]) == (80, 8, 4)
    assert twice.sums == Sums((28.0, 32.0), (214, 414), (20.0, 24.0), Counter({P800: 2}), Counter({P1000: 4}))
    assert (twice.held.minutes, twice.causes[OTHER].minutes, twice.causes[CAUSE].jobs) == (
        (18.0, 2.0),
        2.0,
        4,
    )


def test_places_that_come_or_go_have_no_minutes_to_compare() -> None:
    """Of one that only one of the two has, and of one that is held."""
    tally = Tally()
    for gone in ({"before": None}, {"after": None}):
        tally.add("a", job_change(one_change("finer", minutes=3.0)._replace(**gone)))  # type: ignore[arg-type]
    tally.add("b", job_change(one_change("released", minutes=3.0)))
    assert tally.causes[CAUSE].minutes == 0.0


def test_what_weighs_most_comes_first_and_ten_are_named() -> None:
    """Holds before what asks less before the many; of equal places the more minutes, then by name."""
    held, looser = ByCause(1, 1, ways=Counter({"held": 1})), ByCause(1, 1, ways=Counter({"coarser": 1}))
    many, few = ByCause(9, 1, ways=Counter({"finer": 9})), ByCause(2, 1, ways=Counter({"finer": 2}))
    assert sorted((few, many, looser, held), key=lambda each: each.gravity) == [held, looser, many, few]
    rows = [Largest(1, -9.0, "b"), Largest(1, 2.0, "a"), Largest(1, 9.0, "a"), Largest(3, 0.0, "z")]
    assert sorted(rows, key=lambda each: each.size) == [rows[3], rows[2], rows[0], rows[1]]
    one = ByCause()
    for number in range(15, 0, -1):
        one.merge(ByCause(1, 1, first=[(f"job {number:02}", "p/E1")]))
    assert one.first == [(f"job {number:02}", "p/E1") for number in range(1, 11)]


STOP: Final = Rule("stop", "Stop.", FADE, {"holds": ("Ask.",)}, "x", layer="ours", file="d.toml", line=9)
WORDS: Final = Rule("words", "Says.", FADE, {"cautions": ("Mind it.",)}, "x")
CLEAR: Final = Rule("clear", "Says.", box_of({"zone": ("clear",)}), {"guide_coat": "every-change"}, "x")


def spots_of(house: House) -> list[str]:
    """Return the spots of a job with a fine colour on two panels."""
    return [spot for spot, _ in spot_facts(load_job(demo_jobs_dir() / "fine-two-panels.toml", house), house)]


def test_own_jobs_are_counted_by_spot_and_by_the_stricter_rule(shipped_house: House) -> None:
    """A draft that asks P1200 in the fade, told both ways round; its rule is behind both."""
    job = load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house)
    spots = spots_of(shipped_house)
    assert spots == [spot.id for spot in advise(job, shipped_house).spots]
    assert [plan.spot.id for plan in spot_plans(job, shipped_house)] == spots
    fade = [spot for spot in spots if spot.endswith("/fade")]
    cases = dict(spot_facts(job, shipped_house))
    was = Counter(shipped_house.engine.decide(cases[spot]).finish_coarsest for spot in fade)
    there = job_differences([job, job], shipped_house, draft_of(shipped_house, STRICTER))
    assert (there.jobs, there.spots, there.changed) == (2, 2 * len(spots), 2 * len(fade))
    assert there.found == Counter({
        ("stricter", Difference("finish_coarsest", grade, P1200)): 2 * count for grade, count in was.items()
    })  # fmt: skip
    back = job_differences([job], draft_of(shipped_house, STRICTER), shipped_house)
    assert back.found == Counter({
        ("stricter", Difference("finish_coarsest", P1200, grade)): count for grade, count in was.items()
    })  # fmt: skip


def test_of_rules_that_say_the_same_the_first_by_name_is_told(shipped_house: House) -> None:
    """Whatever the order they stand in, so that two counts of one archive are alike."""
    job = load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house)
    twins = [STRICTER._replace(id=name) for name in ("c", "a", "b")]
    found = job_differences([job], shipped_house, draft_of(shipped_house, *twins)).found
    assert {rule for rule, _ in found} == {"a"}


def test_holds_and_words_are_differences_text_by_text(shipped_house: House) -> None:
    """Where one side holds only the hold and the words count, not the grades behind it."""
    job = load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house)
    fade = sum(spot.endswith("/fade") for spot in spots_of(shipped_house))
    draft = draft_of(shipped_house, STOP, WORDS, STRICTER)
    there = job_differences([job], shipped_house, draft).found
    assert there == Counter({
        ("stop", Difference("holds", None, "Ask.")): fade,
        ("words", Difference("cautions", None, "Mind it.")): fade,
    })  # fmt: skip
    back = job_differences([job], draft, shipped_house).found
    assert back == Counter({
        ("stop", Difference("holds", "Ask.", None)): fade,
        ("words", Difference("cautions", "Mind it.", None)): fade,
    })  # fmt: skip


def test_differences_come_gravest_first_then_the_most_spots_then_by_name() -> None:
    """Held, released, laxer, stricter, words."""
    held, released = Difference("holds", None, "Ask."), Difference("holds", "Ask.", None)
    laxer, stricter = (
        Difference("finish_coarsest", P1000, P800),
        Difference("finish_coarsest", P800, P1000),
    )
    words = Difference("notes", None, "Mind it.")
    order = [
        (("a", held), 1), (("a", released), 1), (("a", laxer), 1), (("c", stricter), 7), (("a", stricter), 2),
        (("b", stricter), 2), (("a", words), 9),
    ]  # fmt: skip
    found = JobDifferences(found=Counter(dict(reversed(order))))
    assert found.by_gravity() == order


def test_any_other_data_of_the_house_asks_for_a_second_advice(shipped_house: House) -> None:
    """Though every answer be the same."""
    job = load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house)
    house, roof = shipped_house, shipped_house.outlines["roof"]
    wider = house.constants.groove.model_copy(
        update={"depth_per_grain": {**house.constants.groove.depth_per_grain}}
    )
    wider.depth_per_grain["block"] = wider.depth_per_grain["block"].model_copy(update={"value": 0.5})
    for other in (
        replace(house, shop=house.shop.model_copy(update={"gate_hours": 9.0})),
        replace(house, constants=house.constants.model_copy(update={"groove": wider})),
        replace(house, outlines={**house.outlines, "another": roof}),
        replace(house, book={**house.book, "another": None}),  # type: ignore[dict-item]
    ):
        before, after = BothWays(house, other).advise(job)
        assert before is not after
    before, after = BothWays(house, replace(house)).advise(job)
    assert before is after


@pytest.mark.parametrize("side", ["before", "after"])
def test_a_house_that_is_another_on_another_day_is_asked_for_each_job(
    shipped_house: House, side: str
) -> None:
    """The first job falls on a day when the draft is not in force, the second on one when it is."""
    job = load_job(demo_jobs_dir() / "fine-two-panels.toml", shipped_house)
    late = job.model_copy(update={"job": job.job.model_copy(update={"number": "late"})})
    draft = draft_of(shipped_house, STRICTER)
    dated: Any = SimpleNamespace(on=lambda one: draft if one.job.number == "late" else shipped_house)
    houses = (dated, shipped_house) if side == "before" else (shipped_house, dated)
    fade = sum(spot.endswith("/fade") for spot in spots_of(shipped_house))
    found = job_differences([job, late, job], *houses)
    assert (found.jobs, found.changed) == (3, fade)
