"""The yardstick: the same framed pages as Markdown files, built by MkDocs in the plain way.

`python -m tests.bench.plain FROM TO` makes the pages of the project in the folder FROM and writes each as a Markdown file
that holds its ready HTML into TO, with a mkdocs.yml that has nothing but the theme, its pruned navigation and no
full-text index, which would make it slower still. Then `mkdocs build` in TO is the plain build.
"""

from __future__ import annotations

import sys
from pathlib import Path

from generator.audit import findings
from generator.pages import all_pages
from generator.record.library import load

CONFIG = "site_name: Plain\nuse_directory_urls: false\ntheme: {name: material, font: false, features: [navigation.prune]}\nplugins: []\n"


def main(root: Path, target: Path) -> None:
    """Write the files."""
    library = load(root)
    (target / "docs").mkdir(parents=True)
    (target / "mkdocs.yml").write_text(CONFIG, encoding="utf-8")
    for page in all_pages(library, {}, findings(library)):
        path = (target / "docs" / page.path).with_suffix(".md")
        path.parent.mkdir(parents=True, exist_ok=True)
        lines = "\n".join(line for line in page.body.splitlines() if line.strip())
        path.write_text(f"<div>\n{lines}\n</div>\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
