"""The words that forms of JSON are told in: types, and the facts of a case with their sentences.

A form is a dict of keys (all of them there, unless the key ends in "?"; "*" stands for any key), a list of
one form, or a pair of JSON type and sentence. A pair of a form and a sentence describes the form as well.
"""

from typing import Any, Final

from prepadvisor.cases import FACTS
from prepadvisor.cli.schemas.sentences import fact_says

JsonForm = Any
A_TEXT: Final = "string"
A_NUMBER: Final = "number"
A_COUNT: Final = "integer"
A_YES: Final = "boolean"
A_NUMBER_OR_NULL: Final = ["number", "null"]
ANYTHING: Final = ["string", "number", "boolean", "null"]
FACTS_FORM: Final = {
    f"{fact}?": (["string", "number", "boolean", "array"], fact_says(fact)) for fact in FACTS
}
CASE_FORM: Final = {f"{fact}?": (ANYTHING, fact_says(fact)) for fact in FACTS}
DISCS_FORM: Final = {"*": (A_COUNT, "discs of this grade")}
