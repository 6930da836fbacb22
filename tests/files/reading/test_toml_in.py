"""What a file may be before it is a job: its bytes, its size, its syntax."""

import os
from pathlib import Path

import pytest

from prepadvisor.files import JOB_BYTES_MAX, parse, read_toml
from prepadvisor.records import BadInputError

SMALL = b'[job]\nnumber = "1"\n'


def faults_of(raw: bytes) -> list[str]:
    """Return the faults of the bytes of a file, as printed."""
    with pytest.raises(BadInputError) as caught:
        parse(raw, "job.toml")
    return [str(fault) for fault in caught.value.faults]


def broken_lines(raw: bytes) -> list[str]:
    """Return the faults of lines that were set aside, as printed."""
    return [str(fault) for fault in parse(raw, "job.toml").broken]


@pytest.mark.parametrize(
    "raw",
    [
        SMALL,
        b"\xef\xbb\xbf" + SMALL,
        SMALL.replace(b"\n", b"\r\n"),
        b"\xef\xbb\xbf" + SMALL.replace(b"\n", b"\r\n"),
    ],
    ids=["plain", "byte-order mark", "CRLF", "both"],
)
def test_byte_order_mark_and_line_ends_do_not_matter(raw: bytes) -> None:
    """The same data and the same places, however an editor saved the file."""
    text = parse(raw, "job.toml")
    assert text.data == {"job": {"number": "1"}}
    assert text.locator.value(("job", "number")) == (2, 10)


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"", "job.toml: the file is empty; start from a demo job"),
        (b" \r\n\t\n", "job.toml: the file is empty; start from a demo job"),
        (b"\x00" * 50, "job.toml: this is not a text file; name a file that ends in .toml"),
        (b"PK\x03\x04\x00\xff\xfe", "job.toml:1:6: this is not text; save the file again as UTF-8 text"),
        ("[job]".encode("utf-16"), "job.toml: the file is saved as UTF-16; save it again as UTF-8"),
        (
            b'[job]\nvehicle = "Coup\xe9"\n',
            "job.toml:2:16: this letter is not saved as UTF-8; save the file again as UTF-8 text",
        ),
    ],
    ids=["empty", "blank", "zeros", "a zip file", "UTF-16", "Latin-1"],
)
def test_what_is_no_text_is_said_in_one_line(raw: bytes, says: str) -> None:
    """Bytes that are no UTF-8 text are refused with what to do."""
    try:
        shown = broken_lines(raw)
    except BadInputError as error:
        shown = [str(fault) for fault in error.faults]
    assert shown == [says]


def test_another_code_page_hides_no_other_fault() -> None:
    """The letters of the page, and every line that is no TOML in it, are told together."""
    text = '[job]\nvehicle = "Coupé"\nby = K\n[[panel]\nid = 1,5\n'
    for page, first in (("cp1252", "job.toml:2:16: this letter"), ("utf-16", "job.toml: the file is saved")):
        shown = broken_lines(text.encode(page))
        assert shown[0].startswith(first), page
        assert [line.split(":")[1] for line in shown[1:]] == ["3", "4", "5"], page


@pytest.mark.parametrize(
    "raw",
    [
        b"a = " + b"[" * 200_000,
        b"a = " + b"{b = " * 5_000 + b"1" + b"}" * 5_000,
        b".".join([b"a"] * 100_000) + b" = 1",
    ],
    ids=["lists", "tables", "dotted key"],
)
def test_deep_nesting_is_refused_plainly(raw: bytes) -> None:
    """Thousands of brackets or key parts end in one sentence."""
    (fault,) = faults_of(raw)
    assert "nested too deeply" in fault


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("flake = fine", '9: text needs quotes; write "fine"'),
        ("seen = True", "8: True is not a value; write true, in small letters and without quotes"),
        ("seen = no", "8: no is not a value; write false, in small letters and without quotes"),
        ("length_mm =", '12: the value is missing; write one, or put "#" before the line'),
        ("length_mm = 1,050", "14: a number has no comma"),
        ("length_mm = 1050 mm", "18: a number has no unit or letters"),
        ("length_mm 1050", "11: a key and its value need a = between them"),
        ('name = "front edge', "19: the closing quote is missing"),
        ('path = "C:\\jobs"', "13: a backslash in quotes"),
        ("film_um = [118 112]", "16: a list is not closed"),
        ("x = 1 2", "7: something stands behind the value"),
        ("größe = 3", "3: a key may only have the letters a to z"),
        ("date = 2026-02-30", "8: there is no such day or time"),
        ("now = { tool = 1 grade = 2 }", "18: a { } is not closed"),
        ("a = 1\na = 2", "a = 2: this key already has a value above"),
    ],
)
def test_syntax_faults_are_in_shop_words(line: str, says: str) -> None:
    """Each common slip has its own sentence, at its place, and no parser's jargon."""
    raw = f"[job]\n{line}\n".encode()
    try:
        shown = broken_lines(raw)
    except BadInputError as error:
        shown = [str(fault) for fault in error.faults]
    assert len(shown) == 1
    assert says.split(": ", 1)[1] in shown[0]
    if says[0].isdecimal():
        assert shown[0].startswith(f"job.toml:2:{says.split(':')[0]}:")


def test_every_broken_line_is_told_at_once() -> None:
    """A line that is no TOML is set aside, so that the next fault is told too."""
    raw = b"[job]\nnumber = 1042a\nunits = metric\nby = 'K. M.'\ndate =\n"
    assert [line.split(":")[1] for line in broken_lines(raw)] == ["2", "3", "5"]
    assert parse(raw, "job.toml").data == {"job": {"by": "K. M."}}


def test_a_table_that_stands_twice_is_left_out_whole() -> None:
    """What stands in it may belong to either; what follows it is read on."""
    raw = b"[job]\na = 1\n[job]\nb = x\n[colour]\nflake = fine\n"
    assert [line.split(":")[1] for line in broken_lines(raw)] == ["3", "6"]
    assert broken_lines(raw)[0].startswith("job.toml:3:5: this table is there twice; keep one of them")
    assert parse(raw, "job.toml").data == {"job": {"a": 1}, "colour": {}}


@pytest.mark.parametrize(
    ("head", "is_list"),
    [
        ("[colour", False),
        ("[ colour ]]", True),
        ("[[colour]", True),
        ("[[colour", True),
        ("[colour] x", False),
    ],
)
def test_the_head_of_a_table_that_is_not_closed_hides_nothing(head: str, *, is_list: bool) -> None:
    """It is told, and read with the brackets that it lacks."""
    raw = f"[job]\nnumber = 1042a\n{head}\nflake = fine\ntone = 'mid'\n".encode()
    assert [line.split(":")[1] for line in broken_lines(raw)] == ["2", "3", "4"]
    table = {"tone": "mid"}
    assert parse(raw, "job.toml").data == {"job": {}, "colour": [table] if is_list else table}


def test_what_no_head_can_be_ends_the_reading() -> None:
    """Told once; nothing is guessed of what follows."""
    for head in (b"[]", b"[colour.", b"]"):
        (fault,) = faults_of(b"[job]\na = 1\n" + head + b"\nb = x\n")
        assert fault.startswith("job.toml:3:"), head


def test_a_file_over_the_limit_is_refused_without_being_read(tmp_path: Path) -> None:
    """Fifty megabytes are refused in a moment; only the limit's worth of it is read."""
    path = tmp_path / "big.toml"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    with pytest.raises(BadInputError, match=r"big\.toml: the file is over 5 MB"):
        read_toml(path)
    assert JOB_BYTES_MAX == 5_000_000


def test_what_cannot_be_opened_is_said_in_one_line(tmp_path: Path) -> None:
    """No such file (with the near one), a folder, a file as folder, a device, an impossible name."""
    (tmp_path / "job-1042.toml").write_bytes(SMALL)
    said = []
    for path in ("job-1024.toml", ".", "job-1042.toml/x", "x\0y", "y" * 300):
        with pytest.raises(BadInputError) as caught:
            read_toml(f"{tmp_path}/{path}")
        said.append(str(caught.value).split(": ", 1)[1])
    assert said == [
        'there is no such file; did you mean "job-1042.toml"?',
        "this is a folder; name the file in it",
        "part of this name is a file, not a folder; check the name",
        "no file can have this name; check the name",
        "the name is too long; check the name",
    ]


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="has no device files")
def test_a_device_is_no_file() -> None:
    """An endless device is not read."""
    with pytest.raises(BadInputError, match="this is no file but a device"):
        read_toml("/dev/zero")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_a_file_one_may_not_read_is_said(tmp_path: Path) -> None:
    """A file without the right to read it names that, not an error number."""
    path = tmp_path / "job.toml"
    path.write_bytes(SMALL)
    path.chmod(0)
    with pytest.raises(BadInputError, match="may not be read by you"):
        read_toml(path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="has no named pipes")
def test_a_named_pipe_is_refused_at_once(tmp_path: Path) -> None:
    """It might wait for a writer for ever, and stop a whole folder."""
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    with pytest.raises(BadInputError, match="this is no file but a pipe"):
        read_toml(pipe)


@pytest.mark.skipif(not Path("/dev/fd").exists(), reason="hands over no open pipes")
def test_a_pipe_that_a_shell_hands_over_is_read() -> None:
    """It has a writer already."""
    out, into = os.pipe()
    try:
        os.write(into, SMALL)
        os.close(into)
        assert read_toml(f"/dev/fd/{out}").data == {"job": {"number": "1"}}
    finally:
        os.close(out)
