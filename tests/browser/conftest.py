"""One headless browser for all tests of a worker, pages opened from a file with the network off."""

import os
import shutil
from dataclasses import dataclass, field
from pathlib import Path

import pytest

FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--force-color-profile=srgb",
)
"""Runs as root on a machine without a screen or a network, WebGL drawn by the processor."""


@dataclass(kw_only=True)
class Visit:
    """An open page, and what it said and asked for.

    Attributes
    ----------
    page : playwright Page
    console : list of str
        Errors and warnings of the console, and exceptions that nothing caught.
    requests : list of str
        Addresses asked for besides the file itself and what the page carries within it.
    """

    page: object
    console: list[str] = field(default_factory=list)
    requests: list[str] = field(default_factory=list)


def _missing(what):
    """Skip for want of a browser; under CI=true that is a failure."""
    if os.environ.get("CI") == "true":
        pytest.fail(f"{what} is missing, and under CI it must be there")
    pytest.skip(f"{what} is missing")


@pytest.fixture(scope="session")
def browser():
    """Return a headless Chromium, Debian's."""
    path = shutil.which("chromium")
    if path is None:
        _missing("chromium")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        _missing("playwright")
    with sync_playwright() as play:
        running = play.chromium.launch(executable_path=path, args=FLAGS)
        yield running
        running.close()


@pytest.fixture
def visit(browser):
    """Return a function that opens a file, the network off, and watches what the page does."""
    contexts = []

    def open_file(path, *, width=1280, height=830, script=True):
        context = browser.new_context(
            viewport={"width": width, "height": height}, offline=True, java_script_enabled=script
        )
        contexts.append(context)
        seen = Visit(page=context.new_page())
        address = Path(path).resolve().as_uri()
        seen.page.on("console", lambda m: _said(seen, m))
        seen.page.on("pageerror", lambda problem: seen.console.append(str(problem)))
        seen.page.on("request", lambda r: _asked(seen, r.url, address))
        seen.page.goto(address)
        return seen

    yield open_file
    for context in contexts:
        context.close()


def _said(seen, message):
    """Keep what the console shows as an error or a warning.

    A screenshot reads the canvas back, which the driver tells as a matter of speed.
    """
    if message.type in {"error", "warning"} and "GPU stall due to ReadPixels" not in message.text:
        seen.console.append(message.text)


def _asked(seen, url, address):
    """Keep an address that lies outside the file."""
    if url != address and not url.startswith(("data:", "blob:")):
        seen.requests.append(url)
