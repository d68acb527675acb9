"""A command run at a pseudo-terminal: questions are waited for and answered."""

import os
import select
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PATIENCE_S = 30.0


def at_a_terminal(folder, arguments, talk):
    """Run hullcheck at a terminal and answer it; return its exit code and all that was on it.

    Parameters
    ----------
    folder : path
        Where it runs.
    arguments : sequence of str
        Its arguments.
    talk : sequence of (str, str)
        A piece of each question, in order, and what to type.
    """
    import pty

    ours, theirs = pty.openpty()
    paths = [str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])]
    with subprocess.Popen(
        [sys.executable, "-m", "hullcheck", *arguments],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        cwd=folder,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(paths), "TERM": "dumb"},
    ) as process:
        os.close(theirs)
        try:
            shown, code = _talk(ours, process, talk)
        finally:
            process.kill()
            os.close(ours)
    return code, shown.replace("\r\n", "\n")


def _talk(ours, process, talk):
    """Answer each question as it comes; return what was shown and the exit code."""
    shown, answered, waiting = "", 0, list(talk)
    until = time.monotonic() + PATIENCE_S
    while True:
        if time.monotonic() > until:
            raise TimeoutError(f"waiting for {waiting[:1]} after:\n{shown}")
        if select.select([ours], [], [], 0.2)[0]:
            try:
                data = os.read(ours, 4096)
            except OSError:  # how Linux says that the other end is closed
                data = b""
            if not data:
                break
            shown += data.decode()
        elif process.poll() is not None:
            break
        if waiting and waiting[0][0] in shown[answered:] and shown.endswith(" "):
            answered = len(shown)
            os.write(ours, (waiting.pop(0)[1] + "\n").encode())
    assert not waiting, f"never asked: {waiting}\n{shown}"
    return shown, process.wait(timeout=PATIENCE_S)
