"""Bytes on a disk: written whole, locked, appended, journalled, joined with what others wrote."""
