"""The house standards: their language, the engine that decides by them, and what is proven of them.

A part's code is loaded when something of it is first asked for: a card needs no proof.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.standards.engine import BASE as BASE
    from prepadvisor.standards.engine import EVERYTHING as EVERYTHING
    from prepadvisor.standards.engine import NUMBER_RANGES as NUMBER_RANGES
    from prepadvisor.standards.engine import OUT as OUT
    from prepadvisor.standards.engine import OUTPUTS as OUTPUTS
    from prepadvisor.standards.engine import Box as Box
    from prepadvisor.standards.engine import Engine as Engine
    from prepadvisor.standards.engine import Example as Example
    from prepadvisor.standards.engine import Interval as Interval
    from prepadvisor.standards.engine import Rule as Rule
    from prepadvisor.standards.engine import Setting as Setting
    from prepadvisor.standards.engine import State as State
    from prepadvisor.standards.engine import output_named as output_named
    from prepadvisor.standards.house import DataChange as DataChange
    from prepadvisor.standards.house import House as House
    from prepadvisor.standards.house import HouseData as HouseData
    from prepadvisor.standards.house import Loosened as Loosened
    from prepadvisor.standards.house import constants_stated as constants_stated
    from prepadvisor.standards.house import data_changes as data_changes
    from prepadvisor.standards.house import shop_stated as shop_stated
    from prepadvisor.standards.house import tally as tally
    from prepadvisor.standards.language.as_words import NoGradeError as NoGradeError
    from prepadvisor.standards.language.as_words import in_words as in_words
    from prepadvisor.standards.language.as_words import quoted as quoted
    from prepadvisor.standards.language.as_words import rule_text as rule_text
    from prepadvisor.standards.language.as_words import set_line as set_line
    from prepadvisor.standards.language.as_words import tightened as tightened
    from prepadvisor.standards.language.as_words import when_line as when_line
    from prepadvisor.standards.language.layers import BadRulesError as BadRulesError
    from prepadvisor.standards.language.layers import Layers as Layers
    from prepadvisor.standards.language.layers import build as build
    from prepadvisor.standards.language.read_set import read_set as read_set
    from prepadvisor.standards.language.read_set import shortfalls as shortfalls
    from prepadvisor.standards.language.read_set import whole_case as whole_case
    from prepadvisor.standards.language.read_when import read_value as read_value
    from prepadvisor.standards.language.read_when import read_when as read_when
    from prepadvisor.standards.language.rule_file import RuleSource as RuleSource
    from prepadvisor.standards.language.schema import RuleFile as RuleFile
    from prepadvisor.standards.proof.audit import audit as audit
    from prepadvisor.standards.proof.audit import audit_house as audit_house
    from prepadvisor.standards.proof.audited import Audited as Audited
    from prepadvisor.standards.proof.audited import told_setting as told_setting
    from prepadvisor.standards.proof.compare import Change as Change
    from prepadvisor.standards.proof.compare import Comparison as Comparison
    from prepadvisor.standards.proof.compare import compare as compare
    from prepadvisor.standards.proof.deciding import Decides as Decides
    from prepadvisor.standards.proof.deciding import where_decides as where_decides
    from prepadvisor.standards.proof.differing import DIRECTIONS as DIRECTIONS
    from prepadvisor.standards.proof.differing import Cause as Cause
    from prepadvisor.standards.proof.differing import Difference as Difference
    from prepadvisor.standards.proof.differing import Direction as Direction
    from prepadvisor.standards.proof.doing import Doing as Doing
    from prepadvisor.standards.proof.doing import Loosening as Loosening
    from prepadvisor.standards.proof.doing import doings as doings
    from prepadvisor.standards.proof.doing import loosenings as loosenings
    from prepadvisor.standards.proof.findings import KINDS as KINDS
    from prepadvisor.standards.proof.findings import NOTES as NOTES
    from prepadvisor.standards.proof.findings import Audit as Audit
    from prepadvisor.standards.proof.findings import Finding as Finding
    from prepadvisor.standards.proof.promises import broken_promises as broken_promises
    from prepadvisor.standards.proof.sane import numbers as numbers
    from prepadvisor.standards.proof.sane import sane as sane
    from prepadvisor.standards.proof.shop import shop_slips as shop_slips
    from prepadvisor.standards.proof.space import UNKNOWN as UNKNOWN
    from prepadvisor.standards.proof.space import Axes as Axes
    from prepadvisor.standards.proof.space import Space as Space
    from prepadvisor.standards.proof.table import CellValue as CellValue
    from prepadvisor.standards.proof.table import Table as Table
    from prepadvisor.standards.proof.table import TooIntricateError as TooIntricateError
    from prepadvisor.standards.proof.table import columns as columns
    from prepadvisor.standards.proof.world import World as World

_PARTS = {
    "engine": (
        "BASE Box EVERYTHING Engine Example Interval NUMBER_RANGES OUT OUTPUTS Rule Setting State "
        "output_named"
    ),
    "house": "DataChange House HouseData Loosened constants_stated data_changes shop_stated tally",
    "language.as_words": "NoGradeError in_words quoted rule_text set_line tightened when_line",
    "language.layers": "BadRulesError Layers build",
    "language.read_set": "read_set shortfalls whole_case",
    "language.read_when": "read_value read_when",
    "language.rule_file": "RuleSource",
    "language.schema": "RuleFile",
    "proof.audit": "audit audit_house",
    "proof.audited": "Audited told_setting",
    "proof.compare": "Change Comparison compare",
    "proof.deciding": "Decides where_decides",
    "proof.differing": "Cause DIRECTIONS Difference Direction",
    "proof.doing": "Doing Loosening doings loosenings",
    "proof.findings": "Audit Finding KINDS NOTES",
    "proof.promises": "broken_promises",
    "proof.sane": "numbers sane",
    "proof.shop": "shop_slips",
    "proof.space": "Axes Space UNKNOWN",
    "proof.table": "CellValue Table TooIntricateError columns",
    "proof.world": "World",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
