"""Prep cards from one advice record: text, JSON, HTML, PDF."""
