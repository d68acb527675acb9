"""Prints how the demo hull sinks and trims as she grows heavier.

Run it from the top folder of a checkout: python examples/freeboard_over_mass.py
"""

from pathlib import Path

import hullcheck

HULL = Path(__file__).resolve().parent.parent / "meshes" / "tarnwing_hull.stl"


def main() -> None:
    """Float the hull at a range of masses with the CG kept in place."""
    found = hullcheck.read_bodies([HULL], hullcheck.Reading(unit="mm", forward="-x", up="+z"))
    print(" mass g  draft mm  trim °  lowest edge mm")
    for mass_g in range(600, 1300, 100):
        craft = hullcheck.Craft(
            name="Tarnwing 90",
            bodies=found.bodies,
            mass_g=mass_g,
            center_of_gravity_mm=(252.0, 0.0, 31.0),
            water=hullcheck.fresh_water(temperature_c=15.0),
        )
        answer = hullcheck.float_answer(craft)
        draft, board = answer.draft_mm, answer.freeboard_mm
        if draft is None or board is None or answer.trim_deg is None or board.least is None:
            print(f"{mass_g:7d}  sinks")
            continue
        print(f"{mass_g:7d} {draft.deepest:9.1f} {answer.trim_deg:7.2f} {board.least:15.1f}")


if __name__ == "__main__":
    main()
