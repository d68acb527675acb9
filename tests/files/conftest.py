"""What the tests of the readers share: which files were opened, how much memory was taken."""

import contextlib
import sys
import tracemalloc

import pytest

_WATCHED = ("open", "os.listdir", "os.scandir", "socket.connect", "socket.getaddrinfo", "os.system")
_PROGRAM = (".py", ".pyc", ".so")
_recording: list[list[str]] = []
_hooked: list[bool] = []


def _record(event, arguments):
    """Record an opened file or address, but for the parts of Python itself."""
    if _recording and (event in _WATCHED or event.startswith("subprocess")):
        what = str(arguments[0]) if arguments else ""
        if not what.endswith(_PROGRAM):
            _recording[-1].append(f"{event} {what}")


@pytest.fixture
def opened_files():
    """Return a context that lists every file and address opened within it."""
    if not _hooked:
        # A hook cannot be taken away again; outside of the context it records nothing.
        sys.addaudithook(_record)
        _hooked.append(True)

    @contextlib.contextmanager
    def watching():
        opened = []
        _recording.append(opened)
        try:
            yield opened
        finally:
            _recording.remove(opened)

    return watching


@pytest.fixture
def peak_bytes():
    """Return a function that runs another and returns the most memory it held at once [bytes]."""

    def measured(run):
        tracemalloc.start()
        try:
            before, _ = tracemalloc.get_traced_memory()
            run()
            return tracemalloc.get_traced_memory()[1] - before
        finally:
            tracemalloc.stop()

    return measured
