"""Opening: go on where the work was left, take up what a crash left behind, start a job, or see a demo."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, ClassVar, Final

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.screen import Screen

from prepadvisor.cards import DayJob, age, day_of_lines, state, sums_parts
from prepadvisor.tui.dialogs import AsksAgain, Choice, ask_choice, ask_text
from prepadvisor.tui.screens.own.way import OWN_WAY
from prepadvisor.tui.screens.view import bound, entitle, pane
from prepadvisor.tui.screens.wishes import FileWanted, NewWanted, OpeningResumed, StartChosen
from prepadvisor.tui.widgets import Act, Head, Line, Note, Rail, Reading, Row, Rows, Sized
from prepadvisor.wording import Units, counted, minutes

if TYPE_CHECKING:
    from prepadvisor.tui.starts import Start

ACTS = (
    Act("N", "New job", "ask_new"),
    Act("O", "Open file", "ask_file"),
    Act("F8", "Standards", "app.go('standards')"),
    Act("L", "Numbers", "own", "The shop's own numbers: colour book, test panels, fit, outcomes"),
    Act("Q", "Leave", "app.leave"),
    Act("F1", "Help", "app.help"),
    Act("W", "Wall table", "app.wall", "What each flake asks for, by the standards in force"),
)


MARKS: Final = {"recovery": "▲", "recent": "■", "demo": "□"}
_AROUND_TITLE: Final = 4
LOOK_EVERY_SECONDS: Final = 2.0
"""How often the folder is looked at for other people's work."""
NO_LINES: Final[Mapping[str, DayJob]] = MappingProxyType({})


_NEW_JOB: Final = [
    Line("Start a new job", "bold"),
    Line("Colour, then panels and how far the colour runs, then their lines."),
    Line(
        "The answer, the check-off and the card follow by themselves; each view is a stop on the line on top."
    ),
]


class Opening(AsksAgain, Sized, Screen[None]):
    """The first screen."""

    title_words: ClassVar[str] = "Opening"
    help_words: ClassVar[str] = """\
N starts a new job: give it a number, then go on with colour, panels, lines, answer, check-off and card.

Each job says where it stands: STOP, in work, CLEAR; what is next there, who logged last and how long ago.
What needs somebody stands first. The frame has the sums of the day; prepadvisor day prints the same.

Enter opens the job under the arrow, at the view it was left in. A job marked ▲ was not saved when the program
ended; opening it brings back every change. A demo shows how a finished job looks; nothing you do there is
written.

This program helps to prepare. Makers' sheets, local codes and licensed practice come first."""
    BINDINGS: ClassVar[list[BindingType]] = bound(ACTS)

    def __init__(self) -> None:
        """Start with an empty list."""
        super().__init__()
        self._starts: dict[str, Start] = {}
        self._number = ""
        self._order: list[str] = []
        self._touched = False
        self._lines: Mapping[str, DayJob] = NO_LINES

    def compose(self) -> ComposeResult:
        """Head, list, note and rail."""
        yield Head()
        with Container(classes="split"):
            yield pane(Rows(row_lines=2, name="starts"), "Jobs")
            yield pane(Reading(name="about", takes_focus=False), "This job")
        yield Note()
        yield Rail()

    def on_mount(self) -> None:
        """Show the plates."""
        self.query_one(Head).show(
            ("prepadvisor", "what each place of a blend panel needs before masking"), ""
        )
        self.query_one(Note).say("")
        self.query_one(Rail).show(ACTS)
        self.set_focus(self.query_one(Rows))

        self.set_interval(LOOK_EVERY_SECONDS, self._look)

    def on_screen_resume(self) -> None:
        """Ask for the list, what waits most on top again."""
        self._touched = False
        self.post_message(OpeningResumed())

    def _look(self) -> None:
        if self.is_current:
            self.post_message(OpeningResumed())

    def show(self, starts: Iterable["Start"], number: str, lines: Mapping[str, DayJob] = NO_LINES) -> None:
        """Fill the list.

        Args:
            starts: what one can start with.
            number: is offered for a new job.
            lines: where each job stands, by its path, as far as it is worked out.
        """
        again = bool(self._starts)
        order = {key: at for at, key in enumerate(self._order)} if self._touched else {}
        self._number = number
        self._starts = {f"{start.kind}:{start.ident}": start for start in starts}
        rows = [Row("new", "Start a new job", "give it a number; colour and panels follow", mark="+")]
        jobs = [(key, start) for key, start in self._starts.items() if start.kind == "recent"]
        jobs.sort(key=lambda job: (order.get(job[0], len(order)), _rank(lines.get(job[1].ident))))
        self._order = [key for key, _ in jobs]  # nothing moves any more once somebody is in the list
        others = [(key, start) for key, start in self._starts.items() if start.kind != "recent"]
        left = [job for job in others if job[1].kind == "recovery"]
        for key, start in [*left, *jobs, *(job for job in others if job[1].kind == "demo")]:
            line = lines.get(start.ident)
            if line is not None and start.kind == "recent":
                rows.append(_job_row(key, line))
                continue
            ink = "warn" if start.kind == "recovery" else "plain"
            rows.append(Row(key, start.says, start.more, mark=MARKS[start.kind], ink=ink))
        opened = [row.id for row in rows if (one := self._starts.get(row.id)) is not None and one.opened]
        first = next((row.id for row in rows if row.id.startswith(("recovery", "recent"))), "new")
        self._lines = lines
        entitle(self.query_one(Rows), self._title([start.ident for _, start in jobs]))
        stays = self._touched or (again and bool(opened))
        self.query_one(Rows).show(rows, None if stays else next(iter(opened), first))
        self._show_about()

    def _title(self, paths: list[str]) -> str:
        """Return as much of the sums of the day as the frame has room for."""
        known = [line for path in paths if (line := self._lines.get(path)) is not None]
        if not known:
            return "Jobs"
        parts = sums_parts(day_of_lines(known))
        if len(known) < len(paths):
            parts = (f"{len(known)} of {len(paths)} jobs read", *parts[1:])
        room = (self.query_one(Rows).size.width or self.size.width) - _AROUND_TITLE
        fitting = [count for count in range(1, len(parts)) if len("; ".join(parts[:count])) <= room]
        return "; ".join(parts if len("; ".join(parts)) <= room else parts[: max(fitting, default=1)])

    @on(Rows.Moved)
    def _moved(self) -> None:
        self._touched = True
        self._show_about()

    def _show_about(self) -> None:
        """Tell more of the job under the arrow, where the window has room for it."""
        start = self._starts.get(self.query_one(Rows).current)
        line = self._lines.get(start.ident) if start is not None else None
        said = [Line(start.says, "bold"), Line(start.more)] if start is not None else _NEW_JOB
        if line is not None:
            discs = ", ".join(f"{grade} {count}" for grade, count in line.discs)
            said = [
                Line("  ".join(part for part in (line.number, line.colour, line.vehicle) if part), "bold"),
                Line(state(line), "go" if line.clear else "stop" if line.held or line.error else "plain"),
                Line(f"next: {line.error or line.next or 'mask it'}"),
                Line(f"last: {line.by}, {age(line.age_h)}" if line.by else "nothing is logged yet"),
                Line(
                    f"{minutes(line.minutes)} planned, wet bed {Units(line.imperial).volume(line.mix_ml)}, "
                    f"powder {counted(line.powder, 'time')}"
                ),
                Line(f"discs: {discs or 'none'}"),
                Line(""),
                Line(line.path, "hush"),
            ]
        self.query_one("#about", Reading).show(said)

    def say(self, words: str, refused: bool = False) -> None:
        """Show words above the rail."""
        self.query_one(Note).say(words, refused)

    @on(Rows.Picked)
    def _picked(self, event: Rows.Picked) -> None:
        if event.row_id == "new":
            self.action_ask_new()
        else:
            self.post_message(StartChosen(self._starts[event.row_id]))

    @on(Rail.Pressed)
    async def _pressed(self, event: Rail.Pressed) -> None:
        await self.run_action(event.action)

    def action_ask_new(self) -> None:
        """Ask for the number of a new job."""
        ask_text(
            self, "Number of the job", self._number, lambda number: self._post(NewWanted(number)),
            fault_of=lambda text: "" if text else "a job needs a number: it stands on the card",
        )  # fmt: skip

    def action_ask_file(self) -> None:
        """Ask for a job file."""
        ask_text(self, "Path of the job file", "", lambda path: self._post(FileWanted(path)))

    def action_own(self) -> None:
        """Ask which of the shop's own numbers to see."""
        choices = [Choice(stop.view, stop.label, key=stop.key) for stop in OWN_WAY[1:]]
        ask_choice(self, "The shop's own numbers", choices, self._go)

    def _go(self, view: str) -> None:
        self.call_later(self.run_action, f"app.go('{view}')")

    def _post(self, message: NewWanted | FileWanted) -> None:
        message.again = self.asked_again
        self.post_message(message)


def _job_row(key: str, line: DayJob) -> Row:
    """Return a job as a row: what it is at the left, where it stands at the right, below it what is next."""
    where = state(line)
    name = "  ".join(part for part in (line.number or line.path, line.colour, line.vehicle) if part)
    ink = "stop" if line.error or line.held else "go" if line.clear else "plain"
    who = f"{line.by} {age(line.age_h)}" if line.by else "next"
    second = f"{who}: {line.error or line.next or 'mask it'}"
    return Row(key, name, second, mark=MARKS["recent"], ink=ink, right=where)


def _rank(line: DayJob | None) -> tuple[int, float]:
    """Sort what needs somebody first, then what waits longest, then what is clear."""
    if line is None:
        return (2, 0.0)
    return (0 if line.error or line.held else 3 if line.clear else 1, -(line.age_h or 0.0))
