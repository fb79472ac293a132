# make demo   sets up and runs the main job on an invented athlete; prepares the pages' demo
# make demo-pages   opens the coach's pages on an invented squad, until stopped
# make test   sets up and runs every test and check
# make test-postgres   runs the tests of the pages against a PostgreSQL of their own
# make lint | format | types | bench | clean

PYTHON ?= python3.11
VENV := .venv
BIN := $(VENV)/bin
PYTEST_ARGS ?=

# The stamps hold the set-up: a run with nothing changed starts at once.
READY := $(VENV)/.ready
TEST_READY := $(VENV)/.test-ready

.PHONY: demo demo-pages test chromium test-postgres lint format types bench clean

demo: $(READY)
	@$(BIN)/saltus example demo --if-changed
	@$(BIN)/saltus analyse demo/recordings/ines-adler
	@$(BIN)/saltus assess demo/ines-adler.toml
	@$(BIN)/saltus plan demo/ines-adler.toml --weeks 3
	@$(BIN)/saltus follow demo/ines-adler.toml
	@$(BIN)/saltus demo --folder demo/pages --prepare-only
	@echo "Open the coach's pages on the invented squad with: make demo-pages"

demo-pages: $(READY)
	@$(BIN)/saltus demo --folder demo/pages

# The tests run in as many processes as there are cores: more threads of linear algebra only wait.
test test-postgres: export OPENBLAS_NUM_THREADS = 1

test: $(TEST_READY) lint types chromium
	$(BIN)/python -m pytest $(PYTEST_ARGS)
	$(BIN)/python tests/run_on_postgres.py

test-postgres: $(TEST_READY)
	$(BIN)/python tests/run_on_postgres.py

# The pages are driven in a real Chromium: CHROMIUM names one; else the system's, got where we may.
chromium:
	@[ -n "$$CHROMIUM" ] || command -v chromium >/dev/null || command -v chromium-browser >/dev/null || { \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then apt-get -qq update && apt-get -qq install -y chromium; \
	  else echo "Chromium is missing, so the tests in a browser are left out: install it ('apt install chromium') or name it in CHROMIUM."; fi; }

lint: $(TEST_READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(TEST_READY)
	$(BIN)/mypy

format: $(TEST_READY)
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

bench: $(TEST_READY)
	$(BIN)/python -m bench

clean:
	rm -rf $(VENV) demo .pytest_cache .mypy_cache .ruff_cache

$(VENV)/bin/python:
	@command -v $(PYTHON) >/dev/null || { echo "Saltus needs $(PYTHON); set PYTHON=... to name another (3.11 or later)."; exit 1; }
	@$(PYTHON) -m venv $(VENV) 2>/dev/null || { rm -rf $(VENV); \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then apt-get -qq update && apt-get -qq install -y python3-venv && $(PYTHON) -m venv $(VENV); \
	  else echo "Python's venv module is missing: run 'apt install python3-venv' and try again."; exit 1; fi; }

$(READY): pyproject.toml constraints.txt | $(VENV)/bin/python
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --constraint constraints.txt --editable .
	@touch $@

$(TEST_READY): $(READY)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --constraint constraints.txt --requirement requirements-test.txt
	@touch $@
