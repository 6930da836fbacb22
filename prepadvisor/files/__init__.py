"""Reads what people write: job files, and the standards of a shop."""

from prepadvisor.files.house_files import load_house, load_standards
from prepadvisor.files.job_file import job_of_text, load_job

__all__ = ["job_of_text", "load_house", "load_job", "load_standards"]
