"""Houses to judge random jobs by.

The shipped one, poor and rich shelves, other tools and material, own rules.
"""

from typing import Final, NamedTuple

POOR: Final = """
shelf = ["P80", "P180", "P320", "P500", "P800", "P1500"]
"""

GAPS: Final = """
shelf = ["P240", "P400", "P1000"]
hand_tool = "hand-paper"
finishing_tool = "da"
"""

WATER_BORNE: Final = """
hand_tool = "hand-foam"
edge_strip_mm = 60
mist_mm = 0

[wet_bed]
set_solids = 0.25
volume_solids = 0.12
"""

RICH: Final = """
shelf = [
    "P80", "P120", "P180", "P240", "P320", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000",
    "P2500", "P3000",
]
clearing_minutes_per_dm2_max = 0.3
pass_m2_per_minute = 0.15
disc_dm2 = 12
"""

OURS: Final = """
[standards]
name = "Ours"
version = "1"

[[rule]]
id = "ours-long-lines-by-hand"
says = "Long lines are finished by hand."
when = { length_mm = ">= 600", feature = { not = ["face", "patch"] }, reach = "machine" }
set = { machine = "never" }
source = "our panels"

[[rule]]
id = "ours-small-panels-finer"
says = "Small panels are looked at from near: P1200 or finer in the fade."
when = { panel_m2 = "< 0.4", zone = "fade", surface = ["aged-clear", "cured-clear"], next = "base" }
set = { finish_coarsest = "P1200", risk_limit = 0.15, guide_coat = "before-final" }
source = "our panels"

[[rule]]
id = "ours-bumpers-under-a-bed"
says = "Bumpers are laid wet, with the pad."
when = { panel = ["front-bumper", "rear-bumper"], zone = "fade" }
set = { wet_bed = "required", machine = "interface-pad" }
source = "our panels"

[[rule]]
id = "ours-bonnets-two-coats"
says = "A bonnet's bed has two coats."
when = { panel = ["bonnet", "front-wing"], zone = "fade" }
set = { bed_coats_min = 2 }
source = "our panels"

[[rule]]
id = "ours-film-left"
says = "Leave 85 um on the face."
when = { film_um = "80 .. 95", feature = "face", surface = ["aged-clear", "cured-clear"] }
set = { film_left_min_um = 85, film_off_max_um = 4 }
source = "our panels"

[[rule]]
id = "ours-film-left-in-the-fade"
says = "And 86 um in the fade."
when = { film_um = "80 .. 95", feature = "face", zone = "fade" }
set = { film_left_min_um = 86 }
source = "our panels"

[[rule]]
id = "ours-tailgates-clear-keys-coarse"
says = "Clear alone keys with P800 on a tailgate."
when = { panel = ["tailgate", "sill"], zone = "clear", surface = ["aged-clear", "cured-clear"] }
set = { finish_finest = "P800" }
source = "our panels"

[[rule]]
id = "ours-tailgates-fade-finer"
says = "The fade of a tailgate is seen against the sky."
when = { panel = ["tailgate", "sill"], zone = "fade" }
set = { finish_coarsest = "P1200", hand_last_coarsest = "P1200", step_ratio_min = 0.7 }
source = "our panels"

[[rule]]
id = "ours-thin-edges-in-clear"
says = "The edge of a sill is thin where clear alone goes on."
when = { panel = "sill", zone = "clear", feature = "edge" }
set = { film_off_max_um = 1.5 }
source = "our panels"

[[rule]]
id = "ours-tailgates-colour-alike"
says = "Its full colour is finished alike."
when = { panel = ["tailgate", "sill"], zone = "colour" }
set = { finish_target = "P1200", finish_finest = "P1200" }
source = "our panels"

[[rule]]
id = "ours-lids-edges-finer"
says = "The edges of a boot lid are looked at from above."
when = { panel = "boot-lid", feature = "edge", zone = "fade" }
set = { finish_coarsest = "P1200" }
source = "our panels"

[[rule]]
id = "ours-lids-body-lines-key-coarse"
says = "Its body lines key with P1000 in the fade."
when = { panel = "boot-lid", feature = ["body-line", "recess"], zone = "fade" }
set = { finish_finest = "P1000" }
source = "our panels"

[[rule]]
id = "ours-thin-recesses"
says = "A recess of a tailgate has little clear."
when = { panel = "tailgate", feature = "recess" }
set = { film_off_max_um = 1.2 }
source = "our panels"
"""

BOOK: Final = """
[[colour]]
book = "Harbour mist"
name = "Harbour mist, spring batch"
flake = "fine"
flake_um = 14.0
stages = 2
tone = "mid"
sealed_by = "LM"
sealed_on = 2026-02-01

[[colour]]
book = "Slate  Grey"
flake = "medium"
stages = 2
tone = "dark"
flake_um = 15.5
tilt_deg = 12.0

[[colour]]
book = "Pearl three"
stages = 3
flake = "coarse"
tilt_deg = 5.0
log_sd = 0.3
sealed_by = "LM"

[[colour]]
book = "Mirror"
flake = "vapour"
tone = "light"
sealed_by = "LM"

[[colour]]
book = "Sun coarse"
flake = "coarse"
flake_um = 33.0
tilt_deg = 11.0
tone = "mid"
sealed_by = "LM"

[[colour]]
book = "Nothing known"
"""
"""Sealed and not, finer and coarser than its class, with much left out, and one with nothing at all."""

OF_THE_BOOK: Final = """
[standards]
name = "Book"
version = "1"

[[rule]]
id = "book-slate-under-a-bed"
says = "Slate grey shows everything: two coats of bed, and the pad."
when = { book = ["slate grey", "Mirror"], zone = "fade", surface = ["aged-clear", "cured-clear"] }
set = { wet_bed = "required", bed_coats_min = 2, machine = "interface-pad" }
source = "our panels"

[[rule]]
id = "book-others-coarser-steps"
says = "Colours that no rule names: shorter steps."
when = { book = { not = ["Harbour mist", "slate grey"] }, zone = ["colour", "fade"] }
set = { step_ratio_min = 0.65, film_off_max_um = 9 }
source = "our panels"
"""


OWN_KINDS: Final = """
[[outline]]
kind = "roof-spoiler"
name = "roof spoiler"
like = "boot-lid"
feature = [
    { id = "E1", kind = "edge", path = [[0, 0], [1, 0]], reach = "machine" },
    { id = "H1", kind = "recess", path = [[0.4, 0.8], [0.6, 0.8]], reach = "hand" },
]

[[outline]]
kind = "tank"
name = "tank"
like = "bonnet"

[[outline]]
kind = "sill"
feature = [{ id = "E9", kind = "edge", path = [[0, 1], [1, 1]] }]
"""
"""A kind with lines of its own, one that takes them from what it is like, and a shipped one changed."""

OF_OWN_KINDS: Final = """
[standards]
name = "Own kinds"
version = "1"

[[rule]]
id = "kinds-lids-finer"
says = "Lids are looked at from above."
when = { panel = ["boot-lid", "roof"], zone = ["colour", "fade"], surface = ["aged-clear", "cured-clear"] }
set = { risk_limit = 0.2, guide_coat = "every-change" }
source = "our panels"

[[rule]]
id = "kinds-spoiler-by-hand"
says = "A spoiler is thin."
when = { panel = "roof-spoiler", feature = ["edge", "body-line"], reach = "machine" }
set = { machine = "never" }
source = "our panels"

[[rule]]
id = "kinds-all-but-bonnets"
says = "Bonnets are flat."
when = { panel = { not = ["bonnet", "roof-spoiler"] }, zone = "fade" }
set = { machine = "interface-pad" }
source = "our panels"
"""


class Files(NamedTuple):
    """Texts of a house's files; empty for what it has not."""

    shop: str = ""
    rules: str = ""
    book: str = ""
    panels: str = ""


HOUSES: Final = (
    Files(), Files(POOR), Files(GAPS, book=BOOK), Files(WATER_BORNE), Files(RICH, OURS),
    Files("", OF_THE_BOOK, BOOK), Files(rules=OF_OWN_KINDS, panels=OWN_KINDS),
)  # fmt: skip
"""All of them, the shipped one first."""
