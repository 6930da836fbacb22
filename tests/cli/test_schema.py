"""The command schema prints what an editor needs to check a file while one types."""

import json
from typing import Any

import pytest
import tomli

from prepadvisor.cli.main import main
from prepadvisor.cli.schema import schema_of
from prepadvisor.files import demo_jobs_dir, rules_dir
from prepadvisor.records import Record
from prepadvisor.wording import attributes

FILES = ("job", "rules", "shop", "advice")
FILES_OF_A_PERSON = ("job", "rules", "shop", "constants", "panels", "sources", "colours", "in-force")


def tables(schema: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the schema of a file and of every record in it."""
    return [schema, *(each for each in schema.get("$defs", {}).values() if each.get("type") == "object")]


def unknown_keys(data: Any, schema: dict[str, Any], root: dict[str, Any]) -> list[str]:
    """Return the keys of data that the schema does not know, at any depth."""
    if "$ref" in schema:
        schema = root["$defs"][schema["$ref"].rsplit("/", 1)[1]]
    for choice in schema.get("anyOf", []):
        if choice.get("type") != "null":
            schema = {
                **schema,
                **(root["$defs"][choice["$ref"].rsplit("/", 1)[1]] if "$ref" in choice else choice),
            }
    if isinstance(data, list):
        return [key for entry in data for key in unknown_keys(entry, schema.get("items", {}), root)]
    if not isinstance(data, dict) or "properties" not in schema:
        return []
    known = schema["properties"]
    found = [key for key in data if key not in known]
    return found + [
        inner
        for key, value in data.items()
        if key in known
        for inner in unknown_keys(value, known[key], root)
    ]


@pytest.mark.parametrize("file", FILES)
def test_it_prints_a_schema(file: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The output is JSON, says its dialect and is alone on standard output."""
    assert main(["schema", file]) == 0
    printed = capsys.readouterr()
    schema = json.loads(printed.out)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["type"] == "object"
    assert printed.err == ""


@pytest.mark.parametrize("file", ["job", "shop", "advice"])
def test_unknown_keys_are_refused_everywhere(file: str) -> None:
    """Every table of a file is closed: JSON Schema's additionalProperties is false."""
    assert all(
        each.get("additionalProperties") is False for each in tables(schema_of(file)) if "properties" in each
    )


def test_words_are_listed() -> None:
    """An editor can offer the words a key may have."""
    defs = schema_of("job")["$defs"]
    assert defs["Panel"]["properties"]["role"]["enum"][:3] == ["repair", "blend", "clear-only"]
    assert "aged-clear" in defs["Panel"]["properties"]["surface"]["enum"]


def test_other_words_of_the_trade_are_listed_where_they_are_read() -> None:
    """An editor marks neither spelling as a fault, but both spellings of one key at once."""
    job, rules = schema_of("job"), schema_of("rules")
    panel = job["$defs"]["Panel"]
    assert {"bonnet", "hood"} <= set(panel["properties"]["kind"]["enum"])
    assert panel["properties"]["color_mm"] == panel["properties"]["colour_mm"]
    assert {"not": {"required": ["color_mm", "colour_mm"]}} in panel["allOf"]
    assert job["properties"]["color"] == job["properties"]["colour"]
    assert {"colour", "color"} <= set(
        rules["$defs"]["RuleEntry"]["properties"]["when"]["properties"]["zone"]["anyOf"][0]["enum"]
    )
    assert "clear-coat" not in job["$defs"]["Check"]["properties"]["result"]["anyOf"][0]["enum"]


def test_docstrings_say_what_each_key_is() -> None:
    """Every record of a file explains its keys in its docstring, and none that it has not."""
    for file in FILES_OF_A_PERSON:
        schema_of(file)  # a key without a sentence is an error here
    told = {record: set(attributes(record)) ^ set(record.model_fields) for record in Record.__subclasses__()}
    assert not any(told.values()), told


def test_an_editor_is_shown_unit_and_range() -> None:
    """A sentence as an editor shows it, with the bounds of the number; no key that no file has."""
    defs = schema_of("job")["$defs"]
    fade = defs["Panel"]["properties"]["fade_mm"]["description"]
    assert fade == "How wide the fade-out is beyond it, in mm. From 0 to 6000."
    assert "newer" not in defs["Check"]["properties"]


def test_a_grade_has_its_p() -> None:
    """A bare number is marked while it is typed."""
    grade = json.dumps(schema_of("job")["$defs"]["Done"]["properties"]["grade"])
    assert "[Pp]" in grade


def test_a_house_may_leave_out_any_key_of_its_shop_file() -> None:
    """What the shop does not state comes from the shipped file, so nothing is required."""
    schema = schema_of("shop")
    assert "required" not in schema
    assert "required" not in schema["$defs"]["WetBed"]


@pytest.mark.parametrize("path", sorted(demo_jobs_dir().glob("*.toml")), ids=lambda path: path.stem)
def test_demo_jobs_have_no_key_the_schema_does_not_know(path: Any) -> None:
    """The schema and the loader agree on the keys of a job."""
    schema = schema_of("job")
    assert unknown_keys(tomli.loads(path.read_text(encoding="utf-8")), schema, schema) == []


@pytest.mark.parametrize("path", sorted((rules_dir() / "base").glob("*.toml")), ids=lambda path: path.stem)
def test_base_rules_have_no_key_the_schema_does_not_know(path: Any) -> None:
    """The schema and the loader agree on the keys of a rule file, conditions and outputs included."""
    schema = schema_of("rules")
    assert unknown_keys(tomli.loads(path.read_text(encoding="utf-8")), schema, schema) == []


def test_an_unknown_file_is_a_usage_error(capsys: pytest.CaptureFixture[str]) -> None:
    """Exit status 2, with the names there are."""
    assert main(["schema", "moon"]) == 2
    assert "job" in capsys.readouterr().err
