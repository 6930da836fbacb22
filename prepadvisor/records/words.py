"""The trade's words as values: what a fact may be, and the order of those that have one."""

from typing import Final, Literal, get_args

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
WET_BED: Final[tuple[WetBedNeed, ...]] = get_args(WetBedNeed)
GUIDE_COAT: Final[tuple[GuideCoat, ...]] = get_args(GuideCoat)
MACHINE: Final[tuple[Machine, ...]] = get_args(Machine)

UNSEEN_KINDS: Final[frozenset[LineKind]] = frozenset({"flange", "cut-out"})
"""Lines that nobody sees unless the job says otherwise."""
