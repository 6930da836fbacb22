"""Which rules count where some are replaced or withdrawn, and which holds nobody has let go."""

from collections.abc import Collection, Iterable
from typing import Final, Literal

from prepadvisor.records import NamedTuple
from prepadvisor.standards.engine.rules import Rule, Withdraw

State = Literal["in force", "unsure", "not yet", "over", "other customer"]
"""How a layer stands to a job: counts; may count, since the job does not say; does not count, and why."""

OUT: Final[frozenset[State]] = frozenset({"not yet", "over", "other customer"})
"""The states in which a layer does not count."""

_NO_GUARD: Final = frozenset({"no", "none", "nothing", "nobody", "na", "tbd", "later", "todo"})


class Kept(NamedTuple):
    """A rule with a hold that something sets aside without saying what guards instead: it stays in force."""

    rule: Rule
    by: Rule | Withdraw


class RulesStanding(NamedTuple):
    """The rules in force, those set aside, and those that stay because their hold is not let go."""

    rules: tuple[Rule, ...]
    aside: tuple[Rule, ...]
    kept: tuple[Kept, ...]


def standing(
    rules: Collection[Rule], withdrawals: Iterable[Withdraw], unsure: Collection[str] = ()
) -> RulesStanding:
    """Return which of the rules count.

    Args:
        rules: every rule there is.
        withdrawals: every withdrawal.
        unsure: layers that may not count: their rules tighten, but they set nothing aside.
    """
    by_id = {rule.id: rule for rule in rules}
    aside: set[str] = set()
    kept: list[Kept] = []
    entries: list[Rule | Withdraw] = [*rules, *withdrawals]
    for entry in entries:
        target = by_id.get(target_of(entry) or "")
        if target is None or entry.layer in unsure:
            continue
        if lets_go(entry, target):
            aside.add(target.id)
        else:
            kept.append(Kept(target, entry))
    return RulesStanding(
        tuple(rule for rule in rules if rule.id not in aside),
        tuple(rule for rule in rules if rule.id in aside),
        tuple(each for each in kept if each.rule.id not in aside),
    )


def target_of(entry: Rule | Withdraw) -> str | None:
    """Return the id of the rule that an entry sets aside, None if it sets none aside."""
    return entry.replaces if isinstance(entry, Rule) else entry.rule


def lets_go(entry: Rule | Withdraw, target: Rule) -> bool:
    """Say whether an entry may set a rule aside: a hold goes only with a word on what now guards it.

    A rule that holds in all cases of the one it replaces needs none.
    """
    if "holds" not in target.set or _guards(entry.lets_go):
        return True
    return isinstance(entry, Rule) and "holds" in entry.set and entry.when.covers(target.when)


def _guards(said: str | None) -> bool:
    """Say whether a text can name what guards; a dash or "none" is there for the form alone."""
    letters = "".join(filter(str.isalpha, said or "")).casefold()
    return bool(letters) and letters not in _NO_GUARD
