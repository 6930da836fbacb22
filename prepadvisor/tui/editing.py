"""Changes of the open job, as the views ask for them: made, told, kept, taken back, saved."""

import time
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Final

from prepadvisor.tui.model import RefusedError, Session, TypedNumber, head_parts
from prepadvisor.tui.screens.view import View

if TYPE_CHECKING:
    from prepadvisor.records import Check
    from prepadvisor.tui.ending import CarefulApp

LOOK_SECONDS: Final = 1.0
"""So often the file is looked at for what others saved; that reads no file as long as nothing changed."""

REST_SECONDS: Final = 20.0
"""So long an entry can be taken back by its step; then it goes to the file, and is struck there."""

GATE_EVERY: Final = 10
"""Every so many looks the gate is asked whether it ran out."""


class Editing:
    """Makes the changes that views ask for, on the app's desk, and shows each view what then stands."""

    def __init__(self, app: "CarefulApp") -> None:
        """Edit on an app's desk."""
        self._app, self._desk = app, app.desk
        self._looks = 0
        self._typed = TypedNumber()
        self._to_do: list[View.Edited] = []

    def serve(self) -> None:
        """Tell the view that is on what to show."""
        view, session = self._app.view, self._desk.session
        if view is None or session is None:
            return
        view.show(session)
        view.is_filled, view.is_fresh = not view.is_waiting, True
        view.show_frame(head_parts(session.job), self._desk.state_words(), session.undo_name, self._app.keys)
        if view.focused is None:
            view.set_focus(view.query(view.first_focus()).first())

    def edit(self, event: View.Edited) -> None:
        """Make a change and keep it, or tell why it is refused; a long one once the key is answered."""
        session = self._desk.session
        if session is None:
            return
        if self._to_do:
            self._to_do.append(event)
        else:
            self._make(session, event, at_once=not session.is_long)

    def finish(self) -> None:
        """Make the changes that are still to be made."""
        to_do, self._to_do = self._to_do, []
        for event in to_do:
            if self._desk.session is not None:
                self._make(self._desk.session, event)

    def _make(self, session: Session, event: View.Edited, *, at_once: bool = True) -> None:
        """Make a change; one of the colour, which every place is advised on by, later where so stated."""
        try:
            job = event.make(session.job)
            if not at_once and job.colour != session.job.colour:
                self._to_do.append(event)
                self._app.say("working it out for every place ...")
                self._app.call_after_refresh(self.finish)
                return
            session.do(event.name, job, event.merge)
        except RefusedError as error:
            self._app.say(str(error), refused=True)
            if event.again is not None:
                event.again(str(error))
            return
        self._app.say("; ".join(session.trouble), refused=True)
        if event.then is not None:
            event.then()
        self.serve()
        self._app.call_after_refresh(self._keep)

    def watch_file(self) -> None:
        """Look at the file again and again for what others saved, and at the clock for what ran out."""
        self._app.set_interval(LOOK_SECONDS, self.look_at_file)

    def look_at_file(self) -> None:
        """Take over what others saved, and show it; a gate that ran out is shown as it is now.

        Entries that rested for a while go to the file by themselves: others need them.
        """
        before = self._desk.revision
        told = self._desk.look()
        if self._desk.rested(REST_SECONDS):
            told = "; ".join(word for word in (told, self._desk.save()) if word)
            self.serve()
        self._looks += 1
        turned = self._looks % GATE_EVERY == 0 and self._desk.gate_turned()
        if self._desk.revision != before or turned:
            self.serve()
        if told:
            self._app.say(told)

    def _keep(self) -> None:
        if told := self._desk.keep():
            self._app.say(told, refused=True)

    def select(self, event: View.Selected) -> None:
        """Select a panel and a line or patch of it."""
        if self._desk.session is not None:
            self._desk.session.select(event.panel_id, event.part_id)
            self.serve()

    def digit(self, event: View.Digit) -> None:
        """Select the line or patch of the selected panel that has the number typed."""
        from prepadvisor.tui.model import place_numbers

        session = self._desk.session
        if session is None or session.panel is None:
            return
        parts = {number: part for part, number in place_numbers(session).items()} | {"0": "face"}
        self._typed = self._typed.typed(event.digit, time.monotonic(), parts)
        if self._typed.digits in parts:
            session.select(session.panel_id, parts[self._typed.digits])
            self.serve()
        else:
            self._app.say(f"no line {self._typed.digits} on this panel", refused=True)

    def undo(self) -> None:
        """Take the last change back."""
        self.finish()
        session, view = self._desk.session, self._app.view
        if view is not None and view.no_undo:
            self._app.say(view.no_undo)
        elif session is not None:
            self._step("Undone", session.undo)
            if session.to_strike:
                self._ask_strike(session, session.to_strike)

    def _ask_strike(self, session: Session, entries: Sequence["Check"]) -> None:
        """Ask whether entries that stand in the file are struck there; nothing ever deletes them."""
        from prepadvisor.checkoff import Wanted
        from prepadvisor.tui.dialogs import AskYes
        from prepadvisor.tui.model import logging

        def answered(yes: bool | None) -> None:
            if not yes:
                return
            wanted = [
                Wanted(
                    f"{each.panel}/{each.feature}", "struck", session.initials or each.by,
                    note="a slip of the key", of=each.id,
                )
                for each in entries
            ]  # fmt: skip
            self.edit(View.Edited("struck from the log", logging(session, wanted)))

        last = entries[-1]
        count = f"{len(entries)} entries" if len(entries) > 1 else f"{last.feature} {last.step}"
        more = "They stay readable in the file and count no more. Without a strike they stand as they are."
        question = f"In the file's log already: {count}. Strike it?"
        self._app.push_screen(AskYes(question, more, yes="Strike"), answered)

    def redo(self) -> None:
        """Bring back what was undone last."""
        self.finish()
        if self._app.view is not None and self._app.view.no_undo:
            self._app.say(self._app.view.no_undo)
        elif self._desk.session is not None:
            self._step("Done again", self._desk.session.redo)

    def _step(self, what: str, step: Callable[[], str]) -> None:
        try:
            name = step()
        except RefusedError as error:
            self._app.say(str(error), refused=True)
            return
        self.serve()
        self._app.call_after_refresh(self._keep)
        self._app.say(f"{what}: {name}" if name else "nothing to take back or bring back")

    def save(self) -> None:
        """Save now."""
        self.finish()
        told = self._desk.save()
        self.serve()
        self._app.say(told or "Saved", refused=bool(told))

    def save_on_the_way(self, session: Session, view: str) -> None:
        """Save a job whose other view is painted already, unless another was opened since."""
        if self._desk.session is not session:
            return
        changed = session.is_dirty
        told = self._desk.leave_view(view)
        if changed:
            self.serve()
        if told:
            self._app.say(told, refused=True)
