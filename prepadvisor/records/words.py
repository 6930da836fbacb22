"""The trade's words as values, the P series of grades, and how a number is known."""

from typing import TYPE_CHECKING, Final, Literal, NewType, TypeGuard, assert_never, get_args

from prepadvisor.named import NamedTuple
from prepadvisor.records.trade_words import nearest

# The P series of coated abrasives: which grades there are and how coarse their grain is.
#
# Source: FEPA 43 / ISO 6344-2 and -3, mean grain size ds50 in micrometres. P12 to P120 stand alike in two
# published sources, P150 to P2500 in one; P3000 is from memory; P4000 stands on one secondary page.

Grade = NewType("Grade", str)
"""A grade of the P series in its one spelling: what `grade` returns, never a bare string."""

DS50_UM: Final[dict[Grade, float]] = {Grade(name): ds50 for name, ds50 in {
    "P12": 1815.0, "P16": 1324.0, "P20": 1000.0, "P24": 764.0, "P30": 642.0, "P36": 538.0, "P40": 425.0,
    "P50": 336.0, "P60": 269.0, "P80": 201.0, "P100": 162.0, "P120": 125.0, "P150": 100.0, "P180": 82.0,
    "P220": 68.0, "P240": 58.5, "P280": 52.2, "P320": 46.2, "P360": 40.5, "P400": 35.0, "P500": 30.2,
    "P600": 25.8, "P800": 21.8, "P1000": 18.3, "P1200": 15.3, "P1500": 12.6, "P2000": 10.3, "P2500": 8.4,
    "P3000": 6.5, "P4000": 5.0,
}.items()}  # fmt: skip
"""Mean grain size ds50 in µm by grade, coarse to fine. Source: FEPA 43 / ISO 6344, but for `FROM_MEMORY`."""

FROM_MEMORY: Final = frozenset({"P3000"})
"""Grades whose grain no source was read for."""

GRADES: Final[tuple[Grade, ...]] = tuple(DS50_UM)
"""All grades, coarse to fine."""

RANK: Final[dict[Grade, int]] = {grade: rank for rank, grade in enumerate(GRADES)}
"""Place of a grade in the series: a higher rank is a finer grade."""


_DIGITS_MAX: Final = 6


class NotAGradeError(ValueError):
    """What was given is no grade of the P series: `says` why, `mend` what was probably meant."""

    def __init__(self, says: str, mend: str = "") -> None:
        """Keep both; `says` names the value."""
        self.says, self.mend, self.names_value = says, mend, True
        super().__init__(f"{says}; {mend}" if mend else says)


def grade(text: str) -> Grade:
    """Return the grade that a person wrote, in its one spelling.

    Args:
        text: a grade with its P, in either case and with blanks around, such as "P1000" or "p1000".

    Returns:
        The grade as in `GRADES`.

    Raises:
        NotAGradeError: for a bare number (which series it means cannot be known) and for anything else
            that is not in the series.
    """
    word = text.strip().upper().replace(" ", "")
    if word in DS50_UM:
        return Grade(word)
    if word.isdecimal():
        meant = f"P{word}"
        known = meant in DS50_UM
        hint = f'write "{meant}" if the back of the sheet says so' if known else "read the back of the sheet"
        raise NotAGradeError(
            f'"{text.strip()}" has no P: other series use the same numbers for other grain '
            "(P600 is 25.8 µm, another common series' 600 is 16 µm)",
            hint,
        )
    raise NotAGradeError(f'"{text.strip()}" is not a grade of the P series', _meant(word))


def _meant(word: str) -> str:
    """Return which grades were probably meant: the two that stand beside a number, else a near spelling."""
    number = word.removeprefix("P")
    if number.isascii() and number.isdecimal() and len(number) <= _DIGITS_MAX:
        lower = [grade for grade in GRADES if int(grade[1:]) < int(number)]
        higher = [grade for grade in GRADES if int(grade[1:]) > int(number)]
        beside = [*lower[-1:], *higher[:1]]
        return "did you mean " + " or ".join(f'"{grade}"' for grade in beside) + "?"
    near = nearest(word, GRADES)
    return f'did you mean "{near}"?' if near else ""


def is_grade(value: object) -> TypeGuard[Grade]:
    """Say whether a value is a grade in its one spelling."""
    return isinstance(value, str) and value in DS50_UM


def ds50_um(name: Grade) -> float:
    """Return the mean grain size ds50 of a grade in µm."""
    return DS50_UM[name]


def is_finer(one: Grade, other: Grade) -> bool:
    """Say whether `one` is strictly finer than `other`."""
    return RANK[one] > RANK[other]


def finest(*names: Grade) -> Grade:
    """Return the finest of one or more grades."""
    return max(names, key=RANK.__getitem__)


def coarsest(*names: Grade) -> Grade:
    """Return the coarsest of one or more grades."""
    return min(names, key=RANK.__getitem__)


Flake = Literal["solid", "coarse", "medium", "fine", "very-fine", "vapour"]
Tone = Literal["dark", "mid", "light"]
Zone = Literal["clear", "colour", "fade"]
Role = Literal["repair", "blend", "clear-only"]
Surface = Literal[
    "aged-clear", "cured-clear", "primer-surfacer", "sealer", "electrocoat", "primed-plastic", "feather-edge",
    "filler", "bare",
]  # fmt: skip
NextCoat = Literal["primer", "sealer", "base", "clear"]
LineKind = Literal["edge", "body-line", "wheel-arch", "flange", "recess", "cut-out", "run-on"]
AreaKind = Literal["face", "patch"]
FeatureKind = Literal[AreaKind, LineKind]
Reach = Literal["machine", "hand"]
Special = Literal["none", "matt", "lacquer", "wrap", "melt-out", "radar", "fresh-clear"]
Side = Literal["front", "rear", "top", "bottom"]
HandTool = Literal["hand-paper", "hand-pad", "hand-foam", "block"]
Sander = Literal["da-hard", "da", "da-soft"]
Tool = Literal[HandTool, Sander]
OutlineKind = Literal[
    "front-door", "rear-door", "front-wing", "rear-quarter", "bonnet", "boot-lid", "tailgate", "roof", "sill",
    "front-bumper", "rear-bumper", "pillar", "mirror-cap", "fuel-flap",
]  # fmt: skip
Step = Literal[
    "cleaned", "scuffed", "guide-coated", "sanded", "inspected", "wiped", "accepted", "primed",
    "sealed", "bedded", "coloured", "cleared", "seen-wet", "struck",
]  # fmt: skip
Look = Literal["clear", "lines", "gloss", "cut-through", "low", "pinhole"]
WetBedNeed = Literal["no", "advised", "required"]
GuideCoat = Literal["no", "before-final", "after-hand", "every-change"]
Machine = Literal["any", "interface-pad", "never"]
Known = Literal["published", "derived", "measured", "practice", "memory", "assumption", "chosen"]
DoneVerdict = Literal["within", "too-coarse", "too-fine", "not-recorded"]
Verdict = Literal["safe", "borderline", "will show"]

FLAKES: Final[tuple[Flake, ...]] = get_args(Flake)
"""Coarse to fine; the finer the flake the stricter the preparation."""
TONES: Final[tuple[Tone, ...]] = get_args(Tone)
ZONES: Final[tuple[Zone, ...]] = get_args(Zone)
"""From the least strict to the strictest."""
SURFACES: Final[tuple[Surface, ...]] = get_args(Surface)
AREA_KINDS: Final[tuple[AreaKind, ...]] = get_args(AreaKind)
LINE_KINDS: Final[tuple[LineKind, ...]] = get_args(LineKind)
FEATURE_KINDS: Final[tuple[FeatureKind, ...]] = get_args(FeatureKind)
SPECIALS: Final[tuple[Special, ...]] = get_args(Special)
SIDES: Final[tuple[Side, ...]] = get_args(Side)
TOOLS: Final[tuple[Tool, ...]] = get_args(Tool)
HAND_TOOLS: Final[tuple[HandTool, ...]] = get_args(HandTool)
DA_TOOLS: Final[tuple[Sander, ...]] = get_args(Sander)
OUTLINES: Final[tuple[OutlineKind, ...]] = get_args(OutlineKind)


class Built(NamedTuple):
    """How a kind of panel sits on the car: from where one sees it, of what it mostly is, how large.

    `seen` from the side (its ends are front and rear, and it has a right-hand twin), from above, or standing
    ahead of the car or behind it (its ends are the car's left and right).
    """

    seen: Literal["side", "above", "ahead", "behind"] = "side"
    is_plastic: bool = False
    is_small: bool = False


def _built(kind: OutlineKind) -> Built:
    match kind:
        case "bonnet" | "boot-lid" | "roof":
            return Built("above")
        case "tailgate":
            return Built("behind")
        case "front-bumper":
            return Built("ahead", is_plastic=True)
        case "rear-bumper":
            return Built("behind", is_plastic=True)
        case "mirror-cap" | "fuel-flap":
            return Built(is_small=True)
        case "front-door" | "rear-door" | "front-wing" | "rear-quarter" | "sill" | "pillar":
            return Built()
    if TYPE_CHECKING:
        assert_never(kind)
    return Built()  # of none there is


BUILT: Final[dict[str, Built]] = {kind: _built(kind) for kind in OUTLINES}
"""Of each shipped kind; one of a house's own is built as the one that it is `like`."""
WET_BED: Final[tuple[WetBedNeed, ...]] = get_args(WetBedNeed)
GUIDE_COAT: Final[tuple[GuideCoat, ...]] = get_args(GuideCoat)
MACHINE: Final[tuple[Machine, ...]] = get_args(Machine)

LineTrait = Literal["unseen", "crest", "trim"]
"""Nobody sees it unless the job says otherwise; a sander on the face runs over it; it is round trim."""


def line_traits(kind: LineKind) -> tuple[LineTrait, ...]:
    """Return what a kind of line is: asked here alone, so that a new kind cannot be left out anywhere."""
    match kind:
        case "edge" | "body-line" | "wheel-arch":
            return ("crest",)
        case "flange":
            return ("unseen",)
        case "recess":
            return ("trim",)
        case "cut-out":
            return ("unseen", "trim")
        case "run-on":
            return ()
        case _:
            assert_never(kind)


UNSEEN_KINDS: Final = frozenset(kind for kind in LINE_KINDS if "unseen" in line_traits(kind))
"""Lines that nobody sees unless the job says otherwise."""
CREST_KINDS: Final = frozenset(kind for kind in LINE_KINDS if "crest" in line_traits(kind))
"""Lines that the pad runs over when the face is sanded, so they are looked at after it."""
TRIM_KINDS: Final = frozenset(kind for kind in LINE_KINDS if "trim" in line_traits(kind))
"""Lines round trim that can usually be taken off (handles, badges, lamps): then a machine reaches them."""

SurfaceTrait = Literal["clear", "coloured", "levelled", "no-sums", "primed"]
"""Gloss clear; colour may go straight on; cut flat; a gauge tells nothing of its film; primer goes on it."""


def surface_traits(surface: Surface) -> tuple[SurfaceTrait, ...]:
    """Return what a surface is to the work: asked here alone, as of a kind of line."""
    match surface:
        case "aged-clear" | "cured-clear":
            return ("clear", "coloured")
        case "primer-surfacer" | "sealer":
            return ("coloured",)
        case "primed-plastic":
            return ("coloured", "no-sums")
        case "filler" | "feather-edge":
            return ("levelled", "no-sums", "primed")
        case "electrocoat" | "bare":
            return ("primed",)
        case _:
            assert_never(surface)


def _surfaces(trait: SurfaceTrait) -> frozenset[Surface]:
    return frozenset(surface for surface in SURFACES if trait in surface_traits(surface))


CLEAR_SURFACES: Final = _surfaces("clear")
"""Gloss: a wet bed may go over them, and their film is counted along lines, where it is thin."""
COLOURED_SURFACES: Final = _surfaces("coloured")
"""Surfaces that colour may go straight on; elsewhere the line model has nothing to say."""
LEVELLED_SURFACES: Final = _surfaces("levelled")
"""Surfaces that are cut flat, a soft pad would leave hollows; a look finds low spots and pinholes as well."""
NO_FILM_SUMS: Final = _surfaces("no-sums")
"""Surfaces on which a gauge tells nothing about the clear that may be cut."""
PRIMED_SURFACES: Final = _surfaces("primed")
"""Surfaces that primer usually goes on."""


# How a number is known: the one text that says what each word of a passport means.
#
# Words are judged by their lowest ground: a value read in one place but used for another purpose is no
# longer published. A test holds the table in rules/README.md to this one.

MEANS: Final[dict[Known, str]] = {
    "published": "stands in a source whose passage was read, and is used for what the source says it of",
    "derived": "arithmetic on published values alone; the note says which",
    "measured": "from this shop's own test panels or gauge",
    "practice": "how the trade works, which any experienced painter could be asked; no source",
    "memory": "stands in a publication, but was not read again",
    "assumption": "a guess at something that could be measured; nobody here has",
    "chosen": "a setting of this program that no measurement could refute; its note says what others change",
}
"""Each word with its meaning, from the firmest ground down, settings last."""
