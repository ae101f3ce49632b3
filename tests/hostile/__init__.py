"""Hostile and broken records: whatever a file holds, it is refused with a Problem or shown as text."""
