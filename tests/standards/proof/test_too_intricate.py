"""Where cases get too intricate to be told whole: what is told all the same is true, and it says so.

The limits are put to nothing here, so that small standards take the ways of very large ones.
"""

from functools import partial
from types import SimpleNamespace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from prepadvisor.records import OutputName
from prepadvisor.standards import Audited, audit, compare, doings, loosenings
from prepadvisor.standards.engine import Engine
from prepadvisor.standards.language.as_words import when_line
from prepadvisor.standards.proof import audit as in_audit
from prepadvisor.standards.proof import audited as in_audited
from prepadvisor.standards.proof import differing as in_differing
from prepadvisor.standards.proof import doing as in_doing
from prepadvisor.standards.proof import gaps as in_gaps
from prepadvisor.standards.proof import outside as in_outside
from prepadvisor.standards.proof import pairs as in_pairs
from prepadvisor.standards.proof import told as in_told
from prepadvisor.standards.proof.promises import broken_promises
from prepadvisor.standards.proof.world import World
from tests.standards.language.test_many_layers import over, rule
from tests.standards.proof.test_findings_told import ALL_BOUNDS, found
from tests.standards.proof.test_findings_told import rule as compiled
from tests.standards.proof.tiny import any_box, draws, outside_of

NEEDED: tuple[OutputName, ...] = (
    "finish_finest", "finish_coarsest", "hand_last_coarsest", "hand_coarsest",
)  # fmt: skip
QUIET = settings(max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture])


@QUIET
@given(data=st.data())
def test_gaps_that_are_searched_for_are_gaps_and_none_is_missed_whole(
    small: SimpleNamespace, data: st.DataObject, monkeypatch: pytest.MonkeyPatch
) -> None:
    """For each bound something is told exactly if some case lacks it, and all that is told lacks it."""
    drawn = data.draw(small.standards(machine=True))
    brute = small.brute(drawn)
    grids = brute.outputs()
    with monkeypatch.context() as patched:
        patched.setattr(in_gaps, "_NODES_MOST", 0)
        findings = in_gaps.gaps(Audited(drawn.engine()))
    for output in NEEDED:
        lacking = brute.read(output) & (grids[output] == -float("inf"))
        boxes = [finding for finding in findings if f"sets {output}" in finding.says]
        assert bool(boxes) == lacking.any()
        for finding in boxes:
            inside = brute.box(finding.limits) & brute.read(output)
            assert inside.any()
            assert (lacking | ~inside).all()


@pytest.mark.parametrize(("limit", "is_all"), [(2, True), (1, False)])
def test_a_search_that_was_broken_off_says_that_there_may_be_more(
    monkeypatch: pytest.MonkeyPatch, limit: int, *, is_all: bool
) -> None:
    """One gap, looked for twice: it is all; looked for once, nobody knows."""
    monkeypatch.setattr(in_gaps, "_NODES_MOST", 0)
    monkeypatch.setattr(in_gaps, "_SEARCHED_MOST", limit)
    bounds = {name: value for name, value in ALL_BOUNDS.items() if name != "finish_finest"}
    rules = [
        compiled("a", when={}, **bounds),
        compiled("b", when={"flake": {"not": "solid"}}, finish_finest="P1500"),
    ]
    first, *more = found("gap", Engine(rules))
    assert first.limits == {"flake": ["solid"]}
    assert ["may be more such cases" in finding.says for finding in more] == ([] if is_all else [True])
    assert [finding.cases for finding in more] == ([] if is_all else [0])


def test_gaps_of_cases_that_are_not_counted_whole_are_searched_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a world too intricate, or gaps of too many parts, they are found one by one all the same."""
    rules = [
        compiled("a", when={"flake": {"not": "solid"}}, **ALL_BOUNDS),
        compiled("hold", when={"flake": "solid", "zone": "fade"}, holds="Ask."),
    ]
    whole = found("gap", Engine(rules))
    assert [finding.limits for finding in whole] == [{"flake": ["solid"], "zone": ["clear", "colour"]}]
    monkeypatch.setattr(in_gaps, "_PARTED_MOST", 1)
    parted = found("gap", Engine(rules))
    assert {frozenset(finding.limits) for finding in parted} <= {
        frozenset({"flake", "zone"}), frozenset({"flake", "zone", "reach"}),
        frozenset({"flake", "zone", "reach", "feature"}),
    }  # fmt: skip
    assert [finding.rules for finding in parted] == [()] * len(parted)
    monkeypatch.setattr(in_gaps, "_PARTED_MOST", 6000)
    monkeypatch.setattr(in_audited, "World", partial(World, nodes_most=0))
    assert [each.limits for each in found("gap", Engine(rules))] == [each.limits for each in parted]


def test_gaps_of_very_many_rules_get_less_work_and_are_told_all_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """One case is looked for first, and they are searched for one by one sooner; none is made up or lost."""
    rules = [
        compiled("a", when={"flake": {"not": "solid"}}, **ALL_BOUNDS),
        compiled("hold", when={"flake": "solid", "zone": "fade"}, holds="Ask."),
    ]
    whole = found("gap", Engine(rules))
    monkeypatch.setattr(in_gaps, "_NODES_OF_MANY", 0)
    monkeypatch.setattr(in_gaps, "_RULES_MANY", 2)
    assert found("gap", Engine(rules)) == whole
    monkeypatch.setattr(in_gaps, "_RULES_MANY", 1)
    searched = found("gap", Engine(rules))
    assert searched != whole
    assert all(each.limits["flake"] == ["solid"] for each in searched if each.limits)
    monkeypatch.setattr(in_gaps, "_NODES_OF_MANY", 6_000)
    assert found("gap", Engine(rules)) == whole
    assert found("gap", Engine([compiled("a", when={}, **ALL_BOUNDS), rules[1]])) == []
    one_bound = compiled("a", when={}, **{name: "P800" for name in ALL_BOUNDS if name != "finish_finest"})
    assert [each.limits for each in found("gap", Engine([one_bound, rules[1]]))] != []


def test_a_world_too_intricate_has_more_cases_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Held cases then count as living, and cases by machine stay beside those by hand."""
    rules = [
        compiled("hold", when={"flake": "solid"}, holds="Ask."),
        compiled("off", when={"feature": "edge"}, machine="never"),
    ]
    exact = Audited(Engine(rules))
    assert exact.world.is_whole
    monkeypatch.setattr(in_audited, "World", partial(World, nodes_most=0))
    loose = Audited(Engine(rules))
    count = loose.diagrams.count
    assert not loose.world.is_whole
    assert count(loose.world.living) > exact.diagrams.count(exact.world.living)
    assert count(loose.world.judged) > exact.diagrams.count(exact.world.judged)
    assert count(loose.world.met) == exact.diagrams.count(exact.world.met)
    told = audit(Engine(rules))
    assert not told.living_is_exact
    monkeypatch.undo()
    assert audit(Engine(rules)).living_is_exact


def test_promises_over_many_cases_that_do_not_count_compare_next_values_only(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """It is said; a step over a flake held in some cases is then not looked at, one to the next flake is."""
    promise = {
        "says": "Never coarser.", "along": "flake", "output": "finish_coarsest", "never": "coarser",
    }  # fmt: skip
    layer = {
        "promise": [promise],
        "rule": [
            rule("next", "P2000", when={"flake": "solid"}),
            rule("far", "P1500", when={"flake": "coarse"}),
            rule("held", set={"holds": "Ask."}, when={"flake": "medium", "tone": "dark"}),
        ],
    }
    engine = over(layer)
    everything = Audited(engine)
    steps = {tuple(finding.limits["flake"]) for finding in broken_promises(everything)}
    assert steps == {("solid", "coarse"), ("coarse", "medium"), ("coarse", "fine")}
    assert everything.not_judged == set()
    for limit in ("_UNCOUNTED_MOST", "_WEIGHED_MOST"):
        with monkeypatch.context() as patched:
            patched.setattr(in_pairs, limit, 0)
            next_only = Audited(engine)
            steps = {tuple(finding.limits["flake"]) for finding in broken_promises(next_only)}
        assert steps == {("solid", "coarse"), ("coarse", "medium")}
        assert next_only.not_judged == {in_pairs.NEXT_ONLY}


def test_one_large_box_is_grown_where_others_would_cost_too_much(monkeypatch: pytest.MonkeyPatch) -> None:
    """True all the same: it lies outside what it must not touch."""
    bounds = {name: value for name, value in ALL_BOUNDS.items() if name != "finish_finest"}
    rules = [
        compiled("a", when={}, **bounds),
        compiled("b", when={"flake": {"not": "solid"}, "tone": "mid"}, finish_finest="P1500"),
        compiled("c", when={"flake": "solid", "zone": "fade"}, finish_finest="P1500"),
    ]
    monkeypatch.setattr(in_gaps, "_NODES_MOST", 0)
    monkeypatch.setattr(in_gaps, "_SEARCHED_MOST", 1)
    largest = found("gap", Engine(rules))[0]
    monkeypatch.setattr(in_told, "_BESIDE_MOST", 0)
    one = found("gap", Engine(rules))[0]
    assert one.cases <= largest.cases
    for finding in (one, largest):
        tones = set(finding.limits.get("tone", ["dark", "mid", "light"]))
        zones = set(finding.limits.get("zone", ["clear", "colour", "fade"]))
        flakes = set(finding.limits.get("flake", ["solid", "fine"]))
        assert not (flakes - {"solid"} and "mid" in tones)
        assert not ("solid" in flakes and "fade" in zones)


def test_few_boxes_weighed_before_one_is_carved_out_find_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether there is a case outside does not hang on how it is looked for."""
    for most in (0, 1):
        monkeypatch.setattr(in_outside, "_TRIED_MOST", most + 1)
        for draw, each in draws(15):
            box = any_box(draw)
            expected = outside_of(box, each.boxes)
            case = in_outside.Outside(each.covers, box, each.everyone).case()
            assert (case in expected) if expected else (case is None)


LAYER = {
    "rule": [
        rule("own", "P1500", when={"flake": "fine"}),
        rule("same", "P800"),
        rule("lax", "P800", replaces="base-fine"),
        rule("words", set={"notes": "Look."}),
    ],
    "withdraw": [{"rule": "base-hold", "because": "x", "lets_go": "y"}],
}


def test_of_very_many_rules_a_case_is_shown_and_not_the_count(monkeypatch: pytest.MonkeyPatch) -> None:
    """What each does is the same; how many cases it changes, and what shadows it, is left out."""
    whole = doings(Audited(over(LAYER)))
    monkeypatch.setattr(in_doing, "_WHOLE_MOST", 5)
    assert doings(Audited(over(LAYER))) == whole
    monkeypatch.setattr(in_doing, "_WHOLE_MOST", 4)
    part = doings(Audited(over(LAYER)))
    assert [(each.rule, each.does) for each in part] == [(each.rule, each.does) for each in whole]
    cases = {each.rule: (bool(each.cases), each.case is not None, bool(each.shadows)) for each in part}
    assert cases["own"] == cases["words"] == (False, True, False)
    assert {each.rule: bool(each.cases) for each in whole}["own"]
    for each in part:
        if each.rule == "own":
            assert each.case is not None
            assert each.case.flake == "fine"
            assert [str(one.after) for one in each.differences] == ["P1500"]


@pytest.mark.parametrize("most", [2, 1, 0])
def test_of_very_many_replacements_one_case_of_each_kind_is_looked_for(
    monkeypatch: pytest.MonkeyPatch, most: int
) -> None:
    """What they do, and what differs in the case told, is as if compared; only the count is left out."""
    compared = {each.rule: each for each in doings(Audited(over(LAYER)))}
    monkeypatch.setattr(in_doing, "_COMPARED_MOST", most)
    told = [each for each in doings(Audited(over(LAYER))) if each.rule in ("lax", "base-hold")]
    assert [each.does for each in told] == ["loosens", "loosens"]
    assert [each.differences for each in told] == [compared[each.rule].differences for each in told]
    assert [bool(each.cases) for each in told] == [place < most for place in range(2)]


def test_what_a_layer_loosens_is_what_comparing_tells_of_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only released and laxer cases are worked out: the same ones, by large boxes of each rule as well."""
    engine = over(LAYER)
    for most in (400, 0):
        monkeypatch.setattr(in_differing, "_WHOLE_MOST", most)
        changes = compare(engine.up_to(0), engine).changes
        laxer = [change for change in changes if change.direction in {"released", "laxer"}]
        assert [each.change for each in loosenings(engine)] == laxer
        assert 0 < len(laxer) < len(changes)


CLEAR = 'surface = ["aged-clear", "cured-clear"], next = "base"'
MACHINE, HAND, COLOURED = 'reach = "machine"', 'reach = "hand"', 'zone = ">= colour"'


def test_narrower_conditions_are_tried_in_the_order_in_which_leads_forget_them() -> None:
    """Old clear and base next, by machine or hand, where colour goes, then by flake from either end."""
    trials = list(in_audit._trials(compiled("own", "ours", {}, wet_bed="required")))
    flakes = [f'flake = ">= {name}"' for name in ("medium", "fine", "very-fine")]
    downs = [f'flake = "<= {name}"' for name in ("very-fine", "medium")]
    shiny = 'surface = ["aged-clear", "cured-clear"]'
    expected = [
        CLEAR, f"{CLEAR}, {MACHINE}", f"{CLEAR}, {HAND}", f"{CLEAR}, {COLOURED}",
        f"{CLEAR}, {COLOURED}, {MACHINE}", shiny, 'next = "base"', f'next = "base", {MACHINE}',
        f'next = "base", {COLOURED}', MACHINE, HAND, COLOURED,
        *(f"{CLEAR}, {run}" for run in flakes), *(f"{CLEAR}, {HAND}, {run}" for run in flakes),
        *downs, *(f"{CLEAR}, {run}" for run in downs),
    ]  # fmt: skip
    told = [when_line(trial.rule.when).strip("{} ") for trial in trials]
    assert [facts_of_line(each) for each in told] == [facts_of_line(each) for each in expected]
    assert all(trial.when_changed and not trial.set_changed and not trial.wider for trial in trials)
    assert all(trial.lines == f"when = {when_line(trial.rule.when)}" for trial in trials)


def facts_of_line(line: str) -> frozenset[str]:
    """Return a line of conditions without their order."""
    return frozenset(part.strip(" ,") for part in line.replace('", "', '"; "').split(", "))


def test_a_rule_is_tried_with_its_usual_grade_and_wider_as_well() -> None:
    """A coarsest grade without a usual one as fine; a flake and a film that end before the strict end."""
    own = compiled("own", "ours", {"flake": "fine", "film_um": "90 .. 120"}, finish_coarsest="P1000")
    trials = list(in_audit._trials(own))
    assert trials[0].set_changed
    assert not trials[0].when_changed
    assert trials[0].lines == 'set = { finish_coarsest = "P1000", finish_target = "P1000" }'
    wider = [trial for trial in trials if trial.wider]
    assert wider[0].lines.splitlines() == [
        "# in more cases than yours: what is stricter (finer flake, fade, thinner film) is never laxer",
        'when = { flake = ">= fine", film_um = "<= 120" }',
    ]
    keys = [(trial.rule.when, tuple(trial.rule.set.items())) for trial in trials]
    assert len(set(keys)) == len(keys)
    assert (own.when, tuple(own.set.items())) not in keys
    usual = compiled("own", "ours", {}, finish_coarsest="P1000", finish_target="P800")
    assert in_audit._with_usual(usual)["finish_target"] == "P1000"
    for target in ("P1000", "P1200"):
        enough = compiled("own", "ours", {}, finish_coarsest="P1000", finish_target=target)
        assert in_audit._with_usual(enough) == dict(enough.set)
    off = compiled("own", "ours", {}, machine="never")
    assert [each.get("hand_last_coarsest") for each in in_audit._settings(off)] == [
        None, None, "P1500", "P1200", "P1000", "P800",
    ]  # fmt: skip
    coats = compiled("own", "ours", {}, bed_coats_min=3)
    assert [each["bed_coats_min"] for each in in_audit._settings(coats)] == [3, 3, 2, 1]
    bound = compiled("own", "ours", {}, machine="never", hand_last_coarsest="P800")
    assert len(list(in_audit._settings(bound))) == 2
