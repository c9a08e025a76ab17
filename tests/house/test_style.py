"""Style, types and import contracts, so that one command holds everything."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
COMMANDS = {
    "format": ["ruff", "format", "--check", "."],
    "lint": ["ruff", "check", "."],
    "types": ["mypy", "core", "plugins", "tests"],
    "walls": ["lint-imports"],
}


@pytest.mark.parametrize("name", COMMANDS)
def test_the_code_is_clean(name: str) -> None:
    command, *rest = COMMANDS[name]
    path = shutil.which(command, path=str(Path(sys.executable).parent)) or shutil.which(command)
    assert path, f"{command} is not installed: pip install -e '.[dev]'"
    done = subprocess.run([path, *rest], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
