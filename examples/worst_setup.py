"""Prints every way a build may be flown, the worst one last.

Run it from the top folder of a checkout: python examples/worst_setup.py
"""

from pathlib import Path

import hullcheck

BUILD = Path(__file__).resolve().parent / "twin-floats"


def main() -> None:
    """Float the build in all its setups."""
    answer = hullcheck.setups_answer(hullcheck.load(BUILD))
    for one in answer.setups:
        board, name = one.freeboard_mm, one.setup or "as she is"
        if board is None or board.least is None:
            print(f"{name}: {one.rest}")
            continue
        broken = [check.name for check in one.limits if not check.ok]
        print(
            f"{name}: {board.least:.1f} mm at the {board.at}, {one.margin_g or 0.0:.0f} g left"
            + (f", broken: {', '.join(broken)}" if broken else "")
        )
    print(f"worst: {answer.worst}")


if __name__ == "__main__":
    main()
