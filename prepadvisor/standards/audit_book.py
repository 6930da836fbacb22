"""Rules that ask for a colour that the shop's colour book does not have."""

from collections.abc import Iterator

from prepadvisor.records.nearest import did_you_mean
from prepadvisor.standards.audited import named
from prepadvisor.standards.findings import Finding
from prepadvisor.standards.house import House


def colours_not_in_book(house: House) -> Iterator[Finding]:
    """Yield a note for each rule and colour that it names and the book lacks: no job meets that."""
    for rule in house.engine.rules:
        for colour in map(str, rule.when.named("book")):
            if colour not in house.book:
                near = did_you_mean(colour, list(house.book)) if house.book else ""
                says = f'{named([rule])} asks for the colour "{colour}", which the colour book has not.'
                mend = f"{near[:1].upper()}{near[1:]}" or "Put the colour into colours.toml."
                yield Finding("dead", says, mend, rules=(rule.id,), file=rule.file, line=rule.line)
