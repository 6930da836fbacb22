"""Houses to judge random jobs by.

The shipped one, poor and rich shelves, other tools and material, own rules.
"""

from typing import Final

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
"""

HOUSES: Final = (("", ""), (POOR, ""), (GAPS, ""), (WATER_BORNE, ""), (RICH, OURS))
"""Text of shop.toml and of a rule file; empty for the shipped one."""
