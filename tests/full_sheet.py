"""A build sheet with every key there is, and a writer that knows on which line it wrote each."""

import re

POINT = [12.5, -3, 40]
FULL = {
    "craft": {
        "name": "Test 90",
        "target_mass_g": 690,
        "cg_range_mm": [246, 258.5],
        "mass_g": 702,
        "cg_mm": [251, 0, 34],
    },
    "water": {"kind": "sea", "temperature_c": 15, "salinity": 35, "density_kg_m3": 1000},
    "axes": {"unit": "mm", "forward": "-x", "up": "+z", "datum_mm": [1, 2, 3]},
    "reference": {"wing_angle_deg": 2.5, "line_mm": [[0, 0, 1], [600, 0, 2]]},
    "body": [
        {"name": "hull", "role": "hull", "parts": ["hull.stl"]},
        {
            "name": "starboard float",
            "role": "tip float",
            "parts": [
                "nose.stl",
                {
                    "file": "parts/tail.stl",
                    "object": "tail",
                    "at_mm": [240, 420, 30],
                    "turn_deg": [0, 90, -360],
                    "place": [[1, 0, 0, 5], [0, 1, 0, 6], [0, 0, 1, 7], [0, 0, 0, 1]],
                },
            ],
            "offsets": {
                "file": "float.csv",
                "at_mm": [1, 2, 3],
                "turn_deg": [0, 0, 5],
                "smooth": True,
            },
            "mirror": "port float",
            "floods": [[*POINT]],
            "wall_mm": 0.8,
            "permeability": 0.95,
            "material": "PLA",
            "density_g_cm3": 1.24,
            "foam_cm3": 120,
            "foam_mm": [100, 0, 20],
            "bulkheads": [
                {"station_mm": 120},
                {"station_mm": 310, "watertight": False, "limber_mm": 4},
            ],
        },
    ],
    "wing": {"tip_mm": [*POINT], "chord_mm": 120},
    "propeller": {"hub_mm": [*POINT], "diameter_mm": 140, "thrust_g": 600, "up_deg": 2},
    "lid": [{"name": "canopy", "outline_mm": [[*POINT], [1, 2, 3], [4, 5, 6]]}],
    "opening": [
        {"points_mm": [[*POINT]]},
        {"name": "edge", "points_mm": [[*POINT], [1, 2, 3]], "state": "taped", "kind": "canopy"},
    ],
    "seam": [
        {"name": "joint", "body": "hull", "station_mm": 262, "points_mm": [[*POINT], [1, 2, 3]]},
    ],
    "equipment": [
        {"item": "battery", "lowest_mm": [*POINT], "within_mm": [[0, 0, 0], [230, 20, 60]]},
    ],
    "mark": [{"name": "bow", "point_mm": [*POINT], "along": "plumb"}],
    "setup": [
        {"name": "wet", "wet_g": 15},
        {
            "name": "heavy",
            "add": {"battery": 240},
            "move": {"battery": [12, 0, 0]},
            "off": ["wheels"],
            "wet_g": 5,
            "water": "fresh",
            "openings": {"canopy edge": "open"},
        },
    ],
    "leak": [
        {
            "name": "pinhole",
            "point_mm": [*POINT],
            "diameter_mm": 0.5,
            "crack_width_mm": 0.1,
            "crack_length_mm": 40,
            "wall_mm": 1,
        },
    ],
    "limits": {
        "freeboard_mm": 15,
        "trim_deg": [-1, 4],
        "heel_deg": 3,
        "time_on_water_min": 15,
        "leak_g_per_30min": 1.5,
    },
}
"""Every key of the schema once at least, each list of tables with the full one last."""


class Page:
    """A sheet being written, one key a line, the line of every path kept."""

    def __init__(self, document):
        self.rows, self.lines = ["# A sheet of a test."], {}
        plain = {k: v for k, v in document.items() if not self.is_table(v)}
        for key, value in plain.items():
            self.pair((), key, value)
        for key, value in document.items():
            if key not in plain:
                self.table(key, value)

    @property
    def text(self):
        """The whole document."""
        return "\n".join(self.rows) + "\n"

    @staticmethod
    def is_table(value):
        """Return whether a value is a table or an array of tables."""
        if isinstance(value, list):
            return bool(value) and all(isinstance(one, dict) for one in value)
        return isinstance(value, dict)

    def row(self, text, path):
        """Write a line; the path begins in it, and so does what it lies in."""
        self.rows.append(text)
        for n in range(1, len(path) + 1):
            self.lines.setdefault(path[:n], len(self.rows))

    def table(self, key, value):
        """Write [key] or [[key]] and what is below."""
        many = isinstance(value, list)
        for i, table in enumerate(value if many else [value]):
            path = (key, i) if many else (key,)
            self.row(f"[[{key}]]" if many else f"[{key}]", path)
            for name, inner in table.items():
                self.pair(path, name, inner)

    def pair(self, table, key, value):
        """Write key = value, lists of more than numbers over several lines."""
        path = (*table, key)
        if not (isinstance(value, list) and any(isinstance(v, list | dict | str) for v in value)):
            self.row(f"{quoted(key)} = {inline(value)}", path)
            self.inner(path, value)
            return
        self.row(f"{quoted(key)} = [", path)
        for i, one in enumerate(value):
            self.row(f"  {inline(one)},", (*path, i))
            self.inner((*path, i), one)
        self.rows.append("]")

    def inner(self, path, value):
        """Keep the line of all that lies in a value written on one line."""
        steps = range(len(value)) if isinstance(value, list) else value
        for step in steps if isinstance(value, dict | list) else ():
            self.lines[(*path, step)] = len(self.rows)
            self.inner((*path, step), value[step])


def quoted(key):
    """Return a key as TOML writes it."""
    return key if re.fullmatch(r"[\w-]+", key) else f'"{key}"'


def inline(value):
    """Return a value on one line, as TOML writes it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, list):
        return f"[{', '.join(inline(one) for one in value)}]"
    if isinstance(value, dict):
        pairs = (f"{quoted(key)} = {inline(inner)}" for key, inner in value.items())
        return f"{{ {', '.join(pairs)} }}"
    return str(value)


def printed(path):
    """Return a path as it is printed: lists counted from 1, odd names in quotes."""
    text = "".join(f"[{s + 1}]" if isinstance(s, int) else f".{quoted(s)}" for s in path)
    return text.removeprefix(".")
