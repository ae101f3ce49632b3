"""Files in, data with line numbers and Problems out."""

from generator.reading.history import commit_dates
from generator.reading.marks import Place
from generator.reading.nodes import comments_of, end_of, is_flow, node_tree, start_of
from generator.reading.problem import LEVELS, At, Problem, dotted, near_name, nearest
from generator.reading.reporter import FORMATS, in_order
from generator.reading.schema import SchemaError, Schemas
from generator.reading.shape import Shape
from generator.reading.yamlfile import EMPTY, ReadFile, read_bytes, read_file, read_text

__all__ = [
    "At", "EMPTY", "FORMATS", "LEVELS", "Place", "Problem", "ReadFile", "SchemaError", "Schemas", "Shape",
    "comments_of", "commit_dates", "dotted", "end_of", "in_order", "is_flow", "near_name", "nearest", "node_tree", "read_bytes", "read_file",
    "read_text", "start_of",
]
