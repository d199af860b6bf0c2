# Everything here sets itself up: .venv/ready says that .venv is as locked.

.PHONY: help demo serve test check bench docs evidence lock clean setup moved

help: ## list these targets
	@awk -F ':.*## ' '/^[a-z]+:.*## / { printf "  make %-8s %s\n", $$1, $$2 }' Makefile

demo: .venv/ready ## work out the demonstration slabs into out/
	.venv/bin/slabwright demo

serve: .venv/ready ## open the app in the browser's own tab, with the demo kitchen
	.venv/bin/slabwright serve --demo demo

test: .venv/ready .venv/tested-with ## run every test
	.venv/bin/pytest -n auto

check: .venv/ready ## format, lint, types and who may import whom
	.venv/bin/ruff format --check .
	.venv/bin/ruff check .
	.venv/bin/mypy
	.venv/bin/lint-imports

bench: .venv/ready .venv/tested-with ## measure how long things take
	.venv/bin/python -m benchmarks
	.venv/bin/python -m benchmarks.store

docs: .venv/ready ## write the pages' outputs, tables and picture anew
	.venv/bin/python -m tests.docs

evidence: .venv/ready ## hold the physics against every published row, into docs/evidence.md
	.venv/bin/python -m tests.docs.evidence

# Without any registry's address; keeps the versions that still fit, unless told
# to look for newer ones: make lock args=--upgrade
lock: .venv/ready ## write the lock files anew from pyproject.toml
	$(compile) --group setup -o requirements-setup.lock
	$(compile) pyproject.toml --group dev -o requirements.lock

compile = .venv/bin/uv pip compile --quiet --universal --python-version 3.11 \
  --generate-hashes --no-annotate --no-header $(args)

clean: ## remove results and caches; .venv stays
	rm -rf out dist .hypothesis .import_linter_cache .mypy_cache .pytest_cache .ruff_cache
	find src tests tools -name __pycache__ -prune -exec rm -rf {} +

setup: .venv/ready ## only set up

.venv/ready: pyproject.toml requirements-setup.lock requirements.lock tools/setup tools/needs.sh
	@tools/setup

# A browser and a database server, for the tests alone.
.venv/tested-with: .venv/ready tools/tested-with tools/needs.sh
	@tools/tested-with

# Nor does what the tests need outlast its removal.
ifneq ($(strip $(foreach path,$(file <.venv/tested-with),$(if $(wildcard $(path)),,gone))),)
.venv/tested-with: moved
endif

# An environment does not survive that its folder is moved.
ifneq ($(file <.venv/ready),$(CURDIR))
.venv/ready: moved
endif
