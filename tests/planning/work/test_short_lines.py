"""A line that runs mostly through a patch.

Its part there is sanded with the patch, a rest of a millimetre is none.
"""

from collections.abc import Callable

import pytest

from prepadvisor.records import Advice

PATCH = {"id": "R1", "surface": "primer-surfacer", "at": [0.5, 0.5], "size_mm": [200, 100]}


@pytest.mark.parametrize(("rest_mm", "does"), [(0.9, ["look"]), (1.5, ["scuff", "look"])])
def test_a_rest_of_more_than_a_millimetre_is_worked(
    advise_on: Callable[..., Advice], rest_mm: float, does: list[str]
) -> None:
    """The patch reaches from 400 to 600 mm; the line ends so far past it."""
    end = (600 + rest_mm) / 1000
    line = {"id": "H1", "kind": "recess", "path": [[0.45, 0.5], [end, 0.5]], "reach": "hand"}
    advice = advise_on(
        role="repair", colour_from=None, colour_mm=None, fade_mm=None, length_mm=1000, height_mm=500,
        patch=[PATCH], feature=[line],
    )  # fmt: skip
    assert [task.do for task in advice.work.tasks if task.place == "door/H1"] == does
