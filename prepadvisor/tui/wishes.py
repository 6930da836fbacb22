"""What a person chose for the screens themselves, kept in the state folder: so far the theme."""

from prepadvisor.files import FileSystem, put, state_dir


def kept_theme() -> str:
    """Return the name of the theme that was chosen last, empty for none."""
    try:
        return (state_dir() / "theme").read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError):
        return ""


def keep_theme(name: str) -> None:
    """Keep the name of a theme. Never raises: one that cannot be written is not kept."""
    try:
        state_dir().mkdir(parents=True, exist_ok=True)
        put(state_dir() / "theme", f"{name}\n".encode(), FileSystem(), keep_previous=False)
    except OSError:
        return
