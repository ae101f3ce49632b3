"""Registered publications."""

from __future__ import annotations

from dataclasses import dataclass

from generator.reading import ReadFile


@dataclass(frozen=True, slots=True)
class Source:
    """A publication. number: its short name for people. read: how it was read."""

    id: str
    number: str
    kind: str
    about: str
    read: str
    title: str = ""
    edition: str = ""
    authors: str = ""

    @property
    def invented(self) -> bool:
        """Whether the book exists only for demonstration."""
        return self.kind == "invented"

    @property
    def is_practice(self) -> bool:
        """Whether it stands for the trade's practice, for which there is no source."""
        return self.kind == "common practice"


def read_source(file: ReadFile) -> Source:
    """Build a source from a read file."""
    return Source(**{key: str(file.data.get(key, "")) for key in Source.__dataclass_fields__})
