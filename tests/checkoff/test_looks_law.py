"""When a look stands, against the definition read out over sets: random writers who read now and then."""

from typing import Final

from hypothesis import given, settings
from hypothesis import strategies as st

from prepadvisor.files import demo_jobs_dir, load_house, load_job
from prepadvisor.logbook import Writer
from prepadvisor.records import Check
from tests.checkoff.shopfloor import DOOR, Shopfloor
from tests.logbook.test_order import by_definition

E2: Final = f"{DOOR}/E2"
_HOUSE: Final = load_house()
_JOB: Final = load_job(str(demo_jobs_dir() / "very-fine-door-and-wing.toml"), _HOUSE).model_copy(
    update={"check": ()}
)
_WORKED: Final = Shopfloor(_JOB, _HOUSE).work_through()
_LOOK: Final = next(c for c in _WORKED.log if (c.panel, c.feature, c.step) == (DOOR, "E2", "inspected"))
_SAND: Final = next(c for c in _WORKED.log if (c.panel, c.feature, c.step) == (DOOR, "E2", "sanded"))
_KINDS: Final = {
    "clear": _LOOK,
    "lines": _LOOK.model_copy(update={"result": "lines"}),
    "work": _SAND,
}


@st.composite
def logs(draw: st.DrawFn) -> list[Check]:
    """Go on from the worked job with up to eight looks and sandings by three writers."""
    writers = {token: Writer(token) for token in ("a", "b", "c")}
    read = dict.fromkeys(writers, len(_WORKED.log))
    log = list(_WORKED.log)
    for _ in range(draw(st.integers(1, 8))):
        token = draw(st.sampled_from(sorted(writers)))
        if draw(st.booleans()):
            read[token] = len(log)
        entry = _KINDS[draw(st.sampled_from(sorted(_KINDS)))]
        entry = entry.model_copy(update={"id": "", "knew": "", "at": _WORKED.now})
        log.append(writers[token].stamp(entry, log[: read[token]]))
    return log


def stands(log: list[Check]) -> bool:
    """Say by the definition whether the edge is looked at: a clear look that knew all work, nothing left."""
    known = by_definition(log)
    here = {n: c for n, c in enumerate(log, 1) if (c.panel, c.feature) == (DOOR, "E2")}
    work = {n for n, c in here.items() if c.step == "sanded"} | {
        n for n, c in enumerate(log, 1) if (c.panel, c.feature, c.step) == (DOOR, "face", "sanded")
    }
    own_work = {n for n in work if n in here}
    clear = {n for n, c in here.items() if c.result == "clear"}
    for adverse in (n for n, c in here.items() if c.result == "lines"):
        over = {n for n in own_work if adverse in known[n]}
        if not any(adverse in known[n] and known[n] & over for n in clear):
            return False
    return any(work <= known[n] for n in clear)


@settings(max_examples=150, deadline=None)
@given(logs())
def test_a_look_stands_exactly_when_the_definition_says(log: list[Check]) -> None:
    """Concurrent or not, in whatever order they reached the file."""
    floor = Shopfloor(_JOB, _HOUSE).with_log(log)
    floor.now = _WORKED.now
    held = set(floor.gate().kinds(E2)) - {"film-spent", "unordered"}
    assert (not held) is stands(log), held
