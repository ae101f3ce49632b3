"""What the person who writes a record works with: starter, canonical form, what moved between two states."""

from generator.drafting.canonical import Unordered, canonical
from generator.drafting.desk import Draft, first_moved, in_order, open_draft, record_of, write_whole
from generator.drafting.difference import as_comment, moves
from generator.drafting.starter import Answers, engine_text, faults, id_from, source_text
from generator.drafting.starting import Taken, start

__all__ = [
    "Answers", "Draft", "Taken", "Unordered", "as_comment", "canonical", "engine_text", "faults", "first_moved", "id_from", "in_order",
    "moves", "open_draft", "record_of", "source_text", "start", "write_whole",
]
