# Every job lives in tools/setup.py, so that Windows (docs/windows.md) does the very same thing without make.
PYTHON ?= python3
ARGS ?=

.PHONY: help install demo test check bench checks manual lock clean

help:
	@$(PYTHON) tools/setup.py || true

install demo test check bench checks manual lock clean:
	@$(PYTHON) tools/setup.py $@ $(ARGS)
