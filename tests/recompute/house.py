"""The files of a house read plainly: rules, shop, constants, outlines.

Nothing of the program is used here.
"""

import csv
import operator
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, Final, NamedTuple

ROOT: Final = Path(__file__).parents[2]
RULES: Final = ROOT / "rules"
DATA: Final = ("shop.toml", "constants.toml", "panels.toml", "sources.toml", "colours.toml")
ORDERED: Final[Mapping[str, tuple[Any, ...]]] = {
    "flake": ("solid", "coarse", "medium", "fine", "very-fine", "vapour"),
    "tone": ("dark", "mid", "light"),
    "zone": ("clear", "colour", "fade"),
    "stages": (2, 3),
}
WORDS: Final[Mapping[str, tuple[str, ...]]] = {
    "wet_bed": ("no", "advised", "required"),
    "guide_coat": ("no", "before-final", "after-hand", "every-change"),
    "machine": ("any", "interface-pad", "never"),
}
FINEST_WINS: Final = frozenset({"finish_coarsest", "finish_target", "hand_coarsest", "hand_last_coarsest"})
LOWEST_WINS: Final = frozenset({"risk_limit", "bed_coats_max", "film_off_max_um"})
HIGHEST_WINS: Final = frozenset({"bed_coats_min", "step_ratio_min", "film_left_min_um"})
TEXTS: Final = frozenset({"holds", "cautions", "notes"})
OUTPUTS: Final = (*FINEST_WINS, "finish_finest", *LOWEST_WINS, *HIGHEST_WINS, *WORDS, *TEXTS)


def _grains() -> dict[str, float]:
    with (ROOT / "tests/reference/grades_p.csv").open(encoding="utf-8", newline="") as file:
        return {row["grade"]: float(row["ds50_um"]) for row in csv.DictReader(file)}


GRAIN: Final = _grains()
"""Mean grain by grade from the published table, coarse to fine."""


def finer(one: str, other: str) -> bool:
    """Say whether one grade has smaller grain than the other."""
    return GRAIN[one] < GRAIN[other]


def finest(grades: Iterable[str]) -> str:
    """Return the grade of the smallest grain."""
    return min(grades, key=GRAIN.__getitem__)


def coarsest(grades: Iterable[str]) -> str:
    """Return the grade of the largest grain."""
    return max(grades, key=GRAIN.__getitem__)


class House(NamedTuple):
    """Rules in force as they stand in their files, and the data of shop, constants and outlines."""

    rules: list[dict[str, Any]]
    shop: dict[str, Any]
    constants: dict[str, Any]
    outlines: dict[str, dict[str, Any]]
    book: dict[str, dict[str, Any]] = {}
    shipped_lines: dict[str, list[dict[str, Any]]] = {}

    def kinds(self, kind: str) -> tuple[str, ...]:
        """Return what rules may call a panel kind: itself, and the shipped one that an own one is like."""
        like = self.outlines[kind].get("like")
        return (kind, like) if like else (kind,)

    @property
    def shelf(self) -> list[str]:
        """Grades there are, coarse to fine."""
        return sorted(set(self.shop["shelf"]), key=lambda grade: -GRAIN[grade])


def read_house(folder: Path | None) -> House:
    """Read the shipped files with a shop's folder laid over them key by key."""
    data = {name: _toml(RULES / name) for name in DATA if (RULES / name).exists()}
    rules = [rule for path in sorted((RULES / "base").glob("*.toml")) for rule in _toml(path).get("rule", [])]
    if folder:
        for name in ("shop.toml", "constants.toml"):
            if (folder / name).exists():
                data[name] = _over(data[name], _toml(folder / name))
        for path in sorted(folder.glob("*.toml")):
            if path.name not in DATA:
                own = _toml(path)
                gone = {each["rule"] for each in own.get("withdraw", [])}
                gone |= {rule["replaces"] for rule in own.get("rule", []) if "replaces" in rule}
                rules = [rule for rule in rules if rule["id"] not in gone] + own.get("rule", [])
    book = folder / "colours.toml" if folder else None
    entries = _toml(book).get("colour", []) if book and book.exists() else []
    outlines = {outline["kind"]: outline for outline in data["panels.toml"]["outline"]}
    shipped_lines = {kind: outline["feature"] for kind, outline in outlines.items()}
    own_kinds = folder / "panels.toml" if folder else None
    for outline in _toml(own_kinds)["outline"] if own_kinds and own_kinds.exists() else []:
        below = outlines.get(outline["kind"]) or outlines[outline["like"]]
        outlines[outline["kind"]] = {**below, **outline}
    colours = {plain(entry["book"]): entry for entry in entries}
    return House(rules, data["shop.toml"], data["constants.toml"], outlines, colours, shipped_lines)


def plain(word: str) -> str:
    """Return a word of the colour book as it is compared: without regard to case and blanks."""
    return " ".join(word.split()).lower()


def _toml(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def _over(below: dict[str, Any], own: dict[str, Any]) -> dict[str, Any]:
    laid = dict(below)
    for key, value in own.items():
        both = isinstance(value, dict) and isinstance(laid.get(key), dict)
        laid[key] = _over(laid[key], value) if both else value
    return laid


def decide(house: House, facts: Mapping[str, Any]) -> dict[str, Any]:
    """Return what all rules together say of a case: every rule tried, every answer joined by its own law.

    Under "because" stand the rules that decide: (answer, rule, value), for texts all that say one.
    """
    met = [
        rule
        for rule in house.rules
        if all(_meets(fact, asked, facts) for fact, asked in rule.get("when", {}).items())
    ]
    answers: dict[str, Any] = {}
    for output in OUTPUTS:
        values = [rule["set"][output] for rule in met if output in rule["set"]]
        answers[output] = _joined(output, values)
    answers["because"] = sorted(_deciding(met, answers), key=str)
    return answers


def _deciding(met: list[dict[str, Any]], answers: Mapping[str, Any]) -> Iterator[tuple[str, str, Any]]:
    for rule in met:
        for output, value in rule["set"].items():
            if output in TEXTS:
                for text in [value] if isinstance(value, str) else value:
                    yield output, rule["id"], text
            elif value == answers[output]:
                yield output, rule["id"], value


def _joined(output: str, values: list[Any]) -> Any:
    if output in TEXTS:
        return sorted({text for value in values for text in ([value] if isinstance(value, str) else value)})
    if output in WORDS:
        return max(values, key=WORDS[output].index, default=WORDS[output][0])
    if not values:
        return None
    if output in LOWEST_WINS:
        return min(values)
    if output in HIGHEST_WINS:
        return max(values)
    return finest(values) if output in FINEST_WINS else coarsest(values)


def _meets(fact: str, condition: Any, facts: Mapping[str, Any]) -> bool:
    value = facts[fact]
    if fact == "book":
        named = condition.get("not", condition) if isinstance(condition, dict) else condition
        among = value in [plain(word) for word in ([named] if isinstance(named, str) else named)]
        return among is not isinstance(condition, dict)
    if fact == "panel":
        asked = condition["not"] if isinstance(condition, dict) else condition
        some = [asked] if isinstance(asked, str) else asked
        return any(kind in some for kind in value) is not isinstance(condition, dict)
    if isinstance(condition, list):
        return value in condition
    if isinstance(condition, dict):
        gone = condition["not"]
        return value not in (gone if isinstance(gone, list) else [gone])
    if not isinstance(condition, str) or (fact not in ORDERED and not _is_number(value)):
        return bool(value == condition)
    if value is None:
        return False
    return _in_range(fact, condition, value)


def _is_number(value: Any) -> bool:
    return value is None or (isinstance(value, int | float) and not isinstance(value, bool))


def _in_range(fact: str, condition: str, value: Any) -> bool:
    def place(text: str) -> float:
        if fact not in ORDERED:
            return float(text)
        return ORDERED[fact].index(int(text) if fact == "stages" else text.strip())

    at: float = ORDERED[fact].index(value) if fact in ORDERED else float(value)
    if ".." in condition:
        low, high = condition.split("..")
        return place(low) <= at <= place(high)
    for sign, holds in ((">=", operator.ge), ("<=", operator.le), (">", operator.gt), ("<", operator.lt)):
        if condition.startswith(sign):
            return bool(holds(at, place(condition.removeprefix(sign).strip())))
    return bool(value == condition)
