"""What an audit of standards finds: one entry a flaw, in shop words, with its place and its mend."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final, Literal

if TYPE_CHECKING:
    from prepadvisor.cases import Value

FindingKind = Literal[
    "hold-gone", "gap", "collision", "bed", "shelf", "shop", "promise", "example", "unreachable", "file",
    "says", "dead",
]  # fmt: skip

KINDS: Final[dict[FindingKind, str]] = {
    "hold-gone": "holds that end without a word on what guards now",
    "gap": "cases that the rules leave without an answer",
    "collision": "rules that no grade can satisfy together",
    "bed": "wet beds that are asked for where none may be laid",
    "shelf": "grades that the shelf lacks",
    "shop": "tools, pads, rates and outlines that cannot be right",
    "promise": "promises that do not hold",
    "example": "examples that come out otherwise",
    "unreachable": "conditions that no possible case meets",
    "file": "what stands in the folder and is not read, or hardly as it is meant",
    "says": "sentences that do not say what their rule sets",
    "dead": "rules that change nothing",
}
"""The kinds of findings, gravest first, with what they are."""

NOTES: Final[frozenset[FindingKind]] = frozenset({"says", "dead"})
"""The kinds that are only told."""


@dataclass(frozen=True)
class Finding:
    """One flaw of the standards.

    `rules` are the ids of the rules it is about, those among them that only shadow a dead one also in
    `shadows`. `limits` are the facts of the largest box it holds in (a fact that is not named may have any
    value), `cases` how many possible cases have it. `file` and `line` are where to begin mending, empty and
    0 where no line is at fault. `paste` has the lines that mend the house's rule, where such are known.
    `key` is a data file of the house ("shop.toml" or such) and a key path in it, by which the line is found
    where a house states it.
    """

    kind: FindingKind
    says: str
    mend: str
    rules: tuple[str, ...] = ()
    shadows: tuple[str, ...] = ()
    limits: Mapping[str, Sequence["Value"]] = field(default_factory=dict)
    file: str = ""
    line: int = 0
    cases: int = 0
    paste: str = ""
    key: tuple[str, ...] = ()

    @property
    def is_error(self) -> bool:
        """Whether it must be mended before anybody preps by these standards; some kinds are only notes."""
        return self.kind not in NOTES

    def where(self, file: str = "") -> str:
        """Return "file:line", or the file alone where no line is at fault; `file` is a shorter name."""
        name = file or self.file
        return f"{name}:{self.line}" if name and self.line else name

    def facts(self) -> dict[str, "Value | list[Value]"]:
        """Return the limits as a rule's `when` has them: one value alone, several as a list."""
        return {fact: values[0] if len(values) == 1 else list(values) for fact, values in self.limits.items()}


@dataclass(frozen=True)
class Audit:
    """All findings, gravest first, with the number of possible cases and of those that a card answers.

    `living_is_exact`: False where rules hold cases, or keep the machine off, in too intricate a way to count
    what is left; then it is a number that `living` does not pass. `not_judged` says what was cut off.
    """

    findings: tuple[Finding, ...]
    cells: int
    living: int = 0
    living_is_exact: bool = True
    not_judged: tuple[str, ...] = ()

    def with_more(self, findings: Iterable[Finding]) -> "Audit":
        """Return the audit with further findings in it, gravest kind first."""
        order = list(KINDS)
        every = sorted([*self.findings, *findings], key=lambda finding: order.index(finding.kind))
        return replace(self, findings=tuple(every))

    @property
    def is_clean(self) -> bool:
        """Whether there is no error; there may be notes."""
        return not any(finding.is_error for finding in self.findings)
