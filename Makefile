# make site    build the site from the records and say how to open it
# make serve   the same, again at every change, on http://127.0.0.1:8000/
# make check   check the records alone
# make faults  plant transcription faults in the records and count what the check catches
# make bench   a hundred to two thousand made-up engines: how fast, how large, and which targets are reached
# make test    every test, in a real browser too
# make lock    renew .ci/lock from pyproject.toml
PYTHON ?= python3
VENV := .venv
RUN := $(VENV)/bin/python
export NO_MKDOCS_2_WARNING := 1
export PIP_DISABLE_PIP_VERSION_CHECK := 1

.PHONY: site serve check faults bench test lock clean
.DEFAULT_GOAL := site

site: $(VENV)/site.stamp
	@$(RUN) -m generator build

serve: $(VENV)/site.stamp
	@$(RUN) -m generator serve

check: $(VENV)/site.stamp
	@$(RUN) -m generator check

faults: $(VENV)/test.stamp
	@$(RUN) -m tests.faults

bench: $(VENV)/test.stamp
	@.ci/browser
	@$(RUN) -m tests.bench

test: $(VENV)/test.stamp
	@.ci/browser
	@$(RUN) -m pytest

$(VENV)/bin/python:
	@command -v $(PYTHON) >/dev/null || { echo "$(PYTHON) is not installed; Firedeck needs Python 3.11 or newer." >&2; exit 1; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "$(PYTHON) is older than 3.11; name a newer one: make site PYTHON=python3.12" >&2; exit 1; }
	@$(PYTHON) -m venv $(VENV) || { rm -rf $(VENV); echo "No virtual environment could be made; on Debian: apt-get install python3-venv" >&2; exit 1; }

$(VENV)/%.stamp: .ci/lock/%.txt | $(VENV)/bin/python
	@echo "Installing what .ci/lock/$*.txt names …"
	@$(RUN) -m pip install --quiet --require-hashes --requirement $< && touch $@

# Needs pip-tools beside the project's own packages; run it after a change to pyproject.toml.
COMPILE = $(VENV)/bin/pip-compile --quiet --generate-hashes --strip-extras --no-header --no-emit-index-url --no-emit-find-links
lock: $(VENV)/bin/python
	@$(RUN) -m pip install --quiet pip-tools
	@$(COMPILE) --output-file .ci/lock/site.txt pyproject.toml
	@$(COMPILE) --extra test --constraint .ci/lock/site.txt --output-file .ci/lock/test.txt pyproject.toml

clean:
	@rm -rf .venv .build site .pytest_cache .hypothesis .mypy_cache .ruff_cache
