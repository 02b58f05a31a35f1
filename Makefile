# Everything a checkout needs: `make demo` shows the program at work, `make test` checks all of it.
# Set-up (system packages, .venv) is in tools/setup.sh; all that is made goes to .venv/ and build/.
# Paths in rules are relative, because make cannot handle a space in a target's name.

SHELL := bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
.NOTPARALLEL:
MAKEFLAGS += --no-print-directory

# One compiler for the wheel and the sanitizers: $CXX, else the first of CMake's own list.
ifeq ($(origin CXX),default)
CXX := $(or $(shell for c in c++ g++ clang++; do command -v $$c && break; done),c++)
endif
export CXX

JOBS ?= $(shell nproc 2>/dev/null || getconf _NPROCESSORS_ONLN)
BEGAN := $(shell date +%s)
PY := .venv/bin/python

# Nothing of the user's Python set-up may leak in.
unexport PYTHONPATH PYTHONHOME PIP_TARGET PIP_PREFIX PIP_REQUIRE_VIRTUALENV
export PYTHONNOUSERSITE := 1
export PIP_USER := 0
export PIP_NO_INPUT := 1
export PIP_DISABLE_PIP_VERSION_CHECK := 1

# The caches of the tools stay inside the checkout; pictures need no screen.
export MPLBACKEND := Agg
export MPLCONFIGDIR := $(CURDIR)/build/home/matplotlib
export IPYTHONDIR := $(CURDIR)/build/home/ipython
export JUPYTER_CONFIG_DIR := $(CURDIR)/build/home/jupyter-config
export JUPYTER_DATA_DIR := $(CURDIR)/build/home/jupyter-data
export HYPOTHESIS_STORAGE_DIRECTORY := $(CURDIR)/build/home/hypothesis

export CMAKE_BUILD_PARALLEL_LEVEL := $(JOBS)
export CTEST_PARALLEL_LEVEL := $(JOBS)
export CMAKE_GENERATOR := Ninja
export CMAKE_EXPORT_COMPILE_COMMANDS := ON
export UBSAN_OPTIONS ?= print_stacktrace=1:halt_on_error=1

# ccache where there is one that can keep its files (not with an unwritable home); asked in each recipe,
# because tools/setup.sh may just have installed it.
ifeq ($(origin CMAKE_CXX_COMPILER_LAUNCHER),undefined)
export CMAKE_CXX_COMPILER_LAUNCHER = $(shell d=$$(ccache -k cache_dir 2>/dev/null) && mkdir -p "$$d" 2>/dev/null && test -w "$$d" && echo ccache)
endif
export CCACHE_SLOPPINESS ?= pch_defines,time_macros
export CCACHE_BASEDIR ?= $(CURDIR)

# cmake, ctest and ninja are the ones in .venv; CMake is to see one path, whatever links led here.
in_venv := cd -P .; export VIRTUAL_ENV="$(CURDIR)/.venv" PATH="$(CURDIR)/.venv/bin:$$PATH";
# Some kernels randomise addresses so widely that AddressSanitizer cannot start; off where that is allowed.
steady := $(shell setarch "$$(uname -m)" -R true 2>/dev/null && echo 'setarch "$$(uname -m)" -R')

define heading
@printf '\n== %s\n' '$(1)'
endef

# One CMake tree serves the wheel, the C++ tests and the benchmarks: $(call package,OPTION=VALUE ...).
# Shown is how far ninja is (tools/progress.awk); the rest is in build/package.log, its end printed when something fails.
# FITWRIGHT_WERROR is left as it is by `make demo`: off on a fresh machine, where a newer compiler may
# warn about something new, and kept once `make test` has set it, so that nothing compiles twice.
define package
$(call heading,building and installing the package ($(JOBS) jobs$(comma) minutes the first time))
@mkdir -p build; $(in_venv) $(PY) -m pip install -v --no-build-isolation \
	--config-settings=build-dir=build/release $(addprefix --config-settings=cmake.define.,$(1)) . 2>&1 \
	| tee build/package.log | awk -v terminal="$$(test -t 2 && echo 1)" -f tools/progress.awk \
	|| { tools/cause.sh <build/package.log || { tail -n 100 build/package.log; \
		echo 'Build failed; all of its output: build/package.log'; }; exit 1; } >&2
endef
comma := ,

.PHONY: help
help:
	@echo 'make demo    set up, build, run the demo job: findings, picture, build sheet in build/demo'
	@echo 'make test    all tests: C++ (each vector level), sanitizers, Python, README, notebooks'
	@echo 'make wheel   a wheel for machines without a compiler, in build/wheel, and tried on one'
	@echo 'make bits    the same bits on every compiler, level and processor that can be had here'
	@echo 'make docs    the manual: build/docs/index.html, and as one zip'
	@echo 'make hunt    a long search for broken bounds of the clamp'
	@echo 'make lint    formatting, types and static checks'
	@echo 'make bench   speed of the models and of the study, beside plain yardsticks'
	@echo 'make hard    the attack, long: CASES=... SEED=... (an hour); make test-threads  races'
	@echo 'make clean   remove build/      make distclean   remove .venv/ as well'
	@echo 'Parts of make test: test-cpp test-sanitize test-python test-install'
	@echo 'Settings: PYTHON=... CXX=... JOBS=N'

.PHONY: demo
demo:
	@tools/setup.sh build
	$(call package,FITWRIGHT_TESTS=OFF FITWRIGHT_BENCH=OFF)
	@$(PY) -m fitwright demo --out build/demo

.PHONY: package-for-tests test test-cpp test-sanitize test-python test-install
package-for-tests:
	@tools/setup.sh build test
	$(call package,FITWRIGHT_TESTS=ON FITWRIGHT_BENCH=OFF FITWRIGHT_WERROR=ON)

test-cpp: package-for-tests
	$(call heading,C++ tests at each vector level$(comma) level gate$(comma) consumer)
	@$(in_venv) cmake --workflow --preset release
	$(call heading,the same bits at each level$(comma) and without FMA and AVX2 in libm)
	@$(in_venv) $(PY) tools/bits.py release glibc

# A long search for states in which a bound of the clamp is broken: make hunt STATES=1000000 CLIMBS=200.
STATES ?= 1000000
CLIMBS ?= 100
.PHONY: hunt
hunt: package-for-tests
	$(call heading,$(STATES) random states$(comma) $(CLIMBS) climbs)
	@FITWRIGHT_HUNT=$(STATES) FITWRIGHT_CLIMBS=$(CLIMBS) build/release/cpp/fitwright_tests '[hunt]'

test-sanitize: package-for-tests
	$(call heading,C++ tests under the address and undefined-behaviour sanitizers)
	@$(in_venv) $(steady) cmake --workflow --preset sanitize

test-python: package-for-tests
	$(call heading,Python tests$(comma) README$(comma) notebooks)
	@$(in_venv) $(PY) -m pytest -n $(JOBS) -o cache_dir=build/home/pytest --durations=12 --durations-min=5 tests/python tests/hard

# `pip install .` where there is nothing but a compiler and Python: its own build environment, nothing of
# .venv. With the warnings of the other builds and as deep a tree, so that ccache knows the sources of the core again.
test-install:
	@tools/setup.sh build test
	$(call heading,pip install into an empty virtual environment)
	@rm -rf build/empty build/install && $(PY) -m venv build/empty
	@env -u CMAKE_GENERATOR build/empty/bin/python -m pip install -q --config-settings=build-dir=build/install \
		--config-settings=cmake.define.FITWRIGHT_WERROR=ON .
	@cd build/empty && bin/python -c "import fitwright as fw; print(fw.demo('blower').evaluate().worst.path)"

# Each part tells what it cost: where others use the machine too, its clock tells little.
test:
	@TIMEFORMAT='processor time of this part: %U s'; for part in test-cpp test-sanitize test-python test-install; do \
		time $(MAKE) $$part; done
	@printf '\nAll tests passed (C++, sanitizers, Python, README, notebooks) in %d s.\n' $$(($$(date +%s) - $(BEGAN)))

# Studies, sweeps and all else that runs on threads, under the thread sanitizer (3.9 minutes of processor
# time to build, so not in `make test`).
.PHONY: test-threads
test-threads:
	@tools/setup.sh build test
	$(call heading,C++ tests of what runs on threads$(comma) under the thread sanitizer)
	@$(in_venv) cmake --preset threads
	@$(in_venv) cmake --build build/threads --target fitwright_tests
	@$(in_venv) TSAN_OPTIONS=halt_on_error=1 $(steady) build/threads/cpp/fitwright_tests "[parallel],[threads],[study]"

# The attack, long: CASES of each kind, any SEED; the same with the core under the address and
# undefined-behaviour sanitizers; and the faults at many more moments.
CASES ?= 100000
SEED ?= $(BEGAN)
sanitized := build/hard/sanitized
.PHONY: hard
hard: package-for-tests
	$(call heading,the attack: $(CASES) cases of each kind$(comma) seed $(SEED))
	@$(in_venv) $(PY) tests/hard/attack.py --cases $(CASES) --seed $(SEED) --workers $(JOBS)
	$(call heading,the attack on a sanitized core)
	@$(in_venv) cmake --preset sanitize -DFITWRIGHT_PYTHON=ON -DPython_EXECUTABLE=$(CURDIR)/$(PY) \
		-Dpybind11_DIR="$$($(PY) -m pybind11 --cmakedir)"
	@$(in_venv) cmake --build build/sanitize --target _core fitwright_generated
	@rm -rf $(sanitized) && mkdir -p $(sanitized) && cp -a python/fitwright $(sanitized)/fitwright
	@cp build/sanitize/python/generated/* build/sanitize/python/_core*.so $(sanitized)/fitwright/
	@$(in_venv) PYTHONPATH=$(sanitized) ASAN_OPTIONS=detect_leaks=0 \
		LD_PRELOAD="$$($(CXX) -print-file-name=libasan.so):$$($(CXX) -print-file-name=libstdc++.so.6)" \
		$(steady) $(PY) tests/hard/attack.py --cases $$(($(CASES) / 20 + 1)) --seed $(SEED) \
		--workers $(JOBS) --memory 0
	$(call heading,faults at many moments)
	@$(in_venv) FITWRIGHT_HARD=long $(PY) -m pytest -n $(JOBS) -o cache_dir=build/home/pytest tests/hard

# A wheel for other machines (tools/wheel.sh), and the table of bits (tools/bits.py).
.PHONY: wheel bits
wheel:
	@tools/setup.sh build wheel
	$(call heading,a wheel$(comma) and the demo from it where there is no compiler)
	@tools/wheel.sh

bits: package-for-tests
	$(call heading,the same bits everywhere)
	@$(in_venv) $(PY) tools/bits.py

# The manual, and all of it in one file for a release.
.PHONY: docs
docs:
	@tools/setup.sh build docs
	$(call package)
	$(call heading,the manual)
	@$(in_venv) $(PY) -m sphinx -q -W --keep-going -d build/docs-trees docs build/docs
	@rm -f build/fitwright-manual.zip && cd build && ../$(PY) -m zipfile -c fitwright-manual.zip docs
	@echo 'build/docs/index.html; all of it in build/fitwright-manual.zip'

.PHONY: bench
bench:
	@tools/setup.sh build test
	$(call package,FITWRIGHT_TESTS=OFF FITWRIGHT_BENCH=ON)
	@build/release/cpp/fitwright_bench
	@$(PY) tests/benchmarks/bench.py
	@$(PY) tests/benchmarks/running_bench.py
	@$(PY) tests/benchmarks/study_bench.py
	$(call heading,what building costs)
	@$(PY) tools/build_figures.py

# Level files are compiled several times over; clang-tidy reads each source once.
define TIDY_DATABASE
import json, pathlib
commands = json.loads(pathlib.Path("build/release/compile_commands.json").read_text())
core = pathlib.Path("cpp/src").resolve()
once = {c["file"]: c for c in commands if core in pathlib.Path(c["file"]).parents}
pathlib.Path("build/lint").mkdir(exist_ok=True)
pathlib.Path("build/lint/compile_commands.json").write_text(json.dumps(list(once.values())))
if not once:
    raise SystemExit("clang-tidy: no file of cpp/src in the compile database")
print(*sorted(once), sep="\0", end="\0")
endef
export TIDY_DATABASE

.PHONY: lint
lint:
	@tools/setup.sh build lint
	$(call package,FITWRIGHT_TESTS=OFF FITWRIGHT_BENCH=OFF FITWRIGHT_WERROR=ON)
	$(call heading,ruff$(comma) mypy$(comma) clang-format$(comma) clang-tidy)
	@$(PY) -m ruff check --cache-dir build/home/ruff .
	@$(PY) -m ruff format --check --cache-dir build/home/ruff .
	@$(PY) -m mypy --strict --cache-dir build/home/mypy -p fitwright
	@$(in_venv) find cpp tests/cpp python/bindings '(' -name '*.cpp' -o -name '*.hpp' ')' -print0 | \
		xargs -0 -r clang-format --dry-run -Werror
	@$(in_venv) $(PY) -c "$$TIDY_DATABASE" | xargs -0 -n 1 -P $(JOBS) clang-tidy --quiet -p build/lint
	@printf '\nLint passed.\n'

.PHONY: clean distclean
clean:
	rm -rf build

distclean: clean
	rm -rf .venv
