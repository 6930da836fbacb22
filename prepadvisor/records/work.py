"""The plan of work: tasks at places, steps that group them, stages, and what follows in the booth.

Planned once, in planning; the check-off adds to each task its state and the entry behind it. Card, gate, log,
screens, minutes, discs and drills read it and derive no work of their own. Sentences are not in it: they are
made where it is shown.
"""

from typing import Final, Literal

from prepadvisor.named import NamedTuple
from prepadvisor.records.words import Grade, Look, Step, Tool, Zone, is_finer

StageName = Literal["primer", "paint"]
"""Work up to a coat that is sanded again, and work up to colour."""

Do = Literal["clean", "scuff", "powder", "sand", "look", "wipe", "mask"]
"""What one task is: all but masking are logged."""

STEP_OF: Final[dict[Do, Step]] = {
    "clean": "cleaned",
    "scuff": "scuffed",
    "powder": "guide-coated",
    "sand": "sanded",
    "look": "inspected",
    "wipe": "wiped",
}
"""What a task is called in the log."""

DO_OF: Final[dict[Step, Do]] = {step: do for do, step in STEP_OF.items()}
"""What a step of the log does, in the order of work; what is no task of the plan is not here."""

TaskState = Literal["open", "done", "held"]
"""open: not logged, or logged and undone since; done: counts; held: logged but may not stand."""

BoothDo = Literal["seal", "ground", "colour", "bed", "blend", "clear", "look"]


class Task(NamedTuple):
    """One thing done at one place.

    Attributes:
        id: such as "p1/E1.powder.2"; the number counts equal things at one place.
        stage: the stage it belongs to.
        place: "panel/feature", or the panel alone for cleaning, wiping and masking.
        do: what is done.
        tool: with what, where a tool is used.
        grade: the chosen grade, where one is used.
        range: coarsest and finest grade that the gate takes, None where there is no grade.
        after: ids of the tasks that must be done before it, task by task.
        owed: whether the gate asks for it; masking is not owed. Static: no entry changes it.
        minutes: what it takes, 0 where it is done already but for the tick.
        film_off_um: film in µm that it takes off, None where film is not counted.
        rules: ids of the rules that ask for it or set its grade.
        state: where it stands by the log.
        entry: id of the log entry that speaks for it.
    """

    id: str
    stage: StageName
    place: str
    do: Do
    tool: Tool | None = None
    grade: Grade | None = None
    range: tuple[Grade, Grade] | None = None
    after: tuple[str, ...] = ()
    owed: bool = True
    minutes: float = 0.0
    film_off_um: float | None = None
    rules: tuple[str, ...] = ()
    state: TaskState = "open"
    entry: str | None = None


def too_coarse(grade: Grade, task: Task) -> bool:
    """Say whether a grade is coarser than the coarsest of a task."""
    return task.range is not None and is_finer(task.range[0], grade)


def too_fine(grade: Grade, task: Task) -> bool:
    """Say whether a grade is finer than the finest of a task."""
    return task.range is not None and is_finer(grade, task.range[1])


def admits(task: Task, grade: Grade | None) -> bool:
    """Say whether a grade lies in the range of a task; an unstated one never does."""
    return grade is not None and not too_coarse(grade, task) and not too_fine(grade, task)


class WorkStep(NamedTuple):
    """Tasks that are read and done together.

    Attributes:
        id: such as "paint.3".
        n: reading order over all panels, from 1.
        stage: its stage.
        tasks: ids of its tasks.
        log: arguments of `log JOB …`, initials apart, one run for each owed task, such as
            ("p1/E1", "scuffed", "--tool", "hand-pad", "--grade", "P1000").
    """

    id: str
    n: int
    stage: StageName
    tasks: tuple[str, ...]
    log: tuple[tuple[str, ...], ...] = ()


ClearWord = Literal["CLEAR FOR PRIMER", "CLEAR TO MASK"]
"""What the gate says at the end of a stage."""

CLEAR: Final[dict[StageName, ClearWord]] = {"primer": "CLEAR FOR PRIMER", "paint": "CLEAR TO MASK"}


class Stage(NamedTuple):
    """A stretch of work that ends in a gate.

    Attributes:
        id: its name.
        clear: what the gate says when it is passed.
        minutes: sum over its tasks.
    """

    id: StageName
    clear: ClearWord
    minutes: float


class BoothEntry(NamedTuple):
    """One thing sprayed or looked at on one panel or patch after the last gate.

    Attributes:
        id: such as "booth.3.left-front-door".
        n: order; equal for what is sprayed together.
        do: what is done.
        panel: where.
        patch: the patch, if it is not the panel.
        from_mm: depth from the nearest source of the colour where it begins.
        to_mm: depth where it ends.
        coats: how many coats.
        ml: ready to spray, 0 where the card does not reckon it.
        past_mm: how far mist lands past `to_mm`.
        ends_at: place ids of the edges or seams where a clear coat ends.
    """

    id: str
    n: int
    do: BoothDo
    panel: str
    patch: str | None = None
    from_mm: float | None = None
    to_mm: float | None = None
    coats: int = 0
    ml: int = 0
    past_mm: float = 0.0
    ends_at: tuple[str, ...] = ()


class Work(NamedTuple):
    """All the work of a job.

    Attributes:
        tasks: every task, in an order that respects `after`.
        steps: the tasks grouped for reading.
        stages: in order; the first is the one that is worked now.
        unplanned: ids of panels that are held and so have no task.
        booth: what follows in the booth, in order.
    """

    tasks: tuple[Task, ...] = ()
    steps: tuple[WorkStep, ...] = ()
    stages: tuple[Stage, ...] = ()
    unplanned: tuple[str, ...] = ()
    booth: tuple[BoothEntry, ...] = ()

    @property
    def stage(self) -> StageName:
        """The stage that is worked now."""
        return self.stages[0].id if self.stages else "paint"

    @property
    def clear(self) -> ClearWord:
        """What the gate says when the stage that is worked now is passed."""
        return CLEAR[self.stage]


# What to do where a look found something, as facts: passes first, passes then, or the lead.
#
# Cards print drills without a log, so these stand apart from all else that the check-off says.


class Ask(NamedTuple):
    """One pass to do: with what, what grade, and which grades are taken."""

    do: Do
    tool: Tool | None = None
    grade: Grade | None = None
    range: tuple[Grade, Grade] | None = None


Bed = Literal["no", "too-coarse", "lead"]
"""A wet bed instead: none goes there, none covers that scuff, or only with the lead's initials."""


class Drill(NamedTuple):
    """What to do where a look found something: first these; still there, then those; still, then the lead.

    `first` and `then` name no grade that is forbidden there; `then` is empty where only the lead is left.
    `zones` are those of the place.
    """

    result: Look
    first: tuple[Ask, ...]
    then: tuple[Ask, ...] = ()
    minutes: float = 0.0
    bed: Bed = "no"
    zones: tuple[Zone, ...] = ()
    on_fill: bool = False
    kind: Literal["drill"] = "drill"


class FilmShort(NamedTuple):
    """Passes that would take off more film than may come off: `off_um` and `off_max_um` in µm.

    `may_follow` says whether the lead may let them be done and accept the film after.
    """

    asks: tuple[Ask, ...]
    off_um: float
    off_max_um: float
    may_follow: bool


class LeadDecides(NamedTuple):
    """Stop; nothing more is cut. The lead chooses: accept it as it is, or replan the place.

    `film` is what else would be done, where film is too short for it.
    """

    may_accept: bool
    film: FilmShort | None = None
    kind: Literal["lead-decides"] = "lead-decides"
