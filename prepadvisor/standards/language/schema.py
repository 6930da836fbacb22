"""The shape of a rule file, and the reading of one: its entries compiled, and every problem in it at once."""

import datetime as dt
from collections.abc import Mapping
from typing import Annotated, Any, Final, Self, TypeVar

from pydantic import Field, Strict, ValidationError, WithJsonSchema, field_validator, model_validator

from prepadvisor.cases import CATEGORIES, FACTS, NUMBERS, Category
from prepadvisor.records import (
    Identifier,
    KeyPath,
    NamedTuple,
    Problem,
    Record,
    Text,
    is_blank,
)
from prepadvisor.standards.engine import NUMBER_RANGES, OUTPUTS, Output

_Entry = TypeVar("_Entry", bound=Record)
Says = Annotated[Text, Field(min_length=1)]


def _value_schema(fact: Category) -> dict[str, Any]:
    if fact.takes_any_word:
        return {"type": "string", "minLength": 1}
    return {"enum": list(fact.stated)}


def _category_schema(fact: Category) -> dict[str, Any]:
    one = _value_schema(fact)
    listed = {"type": "array", "items": one, "minItems": 1}
    excluded = {
        "type": "object",
        "properties": {"not": {"anyOf": [one, listed], "description": "all but these"}},
        "required": ["not"],
        "additionalProperties": False,
    }
    compared = {"type": "string", "pattern": r"^\s*((>=|<=|>|<)\s*\S+|\S+\s*\.\.\s*\S+)\s*$"}
    return {"anyOf": [one, listed, excluded, *([compared] if fact.ordered else [])]}


def _number_schema(unit: str) -> dict[str, Any]:
    compared = {"type": "string", "pattern": r"^\s*((>=|<=|>|<)\s*[0-9.]+|[0-9.]+\s*\.\.\s*[0-9.]+)\s*$"}
    none = {"enum": ["no reading", "unknown", "not known", "not measured", "none"]}
    either = {"type": "array", "items": {"anyOf": [none, compared]}, "minItems": 2, "maxItems": 2}
    number = {"type": "number", "minimum": 0}
    return {"anyOf": [number, none, compared, either], "description": f"in {unit}"}


def _output_schema(output: Output) -> dict[str, Any]:
    if output.is_grade:
        return {"type": "string", "pattern": "^ *[Pp] ?[0-9]+ *$"}
    if output.is_number:
        low, high = NUMBER_RANGES[output.name]
        return {"type": "integer" if output.whole else "number", "minimum": low, "maximum": high}
    if output.words:
        return {"enum": list(output.words)}
    return {"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]}


def _table(properties: dict[str, Any]) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "additionalProperties": False}


_CONDITIONS: Final = {fact.name: _category_schema(fact) for fact in CATEGORIES} | {
    fact.name: _number_schema(fact.unit) for fact in NUMBERS
}
_FACTS: Final = {fact.name: _value_schema(fact) for fact in CATEGORIES} | {
    fact.name: {"type": "number", "minimum": 0, "description": f"in {fact.unit}"} for fact in NUMBERS
}
_SETTINGS: Final = {name: _output_schema(output) for name, output in OUTPUTS.items()}
_EXPECTED: Final = {
    name: {
        "anyOf": [
            _output_schema(output),
            {"const": "none"},
            _table({"not": {"description": "texts that must not stand there"}}),
        ]
    }
    for name, output in OUTPUTS.items()
}

When = Annotated[dict[str, Any], WithJsonSchema(_table(_CONDITIONS))]
Given = Annotated[dict[str, Any], WithJsonSchema(_table(_FACTS))]
Set = Annotated[dict[str, Any], Field(min_length=1), WithJsonSchema(_table(_SETTINGS) | {"minProperties": 1})]
Expect = Annotated[
    dict[str, Any], Field(min_length=1), WithJsonSchema(_table(_EXPECTED) | {"minProperties": 1})
]
OutputKey = Annotated[str, WithJsonSchema({"enum": list(OUTPUTS)})]
Along = Annotated[str, WithJsonSchema({"enum": [way + fact for fact in FACTS for way in ("", "falling ")]})]


class StandardsEntry(Record):
    """What the standards of a folder are called, who approved them, and for which days and customer.

    Attributes:
        name: what the standards are called on the card.
        version: their version; give every change a new one.
        valid_from: the first day they count, without quotes.
        valid_to: the last day they count, without quotes.
        approved_by: who approved them.
        customer: they count for jobs of this customer alone.
    """

    name: Says
    version: Annotated[Text, Field(min_length=1, max_length=40)]
    valid_from: Annotated[dt.date, Strict()] | None = None
    valid_to: Annotated[dt.date, Strict()] | None = None
    approved_by: Text = ""
    customer: Text = ""

    @model_validator(mode="after")
    def _days_in_order(self) -> Self:
        if self.valid_from and self.valid_to and self.valid_to < self.valid_from:
            raise ValueError("valid_to is a day before valid_from")
        return self

    @field_validator("approved_by")
    @classmethod
    def _approved_by_somebody(cls, name: str) -> str:
        if is_blank(name):
            raise ValueError("names nobody, so that nobody approved: write who did, or leave it out")
        return name

    @field_validator("customer")
    @classmethod
    def _a_customer_with_a_name(cls, name: str) -> str:
        if is_blank(name):
            raise ValueError(
                "names nobody, so that the layer would count for all: write a name, or leave it out"
            )
        return name


class RuleEntry(Record):
    """A rule: where all of `when` holds, `set` applies.

    Attributes:
        id: the rule's name, the same on card, in why and here.
        says: what it demands, in a sentence for the painter or lead.
        when: the cases it is for; every condition must hold.
        set: what it demands there; of several rules the tightest wins.
        source: where it comes from in your words; practice if it is only habit.
        replaces: the rule of a layer below that this one stands in for.
        lets_go: what guards now, where a hold goes.
    """

    id: Identifier
    says: Says
    when: When = {}
    set: Set
    source: Says
    replaces: Identifier | None = None
    lets_go: Says | None = None


class WithdrawEntry(Record):
    """A rule of a layer below that the house does without, and why.

    Attributes:
        rule: the id of the rule.
        because: why the house does without, in one sentence.
        lets_go: what guards now, where a hold goes.
    """

    rule: Identifier
    because: Says
    lets_go: Says | None = None


class ExampleEntry(Record):
    """A worked case: with these facts, these outputs.

    Attributes:
        given: the facts of the case; what is not given is as most jobs have it.
        expect: the answers that must come out.
    """

    given: Given = {}
    expect: Expect


class PromiseEntry(Record):
    """A statement that must hold over all cases.

    Attributes:
        says: what is promised, in a sentence.
        output: the answer that is promised.
        never: what it never is: coarser for grades, weaker for the rest.
        along: a fact with an order, or a number: of two cases that differ in it the higher is never laxer.
        than: another answer of the same case, to compare with.
        where: the cases it is kept in.
    """

    says: Says
    output: OutputKey
    never: Annotated[str, WithJsonSchema({"enum": ["coarser", "weaker"]})]
    along: Along | None = None
    than: OutputKey | None = None
    where: When = {}


class ImpossibleEntry(Record):
    """Cases that cannot be, and why; in the base only.

    Attributes:
        when: the cases that cannot be; every condition must hold.
        because: why they cannot, in one sentence.
    """

    when: Annotated[When, Field(min_length=1)]
    because: Says


class RuleFile(Record):
    """A rule file: any number of entries of each kind, in any order.

    Attributes:
        standards: what the standards of this folder are called, and when and for whom they count.
        rule: rules, one a table: where all of `when` holds, `set` applies.
        withdraw: rules of a layer below that the house does without, one a table.
        example: worked cases, one a table: with these facts, these answers.
        promise: statements that must hold over every case a card can meet, one a table.
        impossible: cases that cannot be, one a table; in the shipped rules only.
    """

    standards: StandardsEntry | None = None
    rule: tuple[RuleEntry, ...] = ()
    withdraw: tuple[WithdrawEntry, ...] = ()
    example: tuple[ExampleEntry, ...] = ()
    promise: tuple[PromiseEntry, ...] = ()
    impossible: tuple[ImpossibleEntry, ...] = ()


_ENTRIES: Final[dict[str, type[Record]]] = {
    "rule": RuleEntry,
    "withdraw": WithdrawEntry,
    "example": ExampleEntry,
    "promise": PromiseEntry,
    "impossible": ImpossibleEntry,
}


class Shaped(NamedTuple):
    """The well-shaped entries of a file, each kind with the place of every entry in the file."""

    standards: StandardsEntry | None
    entries: dict[str, list[tuple[int, Record]]]

    def of(self, kind: str) -> list[tuple[int, Any]]:
        """Return the entries of one kind with their places."""
        return self.entries.get(kind, [])


def shape(data: Mapping[str, object]) -> tuple[Shaped, list[Problem]]:
    """Return the entries of a rule file that have the right keys and kinds of values, and every problem."""
    problems: list[Problem] = []
    entries: dict[str, list[tuple[int, Record]]] = {}
    standards: StandardsEntry | None = None
    for key, value in data.items():
        if key == "standards":
            standards, found = _shaped(StandardsEntry, value, ("standards",), "[standards]")
            problems += found
        elif key not in _ENTRIES:
            problems.append(_unknown(key))
        elif not isinstance(value, list):
            problems.append(Problem((key,), f"{key} is a list of tables", f"write [[{key}]] above each one"))
        else:
            for place, entry in enumerate(value):
                shaped, found = _shaped(_ENTRIES[key], entry, (key, place), _called(key, entry))
                problems += found
                if shaped is not None:
                    entries.setdefault(key, []).append((place, shaped))
    return Shaped(standards, entries), problems


def _unknown(key: str) -> Problem:
    from prepadvisor.standards.language.misshapen import unknown_table  # likewise

    return unknown_table(key, ("standards", *_ENTRIES))


def _called(key: str, entry: object) -> str:
    name = entry.get("id") if isinstance(entry, Mapping) else None
    return f'rule "{name}"' if key == "rule" and isinstance(name, str) else key


def _shaped(
    model: type[_Entry], raw: object, path: KeyPath, called: str
) -> tuple[_Entry | None, list[Problem]]:
    try:
        return model.model_validate(raw), []
    except ValidationError as error:
        from prepadvisor.standards.language.misshapen import problems_of  # only where there are faults

        return None, problems_of(error, path, called, model)
