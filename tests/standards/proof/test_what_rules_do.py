"""What each rule of a house is said to do, against taking it away case by case."""

from types import SimpleNamespace

from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.standards import Audited, doings
from prepadvisor.standards.engine import Engine


@settings(max_examples=18)
@given(data=st.data())
def test_a_rule_does_what_changes_without_it(small: SimpleNamespace, data: st.DataObject) -> None:
    """It tightens where an answer that is read, or a hold, changes; only words, or nothing, else."""
    drawn = data.draw(small.standards(rules_most=6))
    brute = small.brute(drawn)
    whole, met = brute.outputs(), brute.possible & brute.met_by_a_card()
    house = [rule._replace(layer="ours", rank=1) for rule, _ in drawn.rules]
    engine = Engine(house, [entry for entry, _ in drawn.impossible])
    for each in doings(Audited(engine)):
        without = brute.outputs(without=each.rule)
        changed = {
            name
            for name in whole
            if ((whole[name] != without[name]) & (met if ":" in name else brute.read(name))).any()
        }
        words = {name for name in changed if name.startswith("notes")}
        expected = "tightens" if changed - words else "words" if words else "nothing"
        assert each.does == expected
        assert bool(each.differences) == (each.case is not None) == (expected != "nothing")
        assert bool(each.cases) == (expected != "nothing")
        if each.case is not None:
            (rule,) = (rule for rule in house if rule.id == each.rule)
            assert {difference.output for difference in each.differences} <= rule.set.keys()
            assert rule.when.holds(each.case)
