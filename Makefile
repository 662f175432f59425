# demo and test are all a newcomer needs; both set the machine up first.
PYTHON ?= python3
BIN := .venv/bin
READY := .venv/.ready

.PHONY: demo test check bench samples lock clean

demo: $(READY)
	$(BIN)/spokenfor demo --out out/demo

test: $(READY)
	$(BIN)/python -m pytest -n 2 --dist loadfile --no-loadscope-reorder

check: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

bench: $(READY)
	$(BIN)/python -m pytest tests/bench -q -s -o addopts="--import-mode=importlib"

# Rebuilds the bundled sound from its scripts (needs Debian's espeak-ng and flite).
samples: $(READY)
	$(BIN)/python audio_samples/build.py

lock:
	$(PYTHON) -m piptools compile -q --extra dev --generate-hashes --allow-unsafe --strip-extras \
	  --no-emit-index-url --no-emit-find-links --no-emit-trusted-host --no-annotate --no-header \
	  -o requirements.lock pyproject.toml

$(READY): requirements.lock pyproject.toml
	$(PYTHON) -m venv .venv
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation --editable .
	touch $(READY)

clean:
	rm -rf .venv out dist build
