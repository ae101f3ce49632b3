"""The bench: how fast and how large the site is with a hundred to two thousand engines, in figures that one run gives together.

`python -m tests.bench` fills copies of the project with made-up engines, checks, builds and serves them, builds
the same pages in a plain way for comparison, and prints every target with what was measured. Exit code 1 where
one is missed.
"""
