"""Text into data: bounds, positions, every fault at once with its line, in shop words.

A part's code is loaded when something of it is first asked for.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.files.reading.overlay import OWN_WORD as OWN_WORD
    from prepadvisor.files.reading.overlay import Overlaid as Overlaid
    from prepadvisor.files.reading.overlay import rule_lines as rule_lines
    from prepadvisor.files.reading.overlay import stated_numbers as stated_numbers
    from prepadvisor.files.reading.refused import Told as Told
    from prepadvisor.files.reading.refused import refusals as refusals
    from prepadvisor.files.reading.table_in import TABLE_BYTES_MAX as TABLE_BYTES_MAX
    from prepadvisor.files.reading.table_in import BadCellError as BadCellError
    from prepadvisor.files.reading.table_in import ReadRow as ReadRow
    from prepadvisor.files.reading.table_in import as_cell as as_cell
    from prepadvisor.files.reading.table_in import header_at as header_at
    from prepadvisor.files.reading.table_in import mark_of as mark_of
    from prepadvisor.files.reading.table_in import number_in as number_in
    from prepadvisor.files.reading.table_in import plain_cell as plain_cell
    from prepadvisor.files.reading.table_in import read_table as read_table
    from prepadvisor.files.reading.table_in import table_of as table_of
    from prepadvisor.files.reading.table_in import whole_in as whole_in
    from prepadvisor.files.reading.table_in import word_of as word_of
    from prepadvisor.files.reading.table_in import yes_or_no as yes_or_no
    from prepadvisor.files.reading.toml_in import JOB_BYTES_MAX as JOB_BYTES_MAX
    from prepadvisor.files.reading.toml_in import TomlText as TomlText
    from prepadvisor.files.reading.toml_in import parse as parse
    from prepadvisor.files.reading.toml_in import read_bytes as read_bytes
    from prepadvisor.files.reading.toml_in import read_toml as read_toml
    from prepadvisor.files.reading.toml_in import shown_name as shown_name
    from prepadvisor.files.reading.words_for_faults import meant_key as meant_key
    from prepadvisor.files.reading.words_for_faults import told_faults as told_faults

_PARTS = {
    "overlay": "OWN_WORD Overlaid rule_lines stated_numbers",
    "refused": "Told refusals",
    "table_in": (
        "BadCellError ReadRow TABLE_BYTES_MAX as_cell header_at mark_of number_in plain_cell "
        "read_table table_of whole_in word_of yes_or_no"
    ),
    "toml_in": "JOB_BYTES_MAX TomlText parse read_bytes read_toml shown_name",
    "words_for_faults": "meant_key told_faults",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
