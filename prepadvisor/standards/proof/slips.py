"""Slips in rules: examples that fail, holds set aside unsaid, sentences and colours that do not fit."""

import re
from collections.abc import Iterator
from math import isfinite
from typing import TYPE_CHECKING, Final

from prepadvisor.records import GRADES, OUTLINES, OutputName, did_you_mean, key_of
from prepadvisor.standards.engine import BASE, OUTPUTS, Example, Rule
from prepadvisor.standards.language.read_set import shortfalls
from prepadvisor.standards.proof.audited import Audited, named
from prepadvisor.standards.proof.findings import Finding
from prepadvisor.standards.proof.world import World

if TYPE_CHECKING:
    from prepadvisor.standards.house import House

# Examples worked through the rules: each must come out as it says, and state a case that can be.


def failing_examples(audited: Audited) -> list[Finding]:
    """Return a finding for each example that comes out otherwise.

    An example is true of its layer over those below.
    """
    found = []
    for example in audited.engine.examples:
        rank = example.rank
        engine = audited.engine.up_to(rank) if rank < audited.engine.height else audited.engine
        because = engine.impossible(example.facts)
        if because is not None:
            found.append(_finding(example, f"An example states a case that cannot be: {because}", ()))
            continue
        decision = engine.decide(example.facts)
        for output, (expected, got) in shortfalls(example, decision).items():
            deciding = tuple(reason.rule for reason in decision.because if reason.output == output)
            by = f", by {' and '.join(deciding)}" if deciding else ""
            found.append(
                _finding(
                    example,
                    f"An example expects {output} {_told(expected)} but gets {_told(got)}{by}.",
                    deciding,
                )
            )
    return found


def _told(value: object) -> str:
    match value:
        case None | ():
            return "none"
        case {"not": texts}:
            return f"without {_told(texts)}"
        case tuple() | list():
            return " and ".join(f'"{text}"' for text in value)
        case _:
            return str(value)


def _finding(example: Example, says: str, rules: tuple[str, ...]) -> Finding:
    given = {fact: [value] for fact, value in example.given.items()}
    return Finding(
        "example",
        says,
        "Correct the example if the rules are right, else the rules.",
        rules=rules,
        limits=given,  # type: ignore[arg-type]
        file=example.file,
        line=example.line,
        cases=1,
    )


# Holds that something sets aside without a word on what now guards: they stay in force, and it is told.


def holds_not_let_go(audited: Audited) -> list[Finding]:
    """Return a finding for each rule or withdrawal that would end a hold and does not say what guards now."""
    found = []
    for rule, by in audited.engine.kept:
        masks = audited.masks(rule)
        how = f'"{by.id}" replaces' if isinstance(by, Rule) else f'The withdrawal in "{by.layer}" takes away'
        hold = " ".join(str(text) for text in rule.set["holds"])  # type: ignore[union-attr]
        found.append(
            Finding(
                "hold-gone",
                f"{how} {named([rule])}, which holds: {hold} Nothing says what guards instead: it holds on.",
                'Add lets_go = "what now guards it", or keep the hold.',
                rules=(rule.id, *((by.id,) if isinstance(by, Rule) else ())),
                limits=audited.space.axes.limits(masks),
                file=by.file,
                line=by.line,
                cases=audited.diagrams.count(audited.space.region(masks)),
            )
        )
    return found


def holds_over_most(audited: Audited) -> list[Finding]:
    """Return a finding for each house rule that holds more than half of what the base answers."""
    house = [rule for rule in audited.engine.rules if rule.layer != BASE and "holds" in rule.set]
    if not house:
        return []
    base = World(audited.space, [rule for rule in audited.engine.rules if rule.layer == BASE])
    diagrams = audited.diagrams
    answered = diagrams.count(base.living)
    found = []
    for rule in house:
        masks = audited.masks(rule)
        held = diagrams.count(diagrams.both(base.living, diagrams.box(masks)))
        if 2 * held > answered:
            found.append(
                Finding(
                    "gap",
                    f"{named([rule])} holds {100 * held // answered} % of the cases that the base answers.",
                    "Name the cases that it is meant for.",
                    rules=(rule.id,),
                    limits=audited.space.axes.limits(masks),
                    file=rule.file,
                    line=rule.line,
                    cases=held,
                )
            )
    return found


# Rules whose sentence names a grade they do not set: the painter reads one, the card does another.

_NUMBER: Final = {"one": 1, "two": 2, "three": 3, "four": 4}
_WORDS: Final = "|".join(("[1-9]", *_NUMBER))
_COATS: Final = re.compile(rf"\b({_WORDS}) (?:wet |thin |medium |full )?coats?\b", re.IGNORECASE)
_DENIED: Final = re.compile(rf"\b(?:never|not) (?:{_WORDS})\b[^,.;]*", re.IGNORECASE)
_BED: Final = re.compile(r"\b(required|advised)\b", re.IGNORECASE)
_COAT_OUTPUTS: Final[tuple[OutputName, ...]] = ("bed_coats_min", "bed_coats_max")
_MICRONS: Final = re.compile(r"(\d+)(?:[.,](\d+))? ?(?:µm|μm|um|microns?)\b")
_MILLIMETRES: Final = re.compile(r"(\d+)(?:[.,](\d+))? ?mm\b")
_FILM_OUTPUTS: Final[tuple[OutputName, ...]] = ("film_off_max_um", "film_left_min_um")
_HAND_ONLY: Final = re.compile(
    r"\b(by hand only|only by hand|hand only|no machine|no sander)\b", re.IGNORECASE
)
_WORD: Final = re.compile(r"[a-z]+")
_FLAKE: Final = re.compile(
    r"\b(very[ -]fine|fine|medium|coarse|vapour|solid) (?:flakes?|metallics?|colours?|ones?)\b", re.IGNORECASE
)
_ZONE: Final = re.compile(r"\bin (?:the |full |its )*(fade|colour|clear)\b", re.IGNORECASE)
_PANEL: Final = re.compile(
    r"\b(bonnet|roof|boot[ -]lid|tailgate|sill|pillar|mirror[ -]cap|fuel[ -]flap"
    r"|(?:front|rear)[ -](?:bumper|door)|front[ -]wing|rear[ -]quarter)s?\b",
    re.IGNORECASE,
)
_CASES: Final[dict[str, re.Pattern[str]]] = {"flake": _FLAKE, "zone": _ZONE, "panel": _PANEL}
_GRADE: Final = re.compile(r"\b[Pp] ?(\d{2,4})\b")


def saying_otherwise(audited: Audited) -> list[Finding]:
    """Return a note for each rule whose sentence names grades, coats or a bed, and none of what it sets."""
    return [
        finding
        for rule in audited.engine.rules
        if rule.layer != BASE
        for finding in (
            *_of_grades(rule),
            *_of_coats(rule),
            *_of_bed(rule),
            *_of_sizes(rule),
            *_of_machine(rule),
            *_of_cases(rule),
        )
    ]


def saying_the_same(audited: Audited) -> Iterator[Finding]:
    """Yield a note for each sentence that several rules have, one of the house among them, set otherwise."""
    said: dict[str, list[Rule]] = {}
    for rule in audited.engine.rules:
        said.setdefault(key_of(rule.says), []).append(rule)
    for alike in said.values():
        rule = max(alike, key=lambda each: (each.layer != BASE, each.file, each.line))
        if rule.layer != BASE and any(other.set != rule.set for other in alike):
            yield Finding(
                "says",
                f'{named(alike)} have one sentence, "{rule.says}", and do not set the same.',
                "Give each a sentence of its own: the painter reads the sentence.",
                rules=tuple(each.id for each in alike),
                file=rule.file,
                line=rule.line,
            )


def says_otherwise(rule: Rule) -> bool:
    """Say whether a rule names grades in its sentence and sets none of them, though it sets some."""
    said, does = grades_said(rule.says), grades_set(rule)
    return bool(said) and bool(does) and not said & does


def grades_said(says: str) -> set[str]:
    """Return the grades of the P series that a sentence names."""
    return {f"P{number}" for number in _GRADE.findall(says)} & set(GRADES)


def grades_set(rule: Rule) -> set[str]:
    """Return the grades a rule sets."""
    return {str(value) for output, value in rule.set.items() if OUTPUTS[output].is_grade}


def coats_said(says: str) -> set[int]:
    """Return the numbers of coats that a sentence names; "never one" names none."""
    return {_NUMBER.get(word.lower()) or int(word) for word in _COATS.findall(_DENIED.sub("", says))}


def _of_grades(rule: Rule) -> Iterator[Finding]:
    if says_otherwise(rule):
        said = " and ".join(sorted(grades_said(rule.says), key=GRADES.index))
        does = (f"{output} {value}" for output, value in rule.set.items() if OUTPUTS[output].is_grade)
        yield _says_finding(rule, said, ", ".join(does))


def _of_coats(rule: Rule) -> Iterator[Finding]:
    does = {output: rule.set[output] for output in _COAT_OUTPUTS if output in rule.set}
    said = coats_said(rule.says)
    if does and said and said.isdisjoint(does.values()):
        coats = " and ".join(f"{number} coat{'s' * (number != 1)}" for number in sorted(said))
        yield _says_finding(rule, coats, ", ".join(f"{output} {value}" for output, value in does.items()))


def _of_bed(rule: Rule) -> Iterator[Finding]:
    said = {word.lower() for word in _BED.findall(rule.says)}
    bed = rule.set.get("wet_bed")
    if bed is not None and len(said) == 1 and bed not in said:
        yield _says_finding(rule, f'"{said.pop()}"', f"wet_bed {bed}")


def _of_sizes(rule: Rule) -> Iterator[Finding]:
    """Yield where a sentence has a film or a length, and neither conditions nor settings have it."""
    film = {output: float(str(rule.set[output])) for output in _FILM_OUTPUTS if output in rule.set}
    asked, said = _ends(rule, "film_um"), _sizes_said(_MICRONS, rule.says)
    does = {f"{output} {number:g}": number for output, number in film.items()}
    if said - asked and does and (said - asked).isdisjoint(does.values()):
        yield _says_finding(rule, _numbers(said - asked, "µm"), ", ".join(does))
    elif said and asked and not does and said.isdisjoint(asked):
        yield _says_finding(rule, _numbers(said, "µm"), f"what it does from film_um {_numbers(asked, 'µm')}")
    asked, said = _ends(rule, "length_mm"), _sizes_said(_MILLIMETRES, rule.says)
    if said and asked and said.isdisjoint(asked):
        yield _says_finding(
            rule, _numbers(said, "mm"), f"what it does from length_mm {_numbers(asked, 'mm')}"
        )


def _sizes_said(unit: re.Pattern[str], says: str) -> set[float]:
    return {float(f"{whole}.{part}") for whole, part in unit.findall(says)}


def _numbers(numbers: set[float], unit: str) -> str:
    return f"{' and '.join(f'{number:g}' for number in sorted(numbers))} {unit}"


def _ends(rule: Rule, fact: str) -> set[float]:
    """Return the numbers at which a rule's condition on a fact begins and ends."""
    limits = rule.when.range_of(fact)
    return {end for end in (limits.low, limits.high) if isfinite(end) and end > 0} if limits else set()


def _of_machine(rule: Rule) -> Iterator[Finding]:
    machine = rule.set.get("machine")
    if machine not in (None, "never") and (said := _HAND_ONLY.search(rule.says)):
        yield _says_finding(rule, f'"{said.group().lower()}"', f"machine {machine}")


def _of_cases(rule: Rule) -> Iterator[Finding]:
    """Yield where a sentence speaks of flakes, zones or panels, and the rule is for none of those."""
    for fact, pattern in _CASES.items():
        said = {"-".join(_WORD.findall(word.lower())) for word in pattern.findall(rule.says)}
        asked = [str(value) for value in rule.when.values(fact)]
        own = fact == "panel" and not set(asked) <= set(OUTLINES)  # its name may have a shipped kind in it
        if said and asked and said.isdisjoint(asked) and not own:
            words = " and ".join(sorted(said))
            yield Finding(
                "says",
                f"{named([rule])} speaks of {words} and is for {', '.join(asked)}.",
                f"Correct its sentence or its {fact}: the painter reads the sentence.",
                rules=(rule.id,),
                file=rule.file,
                line=rule.line,
            )


def _says_finding(rule: Rule, said: str, does: str) -> Finding:
    return Finding(
        "says",
        f"{named([rule])} says {said} but sets {does}.",
        "Correct its sentence or what it sets: the painter reads the sentence.",
        rules=(rule.id,),
        file=rule.file,
        line=rule.line,
    )


def colours_not_in_book(house: "House") -> Iterator[Finding]:
    """Yield a note for each rule and colour that it names and the book lacks: no job meets that."""
    for rule in house.engine.rules:
        for colour in map(str, rule.when.named("book")):
            if colour not in house.book:
                near = did_you_mean(colour, list(house.book)) if house.book else ""
                says = f'{named([rule])} asks for the colour "{colour}", which the colour book has not.'
                mend = f"{near[:1].upper()}{near[1:]}" or "Put the colour into colours.toml."
                yield Finding("dead", says, mend, rules=(rule.id,), file=rule.file, line=rule.line)
