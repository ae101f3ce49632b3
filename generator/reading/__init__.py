"""Files in, data with line numbers and Problems out."""

from generator.reading.history import commit_dates
from generator.reading.problem import LEVELS, At, Problem, nearest
from generator.reading.reporter import FORMATS, in_order
from generator.reading.schema import Schemas, Shape
from generator.reading.yamlfile import Place, ReadFile, read_file, read_text

__all__ = [
    "At", "FORMATS", "LEVELS", "Place", "Problem", "ReadFile", "Schemas", "Shape",
    "commit_dates", "in_order", "nearest", "read_file", "read_text",
]
