"""How a command is run in tests."""

import sys
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from hullcheck.cli.main import run as run_command_line


@dataclass(frozen=True)
class Done:
    """What a command left behind."""

    returncode: int
    stdout: str
    stderr: str


@pytest.fixture
def hullcheck(tmp_path, monkeypatch, capsys) -> Callable[..., Done]:
    """Run the command line as its console script does, in an empty folder."""
    monkeypatch.chdir(tmp_path)

    def run(*arguments: str) -> Done:
        monkeypatch.setattr(sys, "argv", ["hullcheck", *arguments])
        capsys.readouterr()
        with pytest.raises(SystemExit) as stopped:
            run_command_line()
        printed = capsys.readouterr()
        code = stopped.value.code
        return Done(code if isinstance(code, int) else 0, printed.out, printed.err)

    return run
