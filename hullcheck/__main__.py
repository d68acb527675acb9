"""Runs the commands: python -m hullcheck."""

from hullcheck.cli.main import run

if __name__ == "__main__":
    run()
