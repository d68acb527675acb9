"""The rules of the house, read off the source: one direction of imports, sizes, docstrings."""

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "hullcheck"
MODULES = sorted(PACKAGE.rglob("*.py"))

RANKS = {
    "errors": 0,
    "units": 0,
    "water": 0,
    "geometry": 1,
    "flotation": 2,
    "craft": 3,
    "answers": 4,
    "files": 5,
    "report": 5,
    "cli": 6,
    "__init__": 7,  # the front doors: they may reach any rank
    "__main__": 7,
}
GROUND = {"errors", "units", "water"}  # single modules of rank 0, one package between them
DISK_RANK, TABLE_RANK = 5, 3
OUTSIDE_WORLD = {"click", "rich", "pathlib", "os", "io", "shutil", "tempfile", "time"}
CLOCK = {"now", "utcnow", "today", "fromtimestamp"}
"""Of datetime: its records may be told anywhere, what time it is only from rank 5 on."""
HEAVY = {"trimesh", "scipy", "matplotlib", "manifold3d", "pandas", "vtk", "vtkmodules", "OCP"}

MODULE_LINES, FUNCTION_LINES = 300, 40
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "LICENSE",
    "hullcheck",
    "meshes",
    "tests",
    "examples",
}


def name_of(path):
    """Return a module's path within the package, without its suffix, as its parts."""
    return path.relative_to(PACKAGE).with_suffix("").parts


def part_of(path):
    """Return the part of the house a module belongs to: its folder, or itself at the top."""
    return name_of(path)[0]


def tree_of(path):
    """Return a module's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def imports(path):
    """Return each module an import names, dotted, with the line and whether it is lazy."""
    tree = tree_of(path)
    eager = {id(node) for node in tree.body}
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found += [(alias.name, node.lineno, id(node) not in eager) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno} imports by dots"
            lazy = id(node) not in eager
            if node.module == "hullcheck":
                found += [(f"hullcheck.{a.name}", node.lineno, lazy) for a in node.names]
            else:
                found.append((node.module, node.lineno, lazy))
    return found


def breaches(path, of=imports):
    """Return the imports of a module that go up, or across between files and report."""
    own = part_of(path)
    wrong = []
    for name, line, _ in of(path):
        if name.split(".")[0] != "hullcheck" or name == "hullcheck.__version__":
            continue
        other = name.split(".")[1] if "." in name else "__init__"
        if other == own or {other, own} <= GROUND:
            continue
        if other not in RANKS or RANKS[other] >= RANKS[own]:
            wrong.append(f"{path.relative_to(ROOT)}:{line} imports {name}")
    return wrong


def functions(path):
    """Return a module's functions with the lines each has, its docstring not counted."""
    found = []
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = node.end_lineno - node.lineno + 1
            if ast.get_docstring(node) is not None:
                first = node.body[0]
                lines -= first.end_lineno - first.lineno + 1
            found.append((node.name, node.lineno, lines))
    return found


def test_every_part_has_a_rank():
    """No folder or module stands at the top of the package without a rank."""
    assert {part_of(path) for path in MODULES} <= set(RANKS)
    assert len(MODULES) > 40


def test_imports_go_down():
    """A module imports lower ranks and its own part only; files and report never each other."""
    assert [line for path in MODULES for line in breaches(path)] == []


@pytest.mark.parametrize(
    ("part", "name"),
    [
        ("geometry/skin", "hullcheck.flotation.draft"),
        ("files/stl", "hullcheck.report.style"),
        ("report/style", "hullcheck.files.stl"),
        ("flotation/draft", "hullcheck.nowhere"),
        ("water", "hullcheck.geometry.arrays"),
        ("answers/rest", "hullcheck"),
    ],
)
def test_a_breach_is_seen(part, name):
    """The rank check fails on an import that goes up, across, or to no rank."""
    path = PACKAGE / f"{part}.py"
    assert breaches(path, lambda _: [(name, 1, False)]) == [f"hullcheck/{part}.py:1 imports {name}"]


def test_ranks_0_to_4_know_no_outside_world():
    """Below rank 5 nothing prints, opens a file, reads a clock or knows of click."""
    wrong = []
    for path in MODULES:
        if RANKS[part_of(path)] >= DISK_RANK:
            continue
        wrong += [
            f"{path.relative_to(ROOT)}:{line} imports {name}"
            for name, line, _ in imports(path)
            if name.split(".")[0] in OUTSIDE_WORLD
        ]
        wrong += [
            f"{path.relative_to(ROOT)}:{node.lineno} calls {node.func.id}"
            for node in ast.walk(tree_of(path))
            if isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id in {"print", "open", "input"}
        ]
        wrong += [
            f"{path.relative_to(ROOT)}:{node.lineno} asks for the time"
            for node in ast.walk(tree_of(path))
            if isinstance(node, ast.Attribute)
            and node.attr in CLOCK
            and ast.unparse(node.value).split(".")[-1] in {"datetime", "date"}
        ]
    assert wrong == []


def test_ranks_0_to_2_know_no_pandas():
    """Geometry and flotation are arrays in and records out."""
    assert [
        f"{path.relative_to(ROOT)}:{line}"
        for path in MODULES
        if RANKS[part_of(path)] < TABLE_RANK
        for name, line, _ in imports(path)
        if name.split(".")[0] == "pandas"
    ] == []


def test_heavy_libraries_are_imported_where_they_are_used():
    """No module loads a heavy library when it is imported: help must come up at once."""
    assert [
        f"{path.relative_to(ROOT)}:{line} imports {name}"
        for path in MODULES
        for name, line, lazy in imports(path)
        if not lazy and name.split(".")[0] in HEAVY
    ] == []


def test_modules_are_short():
    """No module is longer than 300 lines, and none is called utils."""
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in MODULES}
    assert {str(p.relative_to(ROOT)): n for p, n in lengths.items() if n > MODULE_LINES} == {}
    assert [path for path in MODULES if path.stem in {"utils", "util", "helpers"}] == []


def test_functions_are_short():
    """No function has more than 40 lines, from def to its end, its docstring not counted."""
    assert [
        f"{path.relative_to(ROOT)}:{line} {name} has {lines} lines"
        for path in MODULES
        for name, line, lines in functions(path)
        if lines > FUNCTION_LINES
    ] == []


def test_everything_has_a_docstring():
    """Each module, class, function and method says what it is, private ones too."""
    kinds = ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef
    wrong = []
    for path in MODULES:
        for node in ast.walk(tree_of(path)):
            if not isinstance(node, kinds) or ast.get_docstring(node):
                continue
            name = getattr(node, "name", "")
            # What a method of Python's own does is Python's to say, unless it does more.
            if not (name.startswith("__") and name.endswith("__")):
                wrong.append(f"{path.relative_to(ROOT)}:{getattr(node, 'lineno', 1)} {name}")
    assert wrong == []


def test_every_test_has_a_docstring():
    """Each test says in a sentence what it holds the product to."""
    assert [
        f"{path.relative_to(ROOT)}:{node.lineno} {node.name}"
        for path in sorted((ROOT / "tests").rglob("test_*.py"))
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.FunctionDef)
        and node.name.startswith("test_")
        and not ast.get_docstring(node)
    ] == []


def test_colors_stand_in_one_place():
    """A hex color is written in the style module and nowhere else."""
    color = re.compile(r"""["'(:\s]#(?:[0-9a-fA-F]{8}|[0-9a-fA-F]{6}|[0-9a-fA-F]{3})\b""")
    assert color.search('fill="#0a3d62"')
    assert color.search("color: #fff;")
    sources = [p for p in PACKAGE.rglob("*") if p.suffix in {".py", ".html", ".css", ".j2", ".svg"}]
    assert [
        f"{path.relative_to(ROOT)}:{number} {line.strip()}"
        for path in sorted(sources)
        if path != PACKAGE / "report" / "style.py"
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if color.search(line)
    ] == []


def test_top_level_holds_what_it_may():
    """The top level holds the eight named entries and dotfiles, nothing else."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],  # noqa: S607 - found on PATH
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split("\n")
    entries = {line.split("/")[0].strip('"') for line in listed if line}
    assert {entry for entry in entries if not entry.startswith(".")} == TOP_LEVEL


def test_no_tracked_file_is_over_one_megabyte():
    """Nothing in the repository is larger than 1 MB, of 1024 × 1024 bytes."""
    listed = subprocess.run(
        ["git", "ls-files", "-z"],  # noqa: S607 - found on PATH
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split("\0")
    sizes = {name: (ROOT / name).stat().st_size for name in listed if (ROOT / name).is_file()}
    assert {name: size for name, size in sizes.items() if size > 1 << 20} == {}
