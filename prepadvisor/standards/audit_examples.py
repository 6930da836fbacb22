"""Examples worked through the rules: each must come out as it says, and state a case that can be."""

from prepadvisor.standards.audited import Audited
from prepadvisor.standards.examples import shortfalls
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.rules import Example


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
