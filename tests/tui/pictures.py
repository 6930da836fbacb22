"""Makes pictures of the real screens, to look at and for the README: `python tests/tui/pictures.py [FOLDER]`.

`--svg` leaves out the PNGs, `--night` and `--terminal` take those themes; names and sizes choose some.
For the README: `python tests/tui/pictures.py tests/tui/readme usual --svg panels answer check-off draft`.

Each view is opened on a demo job at a fixed size, saved as SVG without its web font, and drawn by a headless
Chromium as PNG where one is installed.
"""

import asyncio
import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Final, NamedTuple

SIZES: Final = {"small": (60, 18), "usual": (80, 24), "large": (120, 40), "wide": (200, 60)}
_DEMO: Final = "very-fine-door-and-wing"


class Shot(NamedTuple):
    """One picture: its name, the demo job (empty for the opening), the view, and the keys pressed there."""

    name: str
    job: str
    view: str
    keys: tuple[str, ...] = ()


_FINER: Final = ("f", *"hand-very", "enter", "g", "s")

SHOTS: Final = (
    Shot("opening", "", "opening"),
    Shot("colour", _DEMO, "colour"),
    Shot("panels", _DEMO, "panels", ("z",)),
    Shot("lines", _DEMO, "lines", ("down", "down", "down", "down")),
    Shot("answer", _DEMO, "answer", ("down",) * 4),
    Shot("what-if", _DEMO, "answer", ("down", "f", "f")),
    Shot("held", "a-place-that-holds", "answer", ("down",)),
    Shot(
        "check-off",
        _DEMO,
        "check-off",
        ("c", "k", "m", "enter", "s", "1", "g", "d", "1", "down", "1", "down", "2"),
    ),
    Shot("patch", _DEMO, "lines", ("v", "p", "2")),
    Shot("menu", _DEMO, "panels", ("escape",)),
    Shot("choose", _DEMO, "panels", ("a",)),
    Shot("card", _DEMO, "card"),
    Shot("standards", _DEMO, "standards", ("down", "down")),
    Shot("check", _DEMO, "standards", (*_FINER, "a")),
    Shot("draft", _DEMO, "standards", (*_FINER, "j")),
    Shot("rule-form", _DEMO, "standards", ("f", *"hand-very", "enter", "g")),
    Shot("conditions", _DEMO, "standards", ("f", *"hand-very", "enter", "g", "down", "down", "enter")),
    Shot("filled", _DEMO, "lines", ("tab", "tab", "e")),
    Shot("find", _DEMO, "lines", ("slash", *"edge")),
    Shot("why", _DEMO, "answer", ("down", "w")),
    Shot("help", _DEMO, "check-off", ("f1",)),
)


async def drawn(shot: Shot, size: tuple[int, int], theme: str = "daylight") -> str:
    """Return the SVG of one view."""
    from prepadvisor.files import demo_jobs_dir, load_house
    from prepadvisor.tui.app import BenchApp
    from prepadvisor.tui.desk import Desk

    with tempfile.TemporaryDirectory() as folder:
        desk = Desk(load_house(), Path(folder))
        if shot.job:
            desk.open(demo_jobs_dir() / f"{shot.job}.toml", read_only=True)
            if desk.session is not None:
                desk.session.view = shot.view
        app = BenchApp(desk)
        async with app.run_test(size=size) as pilot:
            app.theme = theme
            await pilot.press(*shot.keys)
            await pilot.pause()
            svg = app.export_screenshot(title="prepadvisor")
    return re.sub(r"@font-face \{.*?\}", "", svg, flags=re.DOTALL).replace("Fira Code", "DejaVu Sans Mono")


def png(svg: Path, size: tuple[int, int]) -> None:
    """Draw an SVG as PNG beside it with a headless Chromium, where there is one."""
    browser = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if browser is None:
        return
    found = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg.read_text(encoding="utf-8"))
    width, height = (round(float(each)) for each in found.groups()) if found else (size[0] * 13, size[1] * 25)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        subprocess.run(
            [browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
             f"--user-data-dir={profile}", f"--window-size={width},{height}",
             f"--screenshot={svg.with_suffix('.png')}", svg.as_uri()],
            check=True, capture_output=True, timeout=60,
        )  # fmt: skip


def main(folder: Path, names: list[str], sizes: list[str], theme: str, with_png: bool) -> None:
    """Make the pictures asked for, all of them where no name is given."""
    os.environ["PREPADVISOR_STATE"] = tempfile.mkdtemp()
    os.environ["PREPADVISOR_NOW"] = "2026-03-02T09:40:00+00:00"
    folder.mkdir(parents=True, exist_ok=True)
    for shot in SHOTS:
        for size in sizes:
            if not names or shot.name in names:
                path = folder.resolve() / f"{shot.name}-{size}.svg"
                path.write_text(asyncio.run(drawn(shot, SIZES[size], theme)), encoding="utf-8")
                if with_png:
                    png(path, SIZES[size])


def theme_of(words: list[str]) -> str:
    """Return the theme that the command names."""
    return next((name for name in ("night", "terminal") if f"--{name}" in words), "daylight")


if __name__ == "__main__":
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else Path("pictures")
    wanted = [word for word in sys.argv[2:] if word not in SIZES and not word.startswith("--")]
    chosen = [word for word in sys.argv[2:] if word in SIZES] or list(SIZES)
    main(target, wanted, chosen, theme_of(sys.argv), "--svg" not in sys.argv)
