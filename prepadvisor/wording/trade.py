"""The trade's words for the values in files, as they stand on a card."""

from typing import TYPE_CHECKING, Final, assert_never

from prepadvisor.records.words import FEATURE_KINDS, FeatureKind

FLAKE: Final = {
    "solid": "solid, no flake",
    "coarse": "coarse flake",
    "medium": "medium flake",
    "fine": "fine flake",
    "very-fine": "very fine flake",
    "vapour": "vapour flake (liquid metal)",
}
TONE: Final = {"dark": "dark", "mid": "mid tone", "light": "light"}
ROLE: Final = {"repair": "REPAIR", "blend": "BLEND", "clear-only": "CLEAR ONLY"}
SURFACE: Final = {
    "aged-clear": "aged clear",
    "cured-clear": "cured clear",
    "primer-surfacer": "primer surfacer",
    "sealer": "sealer",
    "electrocoat": "electrocoat (new part)",
    "primed-plastic": "primed plastic",
    "feather-edge": "feather edge",
    "filler": "filler",
    "bare": "bare substrate",
}
NEXT: Final = {"primer": "primer", "sealer": "sealer", "base": "colour", "clear": "clear"}
SPECIAL: Final = {
    "matt": "matt finish",
    "lacquer": "old lacquer",
    "wrap": "wrap or film",
    "melt-out": "melt-out",
    "radar": "radar behind it",
    "fresh-clear": "fresh clear",
}
ZONE: Final = {"colour": "full colour", "fade": "fade", "clear": "clear"}
ZONE_SHORT: Final = {"colour": "colour", "fade": "fade", "clear": "clear"}
TOOL: Final = {
    "hand-paper": "paper by hand",
    "hand-pad": "non-woven pad",
    "hand-foam": "foam pad",
    "block": "block",
    "da-hard": "DA, hard pad",
    "da": "DA",
    "da-soft": "DA, interface pad",
}


def kind_word(kind: FeatureKind) -> str:
    """Return what a kind of place is called; mypy names a kind that has no word here."""
    match kind:
        case "face":
            return "flat area"
        case "patch" | "edge" | "recess" | "cut-out":
            return kind
        case "body-line":
            return "body line"
        case "wheel-arch":
            return "wheel arch"
        case "flange":
            return "flange (return)"
        case "run-on":
            return "border without an edge"
    if TYPE_CHECKING:
        assert_never(kind)
    return str(kind).replace("-", " ")


KIND: Final[dict[str, str]] = {kind: kind_word(kind) for kind in FEATURE_KINDS}
OUTLINE: Final = {
    "front-door": "front door",
    "rear-door": "rear door",
    "front-wing": "front wing",
    "rear-quarter": "rear quarter",
    "bonnet": "bonnet",
    "boot-lid": "boot lid",
    "tailgate": "tailgate",
    "roof": "roof",
    "sill": "sill",
    "front-bumper": "front bumper",
    "rear-bumper": "rear bumper",
    "pillar": "pillar",
    "mirror-cap": "mirror cap",
    "fuel-flap": "fuel flap",
}

OUTPUT: Final = {
    "finish_coarsest": "coarsest finish by DA",
    "finish_target": "finish aimed for",
    "finish_finest": "finest that still keys",
    "hand_coarsest": "coarsest by hand ahead of the DA",
    "hand_last_coarsest": "coarsest as last touch by hand",
    "risk_limit": "risk allowed",
    "bed_coats_max": "coats of wet bed at most",
    "bed_coats_min": "coats of wet bed at least",
    "film_off_max_um": "film that may come off",
    "step_ratio_min": "next grain at least this share of the last",
    "film_left_min_um": "film that must stay",
    "wet_bed": "wet bed",
    "guide_coat": "guide coat",
    "machine": "sander",
    "holds": "hold",
    "cautions": "caution",
    "notes": "note",
    "line": "line model",
}
"""What a rule answers, in words."""


def outline_words(kind: str) -> str:
    """Return a kind of panel in words; one that a house states itself is its own words."""
    return OUTLINE.get(kind) or kind.replace("-", " ")


def listed(items: list[str] | tuple[str, ...]) -> str:
    """Return items as a list in a sentence: "a", "a and b", "a, b and c"."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"


_ACROSS: Final = frozenset({"front-bumper", "rear-bumper", "tailgate"})
_FLAT: Final = frozenset({"bonnet", "roof", "boot-lid"})


def side(kind: str, name: str) -> str:
    """Return what a panel's side is called on the car: a bumper's "front" end is its left one.

    Args:
        kind: a shipped outline: of a house's own the one it is like.
        name: front, rear, top or bottom, as in the job file.
    """
    if kind in _ACROSS:
        return {"front": "left", "rear": "right"}.get(name, name)
    if kind in _FLAT:
        return {"top": "right", "bottom": "left"}.get(name, name)
    return name


def coats(count: int) -> str:
    """Return a number of coats in words: "1 coat", "2 coats"."""
    return f"{count} coat{'' if count == 1 else 's'}"
