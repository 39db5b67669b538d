# The two commands: `make demo` and `make test`. All else is for those who build it.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: demo test check lint page chromium validation cases bench docs lock clean

demo: $(VENV)/.core
	$(BIN)/noonmark demo --out build/demo

test: check

check: lint page chromium
	$(BIN)/python -m pytest -m "not validation"
	$(BIN)/python -m pytest -m validation

lint: $(VENV)/.dev
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/python page/build.py lint

# The page is built by the installation; this builds it again where its sources have changed.
page: $(VENV)/.dev
	$(BIN)/python page/build.py

# The browser that the tests of the page drive, from Debian's own packages; without it they are skipped.
chromium:
	@tools=$$(command -v chromium || command -v chromium-browser || command -v google-chrome); \
	if [ -n "$$tools" ]; then exit 0; fi; \
	as=$$([ "$$(id -u)" = 0 ] || echo "sudo -n"); \
	if command -v apt-get >/dev/null && $$as true 2>/dev/null && $$as apt-get update -qq && \
	  $$as env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium >/dev/null; \
	then :; else echo "SKIPPED: no chromium and no way to install it; tests/browser will not run"; fi

validation: $(VENV)/.dev
	$(BIN)/python -m pytest -m validation

# The table of the published cases in docs/validation.md; needs the Denver year, see there.
cases: validation
	$(BIN)/python tests/case_table.py build/validation.json docs/validation.md

bench: $(VENV)/.dev
	mkdir -p build
	$(BIN)/python -m pytest bench -q --benchmark-json build/bench-raw.json > build/bench.log
	$(BIN)/python -m bench.summary build/bench-raw.json build/bench.json

docs: $(VENV)/.dev
	$(BIN)/python -m noonmark.study.schema docs/result-tree.md
	$(BIN)/python -m noonmark.design.schema docs/design-file.md

# Lock files name versions and hashes, no registry. Needs network.
lock: $(VENV)/.dev
	$(BIN)/uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url \
	  --no-header pyproject.toml -o requirements.txt
	$(BIN)/uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url \
	  --no-header pyproject.toml --group dev -c requirements.txt -o requirements-dev.txt

$(VENV)/bin/python:
	$(PYTHON) -c "import sys; sys.exit('noonmark needs Python 3.11 or newer; set PYTHON=' if sys.version_info < (3, 11) else 0)"
	$(PYTHON) -m venv $(VENV)

$(VENV)/.core: requirements.txt pyproject.toml | $(VENV)/bin/python
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.txt
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps -e .
	touch $@

$(VENV)/.dev: requirements-dev.txt $(VENV)/.core
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements-dev.txt
	touch $@

clean:
	rm -rf build dist
