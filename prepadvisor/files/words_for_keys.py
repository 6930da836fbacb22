"""For each key of a job, shop or outline file: how it is written, and what sizes make sense."""

from typing import Final

EXAMPLES: Final[dict[str, str]] = {
    "job": '[job] with number = "1042"',
    "panel": '[[panel]] with id = "left-front-door"',
    "number": 'number = "1042"',
    "vehicle": 'vehicle = "five-door hatchback"',
    "by": 'by = "K. M."',
    "date": "date = 2026-03-02",
    "units": 'units = "metric"',
    "name": 'name = "front edge"',
    "flake": 'flake = "very-fine"',
    "stages": "stages = 2",
    "tone": 'tone = "light"',
    "flake_um": "flake_um = 8.0",
    "id": 'id = "E1"',
    "kind": 'kind = "front-door" for a panel, kind = "edge" for a line',
    "role": 'role = "blend"',
    "surface": 'surface = "aged-clear"',
    "next": 'next = "base"',
    "special": 'special = "none"',
    "length_mm": "length_mm = 1050",
    "height_mm": "height_mm = 640",
    "colour_from": 'colour_from = ["front"]',
    "colour_mm": "colour_mm = 150",
    "fade_mm": "fade_mm = 400",
    "film_um": "film_um = [118, 112]",
    "now": 'now = { tool = "da", grade = "P320" }',
    "done": 'done = { tool = "hand-pad", grade = "P1000" }',
    "tool": 'tool = "hand-pad"',
    "grade": 'grade = "P1000"',
    "pad": 'pad = "our grey pad"',
    "patch": "[[panel.patch]]",
    "feature": 'feature = "E1" in a check, [[panel.feature]] for a line',
    "at": "at = [0.4, 0.6] for a patch, at = 2026-03-02T09:40:00Z in a check",
    "size_mm": "size_mm = [300, 250]",
    "path": "path = [[0.0, 0.0], [0.0, 1.0]]",
    "reach": 'reach = "machine"',
    "seen": "seen = true",
    "check": "[[check]]",
    "outcome": "[[outcome]]",
    "step": 'step = "scuffed"',
    "result": 'result = "clear"',
    "note": 'note = ""',
    "shelf": 'shelf = ["P320", "P500", "P800", "P1000"]',
    "value": "value = 0.05",
    "unit": 'unit = "µm"',
    "source": 'source = "practice"',
    "known": 'known = "practice"',
    "shape": "shape = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]",
}
"""A key to how it is written."""

_PANEL_SIZE: Final = "give it in millimetres; a panel of a car is 30 to 6000 mm long and high"
_SHARE: Final = "a place on a panel is 0 to 1 of its length or height, from the front top corner"

SIZE_WORDS: Final[dict[str, str]] = {
    "length_mm": _PANEL_SIZE,
    "height_mm": _PANEL_SIZE,
    "size_mm": "give length and height of the patch in millimetres",
    "colour_mm": "give how far full colour reaches, in millimetres",
    "fade_mm": "give how wide the fade-out is, in millimetres",
    "film_um": "give gauge readings in micrometres, such as 118",
    "path": _SHARE,
    "at": _SHARE,
    "shape": _SHARE,
    "stages": "2 is base and clear, 3 is ground, translucent and clear",
    "flake_um": "give the flake's median diameter in micrometres, such as 8.0",
    "tilt_deg": "give the spread of the flakes' tilt in degrees, such as 7",
    "log_sd": "give the spread of the logarithm of the flake's diameter, such as 0.47",
}
"""A key to what its value means where a number is out of bounds."""
