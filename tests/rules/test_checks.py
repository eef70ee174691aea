"""The whole package passes its linter and its type check."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def run_module(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, check=False)


@pytest.mark.slow
@pytest.mark.parametrize(
    "words", [("ruff", "check", "."), ("ruff", "format", "--check", ".")], ids=lambda words: words[1]
)
def test_style(words):
    done = run_module(*words)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.slow
def test_types():
    done = run_module("mypy")
    assert done.returncode == 0, done.stdout + done.stderr
