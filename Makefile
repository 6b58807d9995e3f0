# make demo    a made-up unit through the whole program, and a made-up shop to open in a browser
# make test    everything that must hold: style, layers, types, tests
# make bench   every figure of the documents: accuracy on made armatures, speed, kills (hours)
# make serve   the bench in a browser
# make docs    the documents as a site, in build/site
# make lock    pin the requirements anew
# make clean   remove what make made

VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/pip --disable-pip-version-check --quiet
DEMO := build/demo

# Two cores share the work better when NumPy does not start threads of its own.
export OPENBLAS_NUM_THREADS ?= 1
# The tests start Python some two hundred times: it keeps what it compiled, whatever the surroundings say.
unexport PYTHONDONTWRITEBYTECODE

.DEFAULT_GOAL := help
.PHONY: help demo test lint layers types unit ngspice chromium bench serve docs lock clean

help:
	@sed -n 's/^# \(make .*\)/\1/p' Makefile

demo: $(VENV)/.runtime
	@mkdir -p $(DEMO)
	@echo "An invented armature: examples/demo/winding.toml with examples/demo/readings.csv"
	@echo
	@$(BIN)/barwise armature examples/demo/winding.toml examples/demo/readings.csv \
		--picture $(DEMO)/armature.svg
	@echo
	@echo "Picture: $(DEMO)/armature.svg"
	@echo
	@echo "Its commutator, as invented: examples/demo/commutator.toml with examples/demo/profile.csv"
	@echo
	@$(BIN)/barwise commutator examples/demo/commutator.toml examples/demo/profile.csv \
		--picture $(DEMO)/commutator.svg
	@echo
	@echo "Picture: $(DEMO)/commutator.svg"
	@echo
	@echo "After the second pass: 1.2373 in, bars 14 and 40 to 48 still show old metal"
	@echo
	@$(BIN)/barwise commutator examples/demo/commutator.toml examples/demo/profile.csv \
		--cut-to 1.2373 --untouched 14,40,41,42,43,44,45,46,47,48 | sed -n '1,/^What was found/p' | sed '$$d'
	@echo "After the last pass: 1.2362 in, all clean"
	@echo
	@$(BIN)/barwise commutator examples/demo/commutator.toml examples/demo/profile.csv \
		--cut-to 1.2362 --untouched none | sed -n '1,/^What was found/p' | sed '$$d'
	@$(BIN)/barwise limit 1.2362 in --lower 1.226
	@echo
	@rm -rf $(DEMO)/shop
	@$(BIN)/barwise demo --data $(DEMO)/shop > $(DEMO)/shop.txt
	@cat $(DEMO)/shop.txt
	@echo
	@echo "What the customer takes home of the last job, and what hung on its unit:"
	@echo
	@number=$$(sed -n 's/^ *job \([^:]*\):.*/\1/p' $(DEMO)/shop.txt | tail -n 1) && \
		$(BIN)/barwise print record "$$number" --data $(DEMO)/shop -o $(DEMO)/record.pdf && \
		$(BIN)/barwise print label "$$number" --data $(DEMO)/shop -o $(DEMO)/label.pdf
	@echo
	@echo "Whether it is what was signed when the job was closed:"
	@echo
	@$(BIN)/barwise verify $(DEMO)/record.pdf
	@echo
	@echo "From here: BARWISE_DATA=$(DEMO)/shop make serve"

test: lint layers types unit

lint: $(VENV)/.dev
	$(BIN)/ruff check .

layers: $(VENV)/.dev
	$(BIN)/lint-imports --no-logo

types: $(VENV)/.dev
	$(BIN)/mypy

# Files are begun in the order of tests/conftest.py, the longest first, not by how many tests they hold.
unit: $(VENV)/.dev ngspice chromium
	$(BIN)/pytest --numprocesses 2 --dist loadfile --no-loadscope-reorder $(PYTEST_ARGS)

# The cross-checks run the same armatures through a circuit simulator. Without it they are skipped,
# unless skips are forbidden (BARWISE_NO_SKIPS=1).
ngspice:
	@command -v ngspice >/dev/null || scripts/install-debian.sh ngspice || \
		echo "Going on without ngspice: its cross-checks are skipped."

# The screens are tried in a real browser; the same holds for it.
chromium:
	@command -v chromium >/dev/null || scripts/install-debian.sh chromium || \
		echo "Going on without chromium: the tests in a browser are skipped."

bench: $(VENV)/.dev ngspice
	$(BIN)/python -m benchmarks

docs: $(VENV)/.dev
	$(BIN)/mkdocs build --strict --quiet
	@echo "Open build/site/index.html"

serve: $(VENV)/.runtime
	@$(BIN)/barwise serve $(SERVE_ARGS)

lock:
	scripts/lock.sh

clean:
	rm -rf $(VENV) build .mypy_cache .pytest_cache .ruff_cache .import_linter_cache .hypothesis
	rm -rf src/barwise.egg-info
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

# ----------------------------------------------------------------------------------------------------
# The environment. A stamp is newer than what it was made from, so a second run starts at once.

$(VENV)/.made:
	scripts/make-venv.sh $(VENV)
	@touch $@

$(VENV)/.package: requirements/build.txt pyproject.toml $(VENV)/.made
	$(PIP) install --require-hashes -r requirements/build.txt
	$(PIP) install --no-deps --no-build-isolation --editable .
	@touch $@

$(VENV)/.runtime: requirements/runtime.txt $(VENV)/.package
	$(PIP) install --require-hashes -r requirements/runtime.txt
	@touch $@

$(VENV)/.dev: requirements/dev.txt $(VENV)/.package
	$(PIP) install --require-hashes -r requirements/dev.txt
	@touch $@ $(VENV)/.runtime
