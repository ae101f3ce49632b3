"""Planted transcription faults: how many of the slips that people make does the check find?

`python -m tests.faults` takes every record, plants one slip at a time, checks the record and
prints a table: kind, planted, catchable, caught, and the rules that caught it. Whether a slip can
be caught at all is decided before the check, from the shape of the record and of the slip alone,
by the table in shape.py. Caught means an error or a warning that was not there before, at or
under the place of the slip or naming it; notes do not count.
"""
