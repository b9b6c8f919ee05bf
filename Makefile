# Two commands do everything: `make demo` and `make test`.
PYTHON ?= python3
BIN := .venv/bin
DEV := .venv/.dev
RUN := .venv/.run
# Twice: errors of the installer are shown, its warnings (a newer release, an index out of reach) not.
QUIET := --quiet --quiet --disable-pip-version-check

.PHONY: demo test quick check lint types contracts reach pytest mutants package fuzz long docs messages bench requirements clean

demo: $(RUN)
	$(BIN)/hoopwright check demo/high-valley.toml
	mkdir -p demo/out
	$(BIN)/hoopwright sheet demo/high-valley.toml --out demo/out/high-valley.pdf
	$(BIN)/hoopwright sheet demo/high-valley.toml --form card --out demo/out/high-valley-card.pdf
	$(BIN)/hoopwright draw demo/high-valley.toml --out demo/out/drawings
	@echo "Card: demo/out/high-valley-card.pdf   book: demo/out/high-valley.pdf   drawings: demo/out/drawings"

test: check
# Types and what is reached are looked at beside the tests, for each of them keeps to one core.
check: lint contracts
	$(MAKE) --no-print-directory --jobs=2 types reach pytest

lint: $(DEV)
	$(BIN)/ruff check src tests bench tools
	$(BIN)/ruff format --check src tests bench tools
types: $(DEV)
	$(BIN)/mypy
contracts: $(DEV)
	$(BIN)/lint-imports
# What no command, page or public name reaches is named here, and goes.
reach: $(DEV)
	$(BIN)/python tools/reach.py --hold
# A file's tests stay with one worker, which makes what they share once; the long files come first.
SHARED := -n auto --dist loadfile --no-loadscope-reorder
pytest: $(DEV)
	$(BIN)/python -m pytest $(SHARED)

# The inner loop: the rooms' own tests of numbers and words, in well under a minute.
QUICK := answers bed caching checks cover cutting design holding hoop loads materials plan season site store tables tools units writing
quick: lint contracts
	$(BIN)/python -m pytest $(SHARED) -m "not slow" $(wildcard $(addprefix tests/,$(QUICK)))

# Share of spoilt formulas that a test notices; about an hour. For some of it, say
# `.venv/bin/python tools/mutants.py holding --sample 100`.
mutants: $(DEV)
	$(BIN)/python tools/mutants.py

# The repeated tests, of kills and of hostile uploads, at their whole length; some ten minutes.
long: $(DEV)
	HOOPWRIGHT_LONG=1 $(BIN)/python -m pytest $(SHARED) $(shell grep -rl --include="*.py" "import turns" tests)

# A wheel and an sdist, and the wheel at work in a clean environment outside the tree.
package: $(DEV)
	$(BIN)/python tools/package.py

# Hostile inputs to every reader; ends after half an hour. `make test` runs a short round.
fuzz: $(DEV)
	$(BIN)/python tools/fuzz.py --minutes 25

docs: $(DEV)
	$(BIN)/python docs/generate.py

# Gathers the words of the card and the labels into every language's catalogue and compiles it.
messages: $(DEV)
	$(BIN)/python tools/messages.py

bench: $(DEV)
	$(BIN)/python -m bench

# The hashes are the pin; the project itself goes in without its dependencies.
# Its modules are compiled here, as an installer does: where Python may write no byte code
# (PYTHONDONTWRITEBYTECODE) each start would compile them anew, a fifth of the time of a `check`.
INSTALL_ITSELF = $(BIN)/python -m pip install $(QUIET) --no-deps --no-build-isolation --editable . \
	&& $(BIN)/python -m compileall -q src
.venv/bin/python:
	$(PYTHON) -m venv .venv
$(RUN): requirements/runtime.txt pyproject.toml | .venv/bin/python
	test -f $(DEV) || $(BIN)/python -m pip install $(QUIET) --require-hashes -r requirements/runtime.txt
	test -f $(DEV) || $(BIN)/python -m pip install $(QUIET) --require-hashes -r requirements/build.txt
	$(INSTALL_ITSELF)
	touch $@
$(DEV): requirements/dev.txt pyproject.toml | .venv/bin/python
	$(BIN)/python -m pip install $(QUIET) --require-hashes -r requirements/dev.txt
	$(INSTALL_ITSELF)
	touch $@

# Needs uv; writes hashes and no registry address.
UV_COMPILE := uv pip compile pyproject.toml --generate-hashes --universal --python-version 3.11 --no-emit-index-url --no-annotate --quiet --no-header
requirements:
	$(UV_COMPILE) --output-file requirements/runtime.txt
	$(UV_COMPILE) --group dev --output-file requirements/dev.txt
	printf "hatchling\neditables\n" | uv pip compile - --constraint requirements/dev.txt --generate-hashes --universal --python-version 3.11 --no-emit-index-url --no-annotate --quiet --no-header --output-file requirements/build.txt

clean:
	rm -rf .venv demo/out
