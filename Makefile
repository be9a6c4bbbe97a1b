# Yardloop: `make run` starts the product on a bare machine, `make test` tries all of it.
# Needed: Python 3.11 or later, Node 20.19 or later, make. Chromium for the tests only.

SHELL := bash
PYTHON ?= python3
PY := .venv/bin/python
# npm 10 cannot install the build tool: fetch an npm 11 for this one use then.
NPM = $(shell n=$$(npm --version 2>/dev/null); if [ "$${n%%.*}" -ge 11 ] 2>/dev/null; then echo npm; else echo npx --yes npm@11; fi)
UV_SYNC = .venv/bin/uv pip sync -q --require-hashes --python $(PY)
UV_LOCK = .venv/bin/uv pip compile -q --universal --python-version 3.11 --generate-hashes \
	--no-annotate --custom-compile-command "make lock" pyproject.toml
CHROMIUM ?= $(shell command -v chromium || command -v chromium-browser || command -v google-chrome)
PYTEST_ARGS ?= -n 2 --dist loadgroup
FRONTEND_SOURCES = $(shell find frontend \( -name node_modules -o -name dist \) -prune -o -type f -print 2>/dev/null)

.PHONY: run demo-day test pytest vitest check bench sim coverage journey longest lock clean chromium tools

## run: the product in the foreground; Ctrl-C stops all of it
run: .venv/.run-ok frontend/node_modules/.built
	exec $(PY) -m pickups.config.supervisor

## demo-day: one working day of the demo against the running product; MINUTES=4
demo-day: .venv/.run-ok
	$(PY) manage.py demo_day --minutes $(or $(MINUTES),4)

## test: everything, the browser journeys included
test: chromium pytest vitest

pytest: .venv/.ok frontend/node_modules/.built chromium
	CHROMIUM="$(CHROMIUM)" $(PY) -m pytest $(PYTEST_ARGS)

vitest: frontend/node_modules/.ok
	cd frontend && $(NPM) test

## check: style, types, import laws, migrations and schema current; no tests
check: .venv/.ok frontend/node_modules/.ok
	.venv/bin/ruff check .
	.venv/bin/ruff format --check .
	.venv/bin/mypy
	.venv/bin/lint-imports
	$(PY) -W ignore::RuntimeWarning manage.py makemigrations --check --dry-run
	$(PY) manage.py spectacular --validate --fail-on-warn --file /dev/null
	$(PY) manage.py wire_types --check
	cd frontend && $(NPM) run check

## bench, sim, journey, longest: figures, faults, a real browser, the slowest tests
bench: .venv/.ok frontend/node_modules/.built frontend/tests/bench/peer/node_modules/.ok
	$(PY) -m pytest tests/bench -n 0 -s

# The peer of the replication bench: only here, so that nobody else has to fetch it.
frontend/tests/bench/peer/node_modules/.ok: frontend/tests/bench/peer/package-lock.json
	cd frontend/tests/bench/peer && $(NPM) ci --no-audit --no-fund --ignore-scripts
	@touch $@

# Of sim: SCHEDULES=1000 MINUTES=60 (finished seeds are kept in .var/sim), SEED=7, REPLAY=file,
# AT_ONCE=2 PHONES=8 OPERATIONS=200; without SEED or REPLAY also BROWSERS=20 runs in Chromium.
sim: .venv/.ok frontend/node_modules/.built $(if $(SEED)$(REPLAY),,chromium)
	$(PY) -m tests.sim
	$(if $(SEED)$(REPLAY),,CHROMIUM="$(CHROMIUM)" BROWSERS=$(or $(BROWSERS),20) $(PY) -m pytest tests/sim/test_browser.py -n 0 -s)

# What promises are worth, on four simulated plants: .var/coverage.md and .json. Eight minutes;
# REGIME=calm WEEKS=6 for less.
coverage: .venv/.ok
	$(PY) -m tests.plant.forecast.evidence

journey: .venv/.ok frontend/node_modules/.built chromium
	CHROMIUM="$(CHROMIUM)" $(PY) -m pytest tests/journeys -n 0

longest: .venv/.ok frontend/node_modules/.built chromium
	CHROMIUM="$(CHROMIUM)" $(PY) -m pytest --durations=25 $(PYTEST_ARGS)

## lock: compile the lock files anew from pyproject.toml
lock: .venv/.ok
	$(UV_LOCK) -o requirements.txt
	$(UV_LOCK) --group dev -o requirements-dev.txt

## clean: what was made, never the data under .var
clean:
	rm -rf .venv frontend/node_modules frontend/dist .mypy_cache .ruff_cache .pytest_cache \
		.import_linter_cache .hypothesis test-results

chromium:
	@test -n "$(CHROMIUM)" && test -x "$(CHROMIUM)" || { \
		echo "The tests need Chromium, and none is found here. Run one of:"; \
		echo "    apt-get install -y chromium"; \
		echo "    make test CHROMIUM=/path/to/chromium"; \
		exit 1; }

.venv/bin/uv: requirements-dev.txt
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { \
		echo "Python 3.11 or later is needed; name it: make run PYTHON=python3.11"; exit 1; }
	test -x $(PY) || $(PYTHON) -m venv .venv
	$(PY) -m pip install -q --disable-pip-version-check "$$(grep -o '^uv==[0-9.]*' requirements-dev.txt)"
	@touch $@

.venv/.ok: requirements-dev.txt | .venv/bin/uv
	$(UV_SYNC) requirements-dev.txt
	@touch $@ .venv/.run-ok .venv/bin/uv

# A machine that already has what the tests need has what running needs.
.venv/.run-ok: requirements.txt | .venv/bin/uv
	if test -e .venv/.ok; then $(MAKE) .venv/.ok; else $(UV_SYNC) requirements.txt; fi
	@touch $@

frontend/node_modules/.ok: frontend/package-lock.json frontend/package.json
	@node -e 'const [a, b] = process.versions.node.split(".").map(Number); process.exit(a > 20 || (a === 20 && b >= 19) ? 0 : 1)' || { \
		echo "Node 20.19 or later is needed; this machine has $$(node --version 2>/dev/null || echo none)"; exit 1; }
	cd frontend && $(NPM) ci --no-audit --no-fund
	@touch $@

frontend/node_modules/.built: frontend/node_modules/.ok $(FRONTEND_SOURCES) | .venv/bin/uv
	cd frontend && $(NPM) run build
	$(PY) -m whitenoise.compress -q frontend/dist
	@touch $@
