"""Makes the outer skin of the demo hull's printed parts, and says how well it is known.

Run it from the top folder of a checkout: python examples/skin_of_parts.py
"""

from pathlib import Path

import hullcheck

PARTS = Path(__file__).resolve().parent.parent / "meshes" / "printed"


def main() -> None:
    """Read the six parts, print the skin's volume and each face that no file has."""
    reading = hullcheck.Reading(unit="mm", forward="-x", up="+z")
    found = hullcheck.read_skins(sorted(PARTS.glob("*.stl")), reading)
    answer = hullcheck.skin_answer(found.skins, name="Tarnwing 90")
    print(f"{answer.volume_cm3:.1f} cm³, known to ± {answer.error_cm3:.2g} cm³")
    plastic = sum(part.material_volume_cm3 or 0.0 for part in answer.parts)
    print(f"{plastic:.1f} cm³ of plastic: what adding up the files would give")
    for body in answer.bodies:
        for piece in body.invented:
            print(f"{piece.area_cm2:6.1f} cm² ± {piece.error_cm3:.2g} cm³  {piece.name}")


if __name__ == "__main__":
    main()
