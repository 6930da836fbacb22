"""The program's own folders are found, and a crash leaves a log wherever it can."""

from pathlib import Path

import pytest

from prepadvisor.files import paths


def test_shipped_folders_are_found() -> None:
    """Rules and demo jobs are there, in a checkout or installed."""
    assert (paths.rules_dir() / "shop.toml").is_file()
    assert any(paths.demo_jobs_dir().glob("*.toml"))


def test_an_installed_package_comes_first(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """What was installed with the package is used before a folder that happens to lie beside it."""
    package = tmp_path / "site" / "prepadvisor"
    for folder in (package / "_rules", tmp_path / "site" / "rules"):
        folder.mkdir(parents=True)
    monkeypatch.setattr(paths, "_PACKAGE", package)
    assert paths.rules_dir() == package / "_rules"
    with pytest.raises(FileNotFoundError, match="install it again"):
        paths.demo_jobs_dir()


@pytest.mark.parametrize(
    ("platform", "variables", "expected"),
    [
        ("linux", {"XDG_STATE_HOME": "/x/state"}, "/x/state/prepadvisor"),
        ("linux", {"XDG_STATE_HOME": "relative"}, "/home/kim/.local/state/prepadvisor"),
        ("linux", {}, "/home/kim/.local/state/prepadvisor"),
        ("darwin", {}, "/home/kim/Library/Application Support/prepadvisor"),
        ("win32", {"LOCALAPPDATA": "/x/local"}, "/x/local/prepadvisor"),
        ("linux", {"PREPADVISOR_STATE": "/y"}, "/y"),
    ],
)
def test_state_goes_where_the_platform_keeps_it(
    platform: str, variables: dict[str, str], expected: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By the XDG base directory specification, Apple's and Microsoft's folders; our own variable wins."""
    for name in ("PREPADVISOR_STATE", "XDG_STATE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("HOME", "/home/kim")
    monkeypatch.setattr("sys.platform", platform)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    assert paths.state_dir().as_posix() == expected


def test_a_crash_log_holds_the_whole_story(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The traceback is in the log; only the newest twenty logs stay."""
    monkeypatch.setenv("PREPADVISOR_STATE", str(tmp_path))
    (tmp_path / "logs").mkdir()
    for number in range(30):
        (tmp_path / "logs" / f"crash-20200101-0000{number:02}-1.log").write_text("old", encoding="utf-8")
    with pytest.raises(ZeroDivisionError) as caught:
        divmod(1, 0)
    log = paths.write_crash_log(caught.value)
    assert "ZeroDivisionError" in log.read_text(encoding="utf-8")
    assert "divmod(1, 0)" in log.read_text(encoding="utf-8")
    assert len(list((tmp_path / "logs").iterdir())) == 20


def test_a_crash_log_finds_another_place(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Where the state folder cannot be made the log goes among the temporary files."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    monkeypatch.setenv("PREPADVISOR_STATE", str(tmp_path / "file"))
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    assert paths.write_crash_log(ValueError("x")).parent == tmp_path
