"""The way from advice to a written card: what is gathered goes on, and little goes back and forth.

Followed as it runs: each function where it is first entered. Going back into a file once left is a return.
What is asked in passing by everyone is no station on the way: words, units, records, standards' own answers,
numbers of the surface model, and how text is wrapped and a leaf is put on a stack.
"""

import re
import sys
from pathlib import Path
from types import FrameType
from typing import Final

import pytest

import prepadvisor
from prepadvisor.cards import write_card
from prepadvisor.files import demo_jobs_dir, load_job
from prepadvisor.planning import advise
from prepadvisor.records import Form
from prepadvisor.standards import House

ROOT: Final = Path(prepadvisor.__file__).parent
IN_PASSING: Final = re.compile(
    r"named|.*__init__|(wording|surface|records|standards)/|cards/page/(columns|typeface|block|leaf|ink|templates)"
    r"|cards/figures/(figure|lines|zones)\.py"
)
RETURNS: Final[dict[Form, int]] = {"text": 6, "html": 26}
"""The most that there may be; there were 23 and 53 once."""


@pytest.mark.parametrize("form", RETURNS)
def test_little_goes_back_and_forth_on_the_way_to_a_card(form: Form, shipped_house: House) -> None:
    """Gathered once, worded, laid out."""
    job = load_job(demo_jobs_dir() / "a-place-that-holds.toml", shipped_house)
    advice = advise(job, shipped_house)
    way: list[str] = []
    entered = set()

    def follow(frame: FrameType, event: str, _arg: object) -> None:
        code = frame.f_code
        if event != "call" or code in entered or not code.co_filename.startswith(str(ROOT)):
            return
        entered.add(code)
        file = Path(code.co_filename).relative_to(ROOT).as_posix()
        if not code.co_name.startswith(("<", "__")) and not IN_PASSING.match(file) and way[-1:] != [file]:
            way.append(file)

    write_card(job, advice, shipped_house, form, sheets="all")  # what is loaded at first use is loaded
    before = sys.getprofile()
    sys.setprofile(follow)
    try:
        write_card(job, advice, shipped_house, form, sheets="all")
    finally:
        sys.setprofile(before)
    assert len(way) > len(RETURNS)
    assert len(way) - len(set(way)) <= RETURNS[form], way
