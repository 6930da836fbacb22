"""Reads what people write and puts on a disk what they made: jobs with their logs, a shop's standards.

A part's code is loaded when something of it is first asked for.
"""

from typing import TYPE_CHECKING

from prepadvisor.door import door

if TYPE_CHECKING:
    from prepadvisor.files.case_job import job_text as job_text
    from prepadvisor.files.colour_book import Book as Book
    from prepadvisor.files.colour_book import add_entry as add_entry
    from prepadvisor.files.colour_book import colours_table as colours_table
    from prepadvisor.files.colour_book import entry_of_job as entry_of_job
    from prepadvisor.files.colour_book import read_book as read_book
    from prepadvisor.files.colour_book import read_colours as read_colours
    from prepadvisor.files.colour_book import seal as seal
    from prepadvisor.files.colour_book import write_book as write_book
    from prepadvisor.files.constants_layer import write_measured as write_measured
    from prepadvisor.files.constants_layer import write_rates as write_rates
    from prepadvisor.files.dated_data import DatedData as DatedData
    from prepadvisor.files.disk.append import AppendRefusedError as AppendRefusedError
    from prepadvisor.files.disk.append import LogTable as LogTable
    from prepadvisor.files.disk.append import Values as Values
    from prepadvisor.files.disk.append import appended as appended
    from prepadvisor.files.disk.append import values_of as values_of
    from prepadvisor.files.disk.atomic import FileSystem as FileSystem
    from prepadvisor.files.disk.atomic import is_alive as is_alive
    from prepadvisor.files.disk.atomic import previous_of as previous_of
    from prepadvisor.files.disk.atomic import put as put
    from prepadvisor.files.disk.atomic import started as started
    from prepadvisor.files.disk.atomic import this_host as this_host
    from prepadvisor.files.disk.beside import entries_beside as entries_beside
    from prepadvisor.files.disk.beside import entry_path as entry_path
    from prepadvisor.files.disk.beside import put_beside as put_beside
    from prepadvisor.files.disk.edit import both_changed as both_changed
    from prepadvisor.files.disk.edit import changed_table as changed_table
    from prepadvisor.files.disk.edit import edited as edited
    from prepadvisor.files.disk.edit import new_text as new_text
    from prepadvisor.files.disk.edit import values_of_job as values_of_job
    from prepadvisor.files.disk.edit import with_changes as with_changes
    from prepadvisor.files.disk.journal import Journal as Journal
    from prepadvisor.files.disk.journal import Recovery as Recovery
    from prepadvisor.files.disk.journal import journal_folder as journal_folder
    from prepadvisor.files.disk.journal import recoverable as recoverable
    from prepadvisor.files.disk.lock import NoLocksError as NoLocksError
    from prepadvisor.files.disk.lock import lock_path as lock_path
    from prepadvisor.files.disk.lock import locked as locked
    from prepadvisor.files.disk.not_saved import BusyError as BusyError
    from prepadvisor.files.disk.not_saved import ChangedUnderneathError as ChangedUnderneathError
    from prepadvisor.files.disk.not_saved import NotSavedError as NotSavedError
    from prepadvisor.files.disk.not_saved import UnknownResultError as UnknownResultError
    from prepadvisor.files.disk.not_saved import not_saved as not_saved
    from prepadvisor.files.disk.openers import FORGOTTEN_AFTER_SECONDS as FORGOTTEN_AFTER_SECONDS
    from prepadvisor.files.disk.openers import Opener as Opener
    from prepadvisor.files.disk.out_file import put_out as put_out
    from prepadvisor.files.disk.out_file import refuse_no_file as refuse_no_file
    from prepadvisor.files.disk.out_file import refuse_out as refuse_out
    from prepadvisor.files.disk.store import append_entries as append_entries
    from prepadvisor.files.disk.store import append_outcome as append_outcome
    from prepadvisor.files.disk.store import read_version as read_version
    from prepadvisor.files.disk.store import save_text as save_text
    from prepadvisor.files.disk.version import FolderSight as FolderSight
    from prepadvisor.files.disk.version import Saved as Saved
    from prepadvisor.files.disk.version import Version as Version
    from prepadvisor.files.disk.version import sight as sight
    from prepadvisor.files.flakes_csv import read_flakes as read_flakes
    from prepadvisor.files.house_data import Outlines as Outlines
    from prepadvisor.files.house_data import Register as Register
    from prepadvisor.files.house_draft import HouseDraft as HouseDraft
    from prepadvisor.files.house_files import load_house as load_house
    from prepadvisor.files.house_files import load_standards as load_standards
    from prepadvisor.files.house_start import start_house as start_house
    from prepadvisor.files.house_strays import placed as placed
    from prepadvisor.files.house_strays import stale_schemas as stale_schemas
    from prepadvisor.files.house_strays import strays as strays
    from prepadvisor.files.in_force import InForceFile as InForceFile
    from prepadvisor.files.in_force import InForceVersion as InForceVersion
    from prepadvisor.files.in_force import approve as approve
    from prepadvisor.files.in_force import changed_unsaid as changed_unsaid
    from prepadvisor.files.in_force import out_of_date as out_of_date
    from prepadvisor.files.in_force import sealed_ahead as sealed_ahead
    from prepadvisor.files.in_force import versions as versions
    from prepadvisor.files.job_checks import impossible_places as impossible_places
    from prepadvisor.files.job_checks import layout_problems as layout_problems
    from prepadvisor.files.job_file import job_of_text as job_of_text
    from prepadvisor.files.job_file import job_reader as job_reader
    from prepadvisor.files.job_file import load_job as load_job
    from prepadvisor.files.laid_data import BOOK_FILE as BOOK_FILE
    from prepadvisor.files.paths import demo_jobs_dir as demo_jobs_dir
    from prepadvisor.files.paths import rules_dir as rules_dir
    from prepadvisor.files.paths import screens_file as screens_file
    from prepadvisor.files.paths import state_dir as state_dir
    from prepadvisor.files.paths import write_crash_log as write_crash_log
    from prepadvisor.files.reading.first_words import in_first_words as in_first_words
    from prepadvisor.files.reading.locator import Locator as Locator
    from prepadvisor.files.reading.toml_in import JOB_BYTES_MAX as JOB_BYTES_MAX
    from prepadvisor.files.reading.toml_in import TomlText as TomlText
    from prepadvisor.files.reading.toml_in import parse as parse
    from prepadvisor.files.reading.toml_in import read_bytes as read_bytes
    from prepadvisor.files.reading.toml_in import read_toml as read_toml
    from prepadvisor.files.reading.toml_in import shown_name as shown_name
    from prepadvisor.files.rule_edit import NotEditedError as NotEditedError
    from prepadvisor.files.rule_edit import with_example as with_example
    from prepadvisor.files.rule_edit import with_more as with_more
    from prepadvisor.files.rule_edit import with_rule_changed as with_rule_changed
    from prepadvisor.files.rule_edit import without_rule as without_rule
    from prepadvisor.files.shipped_text import read_shipped as read_shipped
    from prepadvisor.files.shipped_text import whole as whole
    from prepadvisor.files.tables import COATS_MOST as COATS_MOST
    from prepadvisor.files.tables import PANELS_FILE as PANELS_FILE
    from prepadvisor.files.tables import append_panels as append_panels
    from prepadvisor.files.tables import panel_of as panel_of
    from prepadvisor.files.tables import read_panels as read_panels
    from prepadvisor.files.which_jobs import job_files as job_files

_PARTS = {
    "case_job": "job_text",
    "colour_book": "Book add_entry colours_table entry_of_job read_book read_colours seal write_book",
    "constants_layer": "write_measured write_rates",
    "dated_data": "DatedData",
    "disk.append": "AppendRefusedError LogTable Values appended values_of",
    "disk.atomic": "FileSystem is_alive previous_of put started this_host",
    "disk.beside": "entries_beside entry_path put_beside",
    "disk.edit": "both_changed changed_table edited new_text values_of_job with_changes",
    "disk.journal": "Journal Recovery journal_folder recoverable",
    "disk.lock": "NoLocksError lock_path locked",
    "disk.not_saved": "BusyError ChangedUnderneathError NotSavedError UnknownResultError not_saved",
    "disk.openers": "FORGOTTEN_AFTER_SECONDS Opener",
    "disk.out_file": "put_out refuse_no_file refuse_out",
    "disk.store": "append_entries append_outcome read_version save_text",
    "disk.version": "FolderSight Saved Version sight",
    "flakes_csv": "read_flakes",
    "house_data": "Outlines Register",
    "house_draft": "HouseDraft",
    "house_files": "load_house load_standards",
    "house_start": "start_house",
    "house_strays": "placed stale_schemas strays",
    "in_force": "InForceFile InForceVersion approve changed_unsaid out_of_date sealed_ahead versions",
    "job_checks": "impossible_places layout_problems",
    "job_file": "job_of_text job_reader load_job",
    "laid_data": "BOOK_FILE",
    "paths": "demo_jobs_dir rules_dir screens_file state_dir write_crash_log",
    "reading.first_words": "in_first_words",
    "reading.locator": "Locator",
    "reading.toml_in": "JOB_BYTES_MAX TomlText parse read_bytes read_toml shown_name",
    "rule_edit": "NotEditedError with_example with_more with_rule_changed without_rule",
    "shipped_text": "read_shipped whole",
    "tables": "COATS_MOST PANELS_FILE append_panels panel_of read_panels",
    "which_jobs": "job_files",
}
"""The parts of this room, and what each brings to the door."""

if not TYPE_CHECKING:  # else a type checker would take any name for granted
    __getattr__ = door(__name__, _PARTS)
