# Two commands do everything, set-up included: `make demo` and `make test`. `make help` lists the rest.
# They need make and Python 3.11 to 3.14; another than python3 is named so: make test PYTHON=python3.13

PYTHON ?= python3
VENV := .venv
PY := $(VENV)/bin/python
# Stamps, each written last: an install that was killed has none, and is begun again from nothing.
LOCKED := $(VENV)/locked
INSTALLED := $(VENV)/installed
PIP_INSTALL := -m pip --disable-pip-version-check --no-input --quiet install

CODE := src tests $(wildcard benchmarks/*.py docs/*.py)
BENCHMARKS := $(filter-out %/__init__.py,$(wildcard benchmarks/*.py))

.DEFAULT_GOAL := help
.PHONY: demo test lint sweep bench picture screens setup lock clean help
# Under -j too, goals are made in the order they are given: `make -j clean test` does both.
.NOTPARALLEL:

# Debian's python3 comes without what makes environments. Root gets it; anybody else is told how.
define make_environment
@$(PYTHON) -c 'import sys; sys.exit(not (3, 11) <= sys.version_info < (3, 15))' || { \
    echo 'This needs Python 3.11 to 3.14, and "$(PYTHON)" is not one.' \
        'Install one and name it, for example: make $(MAKECMDGOALS) PYTHON=python3.13' >&2; \
    exit 1; }
@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || { \
    package=$$($(PYTHON) -c 'import sys; print("python%d.%d-venv" % sys.version_info[:2])'); \
    if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
        apt-get -qq update && DEBIAN_FRONTEND=noninteractive apt-get -qq install -y "$$package" </dev/null; \
    fi; \
    $(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || { \
        echo '"$(PYTHON)" cannot make environments: it lacks the modules venv or ensurepip.' \
            "On Debian install them with: sudo apt-get install $$package" \
            'Then run make again.' >&2; \
        exit 1; }; }
rm -rf $(1)
$(PYTHON) -m venv $(1)
endef

# The tests of the page need a browser. Root gets Debian's; anybody else is told how.
define find_browser
@command -v chromium >/dev/null || { \
    if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
        apt-get -qq update && DEBIAN_FRONTEND=noninteractive apt-get -qq install -y chromium </dev/null; \
    fi; \
    command -v chromium >/dev/null || { \
        echo 'The tests of the page need the browser Chromium, as "chromium" on the path.' \
            'On Debian install it with: sudo apt-get install chromium' \
            'Then run make again.' >&2; \
        exit 1; }; }
endef

demo: $(INSTALLED) ## build the packet of the demo job into build/demo
	$(PY) -m leafwright.cli packet examples/boathouse.toml --out build/demo

test: lint ## lint, types and tests
	$(find_browser)
	$(PY) -m pytest -n auto --dist worksteal

# mypy is strict by pyproject.toml.
lint: $(INSTALLED) ## lint, formatting and types
	$(PY) -m ruff check .
	$(PY) -m ruff format --check .
	$(PY) -m mypy $(CODE)

sweep: $(INSTALLED) ## the tests with many more random cases (long)
	$(find_browser)
	LEAFWRIGHT_SWEEP=1 $(PY) -m pytest -n auto --dist worksteal

bench: $(INSTALLED) ## run every benchmark
	@set -e; for file in $(BENCHMARKS); do echo "== $$file"; $(PY) "$$file"; done

picture: $(INSTALLED) ## draw the README's picture anew
	$(PY) docs/make_picture.py

screens: $(INSTALLED) ## take the README's pictures of the page anew
	$(find_browser)
	$(PY) docs/make_screens.py

setup: $(INSTALLED) ## only set up .venv

# uv comes from its own environment, so that a lock that cannot be installed can be remade.
lock: ## remake requirements.txt from pyproject.toml (LOCK_FLAGS=--upgrade for newer releases)
	$(call make_environment,build/lock)
	build/lock/bin/python $(PIP_INSTALL) --only-binary :all: 'uv>=0.13'
	UV_CUSTOM_COMPILE_COMMAND='make lock' build/lock/bin/python -m uv pip compile pyproject.toml \
	    --group dev --universal --python-version 3.11 --fork-strategy fewest --only-binary :all: \
	    --generate-hashes --no-emit-index-url --no-emit-find-links --system-certs --quiet \
	    $(LOCK_FLAGS) --output-file requirements.txt

clean: ## remove everything that make made
	rm -rf $(VENV) build src/*.egg-info .hypothesis .mypy_cache .pytest_cache .ruff_cache
	find . -name __pycache__ -prune -exec rm -rf {} +

help: ## list the targets
	@awk -F ':.*## ' '/^[a-z]+:.*## / { printf "make %-8s %s\n", $$1, $$2 }' Makefile

# Anew when the lock changes, so that the environment holds what the lock names and nothing else.
$(LOCKED): requirements.txt
	@echo 'Setting up $(VENV): a minute or two, once.'
	$(call make_environment,$(VENV))
	$(PY) $(PIP_INSTALL) --require-hashes --only-binary :all: --requirement requirements.txt
	@touch $@

# What a killed install of this project left would stop pip, so it goes first.
$(INSTALLED): $(LOCKED) pyproject.toml
	rm -rf $(VENV)/lib/python*/site-packages/leafwright-*.dist-info
	$(PY) $(PIP_INSTALL) --no-deps --no-build-isolation --editable .
	$(PY) -m pip --disable-pip-version-check check
	@touch $@
