"""The engine: one decision is a few integer ANDs over bitmaps, a sweep is the same in columns."""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.standards.engine.asides import OUT as OUT
    from prepadvisor.standards.engine.asides import RulesStanding as RulesStanding
    from prepadvisor.standards.engine.asides import State as State
    from prepadvisor.standards.engine.asides import lets_go as lets_go
    from prepadvisor.standards.engine.asides import standing as standing
    from prepadvisor.standards.engine.asides import target_of as target_of
    from prepadvisor.standards.engine.conditions import EVERYTHING as EVERYTHING
    from prepadvisor.standards.engine.conditions import NO_READING as NO_READING
    from prepadvisor.standards.engine.conditions import Bitmaps as Bitmaps
    from prepadvisor.standards.engine.conditions import Box as Box
    from prepadvisor.standards.engine.conditions import Interval as Interval
    from prepadvisor.standards.engine.conditions import bits_of as bits_of
    from prepadvisor.standards.engine.conditions import box_of as box_of
    from prepadvisor.standards.engine.conditions import places_of as places_of
    from prepadvisor.standards.engine.engine import Engine as Engine
    from prepadvisor.standards.engine.rules import BASE as BASE
    from prepadvisor.standards.engine.rules import NUMBER_RANGES as NUMBER_RANGES
    from prepadvisor.standards.engine.rules import OUTPUTS as OUTPUTS
    from prepadvisor.standards.engine.rules import Example as Example
    from prepadvisor.standards.engine.rules import Impossible as Impossible
    from prepadvisor.standards.engine.rules import Output as Output
    from prepadvisor.standards.engine.rules import Promise as Promise
    from prepadvisor.standards.engine.rules import Rule as Rule
    from prepadvisor.standards.engine.rules import Setting as Setting
    from prepadvisor.standards.engine.rules import Withdraw as Withdraw
    from prepadvisor.standards.engine.rules import grade_set as grade_set
    from prepadvisor.standards.engine.rules import output_named as output_named
    from prepadvisor.standards.engine.sweep import code as code

_PARTS = {
    "asides": "OUT RulesStanding State lets_go standing target_of",
    "conditions": "Bitmaps Box EVERYTHING Interval NO_READING bits_of box_of places_of",
    "engine": "Engine",
    "rules": (
        "BASE Example Impossible NUMBER_RANGES OUTPUTS Output Promise Rule Setting Withdraw grade_set "
        "output_named"
    ),
    "sweep": "code",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
