"""The trade's words for the values in files; the type checker names a value that has no word here."""

from typing import TYPE_CHECKING, Final, Literal, assert_never, get_args

from prepadvisor.records import (
    FLAKES,
    SPECIALS,
    SURFACES,
    TONES,
    TOOLS,
    ZONES,
    Flake,
    NextCoat,
    OutputName,
    Role,
    Special,
    Surface,
    Tone,
    Tool,
    Zone,
)


def _plain(value: object) -> str:
    """Return a value that is new and has no word yet as it stands in files, with blanks."""
    return str(value).replace("-", " ")


def flake_word(value: Flake) -> str:
    """Return a class of flake as it stands on a card."""
    match value:
        case "solid":
            return "solid, no flake"
        case "coarse":
            return "coarse flake"
        case "medium":
            return "medium flake"
        case "fine":
            return "fine flake"
        case "very-fine":
            return "very fine flake"
        case "vapour":
            return "vapour flake (liquid metal)"
    if TYPE_CHECKING:
        assert_never(value)
    return _plain(value)


def tone_word(value: Tone) -> str:
    """Return a tone as it stands on a card."""
    match value:
        case "dark":
            return "dark"
        case "mid":
            return "mid tone"
        case "light":
            return "light"
    if TYPE_CHECKING:
        assert_never(value)
    return _plain(value)


def role_word(value: Role) -> str:
    """Return what a panel gets as it stands on a card."""
    match value:
        case "repair":
            return "REPAIR"
        case "blend":
            return "BLEND"
        case "clear-only":
            return "CLEAR ONLY"
    if TYPE_CHECKING:
        assert_never(value)
    return _plain(value)


def surface_word(value: Surface) -> str:
    """Return a surface as it stands on a card."""
    match value:
        case "aged-clear":
            return "aged clear"
        case "cured-clear":
            return "cured clear"
        case "primer-surfacer":
            return "primer surfacer"
        case "sealer":
            return "sealer"
        case "electrocoat":
            return "electrocoat (new part)"
        case "primed-plastic":
            return "primed plastic"
        case "feather-edge":
            return "feather edge"
        case "filler":
            return "filler"
        case "bare":
            return "bare substrate"
    if TYPE_CHECKING:
        assert_never(value)
    return _plain(value)


def next_word(value: NextCoat) -> str:
    """Return the next coat as it stands on a card."""
    match value:
        case "primer":
            return "primer"
        case "sealer":
            return "sealer"
        case "base":
            return "colour"
        case "clear":
            return "clear"
    if TYPE_CHECKING:
        assert_never(value)
    return _plain(value)


def special_word(value: Special) -> str:
    """Return what is special about a panel as it stands on a card."""
    match value:
        case "none":
            return ""
        case "matt":
            return "matt finish"
        case "lacquer":
            return "old lacquer"
        case "wrap":
            return "wrap or film"
        case "melt-out":
            return "melt-out"
        case "radar":
            return "radar behind it"
        case "fresh-clear":
            return "fresh clear"
    if TYPE_CHECKING:
        assert_never(value)
    return _plain(value)


def zone_word(value: Zone) -> str:
    """Return a zone as it stands on a card."""
    match value:
        case "colour":
            return "full colour"
        case "fade":
            return "fade"
        case "clear":
            return "clear"
    if TYPE_CHECKING:
        assert_never(value)
    return _plain(value)


def tool_word(value: Tool) -> str:
    """Return a tool as it stands on a card."""
    match value:
        case "hand-paper":
            return "paper by hand"
        case "hand-pad":
            return "non-woven pad"
        case "hand-foam":
            return "foam pad"
        case "block":
            return "block"
        case "da-hard":
            return "DA, hard pad"
        case "da":
            return "DA"
        case "da-soft":
            return "DA, interface pad"
    if TYPE_CHECKING:
        assert_never(value)
    return _plain(value)


def output_word(value: OutputName | Literal["line"]) -> str:
    """Return an answer of the rules, or the line model's as it stands on a card."""
    match value:
        case "finish_coarsest":
            return "coarsest finish by DA"
        case "finish_target":
            return "finish aimed for"
        case "finish_finest":
            return "finest that still keys"
        case "hand_coarsest":
            return "coarsest by hand ahead of the DA"
        case "hand_last_coarsest":
            return "coarsest as last touch by hand"
        case "risk_limit":
            return "risk allowed"
        case "bed_coats_max":
            return "coats of wet bed at most"
        case "bed_coats_min":
            return "coats of wet bed at least"
        case "film_off_max_um":
            return "film that may come off"
        case "step_ratio_min":
            return "next grain at least this share of the last"
        case "film_left_min_um":
            return "film that must stay"
        case "wet_bed":
            return "wet bed"
        case "guide_coat":
            return "guide coat"
        case "machine":
            return "sander"
        case "holds":
            return "hold"
        case "cautions":
            return "caution"
        case "notes":
            return "note"
        case "line":
            return "line model"
    if TYPE_CHECKING:
        assert_never(value)
    return _plain(value)


FLAKE: Final[dict[str, str]] = {each: flake_word(each) for each in FLAKES}
TONE: Final[dict[str, str]] = {each: tone_word(each) for each in TONES}
ROLE: Final[dict[str, str]] = {each: role_word(each) for each in get_args(Role)}
SURFACE: Final[dict[str, str]] = {each: surface_word(each) for each in SURFACES}
NEXT: Final[dict[str, str]] = {each: next_word(each) for each in get_args(NextCoat)}
SPECIAL: Final[dict[str, str]] = {each: special_word(each) for each in SPECIALS if each != "none"}
ZONE: Final[dict[str, str]] = {each: zone_word(each) for each in ZONES}
TOOL: Final[dict[str, str]] = {each: tool_word(each) for each in TOOLS}
OUTPUT: Final[dict[str, str]] = {each: output_word(each) for each in (*get_args(OutputName), "line")}
