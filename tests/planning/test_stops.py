"""Which rules a stop is put down to: those that say just that, each text by itself."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from prepadvisor.planning import advise
from prepadvisor.records import Job, RuleHold
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
