"""Screens that know how wide and high the window is before they are first styled."""

from contextlib import suppress
from typing import TYPE_CHECKING, Any, Final

from textual.geometry import Size

if TYPE_CHECKING:
    from textual.screen import Screen

    _Base = Screen[Any]
else:
    _Base = object


SLIM: Final = 72
"""Columns of a window below which lists and facts get half of it; it has the class -slim then."""

TALL: Final = 36
"""Rows of a window from which on a drawing has room under words; it has the class -tall then."""


class Sized(_Base):
    """A screen that has the classes of the window's size from the start.

    The framework gives them with the first resize, when all is styled already, and styles it again.
    """

    def __init__(self, *args: Any, **options: Any) -> None:
        """Make a screen for the window that there is."""
        super().__init__(*args, **options)
        self.sized_for: Size | None = None
        with suppress(RuntimeError):  # made without an app, it gets them later
            app = self.app
            self.sized_for = app.size
            for points, size in (
                (app.HORIZONTAL_BREAKPOINTS, app.size.width),
                (app.VERTICAL_BREAKPOINTS, app.size.height),
            ):
                fitting = [name for least, name in points or () if size >= least]
                self.add_class(*fitting[-1:], update=False)
            self.set_class(app.size.width < SLIM, "-slim", update=False)
            self.set_class(app.size.height >= TALL, "-tall", update=False)

    def _compositor_refresh(self) -> None:
        """Paint; in a batch nothing would be sent, and what it was painted for be taken as done.

        After all is painted it need not be once more, as the framework does where the focus moved meanwhile.
        """
        if self.app._batch_count:  # noqa: SLF001 - the framework paints it in vain, then again
            return
        whole = self._compositor.size.region in self._compositor._dirty_regions  # noqa: SLF001
        super()._compositor_refresh()
        if whole:
            self._repaint_required = False
