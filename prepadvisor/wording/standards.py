"""The house in words: deviations, what is laxer, layers, own numbers, and how sure the line model is."""

import re
from typing import TYPE_CHECKING, Final, assert_never

from prepadvisor.records import (
    Deviation,
    Estimate,
    HouseChange,
    Laxer,
    LayerUsed,
    MeasuredHere,
    Spot,
    StandardsUsed,
)
from prepadvisor.wording import names as trade
from prepadvisor.wording.names import OUTPUT, flake_short, listed

if TYPE_CHECKING:
    from prepadvisor.wording.units import Units

_NAME: Final = re.compile(r"[A-Za-z0-9-]+")
_UNITS: Final = frozenset({"mm", "um", "dm2", "m2", "deg", "arcsec", "ml"})
_LAST: Final = frozenset({"per", "minute", "minutes", "hours"})
"""Words of a number's name, at its end, that only say its unit as others do anywhere: it stands behind."""
_NO_UNIT: Final = "P grade"
"""What the passport of a grade says: the grade says it itself."""

_TOLD_WHOLE = 3
"""So many deviations are told with their words in one line; more by their ids alone."""

_MEASURED_WHOLE = 3
"""Likewise of measured numbers: the card's foot says how many panels they rest on."""

_IN_WORDS: Final = frozenset({"holds", "cautions", "notes", "line"})
"""Answers that a rule gives in words, which stand beside them."""
_FILM: Final = frozenset({"film_off_max_um", "film_left_min_um"})
"""Answers in µm of film."""


def house_lines(used: StandardsUsed) -> tuple[str, ...]:
    """Return what the top of a card says of the house: deviations, layers not in force, own numbers."""
    lines = []
    count = len(used.deviations)
    if count:
        whole = count <= _TOLD_WHOLE
        each = [f"{item.rule} ({_reason(item)})" if whole else item.rule for item in used.deviations]
        lines.append(f"{count} deviation{'' if count == 1 else 's'} from the base: {listed(each)}")
    lines += [layer_says(layer) for layer in used.layers if layer.state != "in force"]
    stated = [change_says(change) for change in used.changes if not change.measured]
    if stated:
        lines.append(f"own numbers: {', '.join(stated)}")
    measured = [change_says(change) for change in used.changes if change.measured]
    if len(measured) > _MEASURED_WHOLE:
        lines.append(f"{len(measured)} numbers measured here: why PLACE --numbers has each")
    elif measured:
        lines.append(f"measured here: {', '.join(measured)}")
    return tuple(lines)


def change_says(change: HouseChange) -> str:
    """Return one number or word of the house with what ships: "mist 150 → 0 mm"."""
    if change.name == "shelf":
        return _shelf_says(str(change.shipped or "").split(), str(change.house or "").split())
    unit = "" if change.unit == _NO_UNIT else change.unit
    values = [
        "none" if value is None else f"{value:.4g}" if isinstance(value, float) else _word(str(value))
        for value in (change.shipped, change.house)
    ]
    return " ".join(part for part in (_called(change.name), " → ".join(values), unit) if part)


def _called(name: str) -> str:
    """Return what a number of the house's files is called on a card: its name without unit and signs."""
    words = [word for word in _NAME.findall(name) if word not in _UNITS]
    while len(words) > 1 and words[-1] in _LAST:
        words.pop()
    return " ".join(_word(word) for word in words)


def _word(word: str) -> str:
    return trade.TOOL.get(word, flake_short(word) if word in trade.FLAKE else word)


def _shelf_says(shipped: list[str], house: list[str]) -> str:
    lacks = [grade for grade in shipped if grade not in house]
    adds = [grade for grade in house if grade not in shipped]
    parts = [f"without {listed(lacks)}"] if lacks else []
    parts += [f"with {listed(adds)}"] if adds else []
    return f"shelf {' and '.join(parts)}"


def layer_says(layer: LayerUsed) -> str:
    """Return what a layer does for this job."""
    name = layer.name or layer.layer
    match layer.state:
        case "in force":
            return f"{name} is in force"
        case "unsure":
            asked = ["date"] if layer.valid_from or layer.valid_to else []
            asked += ["customer"] if layer.customer else []
            lacks = " or ".join(asked)
            return f"{name}: the job states no {lacks}, so it tightens and loosens nothing"
        case "not yet":
            return f"{name} is not in force before {layer.valid_from}"
        case "over":
            return f"{name} was in force until {layer.valid_to}"
        case "other customer":
            return f"{name} is for another customer"
        case _:
            assert_never(layer.state)


def _reason(item: Deviation) -> str:
    """Return why a rule below does not count, and what guards instead where it held."""
    guard = f"; now guarded by: {item.lets_go.rstrip('.')}" if item.lets_go else ""
    return item.says.rstrip(".") + guard


def deviation_says(item: Deviation) -> str:
    """Return one deviation whole: rule, by what, in whose words, where it stands."""
    where = f" ({item.file}:{item.line})" if item.file else ""
    guard = f"; now guarded by: {item.lets_go}" if item.lets_go else ""
    return f"{item.rule} {item.kind} by {item.by}: {item.says}{guard}{where}"


def answer_says(output: str, value: str | float | None, units: "Units") -> str:
    """Return an answer of the standards with its value; of what is said in words alone only what it is.

    Args:
        output: the answer's name.
        value: the answer, None for no bound.
        units: of the card.
    """
    named = OUTPUT.get(output, output)
    return named if output in _IN_WORDS else f"{named} {value_says(output, value, units)}"


def value_says(output: str, value: str | float | None, units: "Units") -> str:
    """Return the value of an answer, film in the units of the card."""
    if isinstance(value, float | int) and output in _FILM:
        return units.film(value)
    return "no bound" if value is None else f"{value:g}" if isinstance(value, float) else str(value)


def laxer_says(item: Laxer, units: "Units") -> str:
    """Return what is looser at a place than a layer below asks."""
    if item.output == "holds":
        held = str(item.before).rstrip(".")
        return f'HOUSE: no hold here; a layer below has "{held}" (let go by {item.by})'
    before = value_says(item.output, item.before, units)
    return f"HOUSE: {answer_says(item.output, item.after, units)}, base {before} (by {item.by})"


def rests_on(used: StandardsUsed, digest: str, version: str) -> str:
    """Return names, versions and digests of the standards, and the program's version."""
    count = [layer for layer in used.layers if layer.state in {"in force", "unsure"}]
    layers = [
        f"{layer.name or layer.layer} {layer.version}".strip()
        + (f", approved by {layer.approved_by}" if layer.approved_by else "")
        for layer in count
    ] or [f"{used.name} {used.version}".strip() or "without a name"]
    parts = [f"standards {layers[0]}", *layers[1:], f"{len(used.files)} rule files"]
    parts += [f"digest {digest[:8]}"] if digest else []
    return f"{', '.join(parts)}; prepadvisor {version}"


# How sure the line model is, in words: an estimate, or measured here.


def estimate_word(measured: MeasuredHere | None) -> str:
    """Return the word that stands behind a risk: "estimate", or "measured here, 24 panels"."""
    return sure_word(measured.rows if measured else None)


def sure_word(rows: int | None) -> str:
    """Return the same for so many rows of the shop's own, None for the shipped numbers."""
    return "estimate" if rows is None else f"measured here, {rows} panel{'s' if rows != 1 else ''}"


def sure_of(spot: Spot) -> str:
    """Return the word behind a spot's risk; "estimate" where the line model has nothing to say."""
    said = (reason.says for reason in spot.because if isinstance(reason.says, Estimate))
    return sure_word(next((each.panels for each in said), None))


def estimate_short(measured: MeasuredHere | None) -> str:
    """Return how sure the line model is, as it stands in a card's foot."""
    if measured is None:
        return "Line model: estimate until test panels confirm."
    tools = ", ".join(trade.TOOL.get(tool, tool) for tool in measured.tools)
    of = f" for {tools}" if tools else ""
    return f"Line model: {estimate_word(measured)}, {measured.on.isoformat()}{of}."
