"""The JSON of any advice is what its schema says; the laws of advice stand in tests/laws."""

import json

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from prepadvisor.planning import advise
from prepadvisor.records import Job
from prepadvisor.standards import House
from prepadvisor.wording import advice_json, advice_schema

SCHEMA = Draft202012Validator(advice_schema())
AnyJob = st.SearchStrategy[Job]
AnyHouse = st.SearchStrategy[House]
any_case = settings(max_examples=25, suppress_health_check=list(HealthCheck))


@given(data=st.data())
@any_case
def test_the_json_of_an_advice_is_what_its_schema_says(
    data: st.DataObject, any_job: AnyJob, houses: AnyHouse
) -> None:
    """A JSON Schema library finds no fault; no number in it is without meaning; no spot is lost."""
    advice = advise(data.draw(any_job), data.draw(houses))
    written = advice_json(advice)
    assert "NaN" not in written
    assert "Infinity" not in written
    data_form = json.loads(written)
    assert [error.message for error in SCHEMA.iter_errors(data_form)] == []
    assert [spot["id"] for spot in data_form["spots"]] == [spot.id for spot in advice.spots]
