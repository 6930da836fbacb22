"""Puts entries in the log: asks who works once, shows the grades before they are logged, names each entry."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from prepadvisor.tui.dialogs import Choice, Choose, ask_done, ask_text
from prepadvisor.tui.model import STEP_WORDS, Session, check_off, gate_view, pad_of
from prepadvisor.tui.screens.view import View
from prepadvisor.wording import panel_name

if TYPE_CHECKING:
    from prepadvisor.checkoff import Wanted


class Logging(View):
    """A view that logs steps."""

    def __init__(self) -> None:
        """Start without a gate."""
        super().__init__()
        self._session: Session | None = None
        self._gate: gate_view.GateView | None = None

    def _ask_work(self, place_id: str, step: str, by: str) -> None:
        session, verdict = self._session, self._gate
        if session is None or verdict is None:
            return
        views = check_off.work_of(verdict, place_id, step)
        if not views:
            self.say(f"nothing on this panel owes that step now: {STEP_WORDS[step]}", refused=True)
            return
        wanted = check_off.planned(views, step, by)
        again = all(each.state == "done" for view in views for each in view.steps if each.step == step)
        self._confirm(step, wanted, again=again)

    def _confirm(self, step: str, wanted: list["Wanted"], *, again: bool) -> None:
        """Log a step; where grades are used, show them first and ask whether those were."""
        session = self._session
        if session is None:
            return
        if step == "guide-coated":
            self._log(step, wanted, self.on_logged)
            return
        says = "\n".join(check_off.plan_words(session, wanted))
        choices = [
            Choice("planned", "Yes, these, as the card asks"),
            Choice("other", "No, with something else: tool and grade are asked"),
        ]

        def answered(answer: str | None) -> None:
            if answer == "planned":
                self._log(step, wanted, self.on_logged)
            elif answer == "other":
                ask_done(
                    self, STEP_WORDS[step].capitalize(), lambda done: self._log_other(step, wanted, done),
                    session.house.shop.pads, near=wanted[0].grade,
                )  # fmt: skip

        title = f"{STEP_WORDS[step].capitalize()}{' again' if again else ''}: were these used?"
        self.app.push_screen(Choose(title, choices, told=says), answered)

    def on_logged(self) -> None:
        """Do what follows once work was logged; a view may go on to what is next."""

    def _log_other(self, step: str, wanted: list["Wanted"], done: str) -> None:
        tool, _, grade = done.partition(" ")
        pad = pad_of(grade)
        self._log(step, [each._replace(tool=tool, grade="" if pad else grade, pad=pad) for each in wanted])

    def _log(self, step: str, wanted: list["Wanted"], then: Callable[[], None] | None = None) -> None:
        session = self._session
        if session is None or not wanted:
            return
        panel = session.job.panel_at(wanted[0].where.partition("/")[0])
        where = panel_name(panel.id) if panel else ""
        what = wanted[0].result or STEP_WORDS[step]
        count = f", {len(wanted)} places" if len(wanted) > 1 else ""
        place = (
            "" if len(wanted) > 1 or step in {"cleaned", "wiped"} else f" {wanted[0].where.partition('/')[2]}"
        )

        def confirmed() -> None:
            at = f"{session.now():%H:%M}"
            places = gate_view.listed_places(session, [each.where for each in wanted])
            self.say(f"√ {places}: {what}{check_off.with_words(wanted)}, {wanted[0].by} {at}")
            if then is not None:
                then()

        self.edit(f"{where}{place}: {what}{count}", check_off.logging(session, wanted), then=confirmed)

    def _by_somebody(self, then: Callable[[str], None]) -> None:
        if self._session is None or self._gate is None:
            self.say("add a panel first", refused=True)
        elif self._session.initials:
            then(self._session.initials)
        else:
            self._ask_initials(then)

    def _ask_initials(self, then: Callable[[str], None]) -> None:
        def answered(by: str) -> None:
            if self._session is not None:
                self._session.initials = by
                then(by)

        ask_text(
            self, "Your initials", self._session.initials if self._session else "", answered,
            fault_of=lambda text: "" if text else "initials are needed: they stand in the log",
        )  # fmt: skip
