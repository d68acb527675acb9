"""Outer skins kept beside the build: what comes back is what was put, or nothing.

Held to the documents of what is used: SHA-256 as `hashlib` has it (FIPS 180-4), the `.npy` format
as `numpy.load` reads it without pickled objects, ZIP as `zipfile` tests it.
"""

import copy
import dataclasses
import hashlib
import importlib
import io
import json
import os
import pathlib
import pickle
import zipfile

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from open_boxes import lacking as box

from hullcheck.errors import InputError
from hullcheck.files import skin_cache
from hullcheck.files.skin_cache import SkinCache, key_of
from hullcheck.geometry.outer_records import (
    INVENTED,
    OuterSkin,
    PartFound,
    PartSeam,
    Patch,
    SkinChecks,
)
from hullcheck.geometry.shells import Shell, outer_shells

making = importlib.import_module("skin_making")

KEY, OTHER = "0" * 64, "f" * 64
MESHED = [state for state in making.STATES if state != "offsets"]
NOTHING_KEPT = "it will be worked out again next time"


def small_skin(**changes):
    """Return a skin of a box with something in every field."""
    shells = outer_shells("box", box() / 3.0).shells
    triangles = shells[0].triangles_mm
    return dataclasses.replace(
        OuterSkin(
            name="hull\n<&> \udcff 通",
            shells=(*shells, *outer_shells("float", box() / 7.0 + 500.0).shells),
            sources=(np.arange(12) % 3 + INVENTED, np.zeros(12, dtype=np.int64)),
            method="sections",
            parts=(
                PartFound(
                    name="a/b.stl",
                    triangles_mm=triangles,
                    kind="thin wall",
                    material_volume_mm3=0.1 + 0.2,
                    wall_mm=np.float64(1.0) / 3.0,
                    found=("dropped 2 triangles", ""),
                ),
                PartFound(name="", triangles_mm=triangles[:1], kind="sheet"),
            ),
            patches=(
                Patch(
                    name="opening at station 172, 140 × 52 mm",
                    kind="opening",
                    triangles_mm=triangles[2:4],
                    edge_mm=triangles[2],
                    error_mm3=5e-324,
                ),
                Patch(
                    name="hatch",
                    kind="lid",
                    triangles_mm=-0.0 * triangles[:1],
                    edge_mm=np.empty((0, 3)),
                    error_mm3=0,
                ),
            ),
            seams=(
                PartSeam(
                    parts=("a", "b"),
                    normal=np.array([1.0, 0.0, -0.0]),
                    place_mm=np.array([1e-300, 1e300, np.pi]),
                    gap_mm=-0.05,
                    mismatch_mm=0.02,
                ),
            ),
            bulkheads_mm=(np.float64(118.1), 310.0),
            base_error_mm3=150.25,
            checks=SkinChecks(
                section_volume_mm3=1e6 / 3.0,
                section_offset_mm=None,
                handles=np.int64(2),
                solid_share=0.11,
            ),
            notes=(("code", "a sentence"), ("", "")),
        ),
        **changes,
    )


def leaves(value, where="skin"):
    """Yield every field of records within records by its path, arrays as type, shape and bytes."""
    if dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from leaves(getattr(value, field.name), f"{where}.{field.name}")
    elif isinstance(value, tuple):
        yield where, len(value)
        for number, entry in enumerate(value):
            yield from leaves(entry, f"{where}[{number}]")
    elif isinstance(value, np.ndarray):
        yield where, (value.dtype, value.shape, value.tobytes(), value.flags.writeable)
    else:
        yield where, value


@pytest.mark.parametrize("state", MESHED)
def test_a_skin_comes_back_field_by_field(tmp_path, state):
    """Every field of every record is equal, every array to the last bit, and as read-only."""
    for number, body in enumerate(making.STATES[state]()[0]):
        key = f"{number:064x}"
        assert SkinCache(tmp_path).put(key, body.skin) is None
        found = SkinCache(tmp_path).get(key)
        assert type(found) is OuterSkin
        assert dict(leaves(found)) == dict(leaves(body.skin))


def test_odd_values_come_back(tmp_path):
    """Least and greatest numbers, −0, none, empty and half characters, all fields in use."""
    skin = small_skin()
    SkinCache(tmp_path).put(KEY, skin)
    found = SkinCache(tmp_path).get(KEY)
    assert dict(leaves(found)) == dict(leaves(skin))
    for kind in (OuterSkin, PartFound, Patch, PartSeam, SkinChecks, Shell):
        names = {field.name for field in dataclasses.fields(kind)}
        assert all(any(f".{name}" in path for path, _ in leaves(found)) for name in names)
    # A plain number again, so that it prints and compares as one.
    assert (type(found.checks.handles), type(found.parts[0].wall_mm)) == (int, float)


def test_triangles_that_are_the_skin_and_a_part_are_kept_once(tmp_path):
    """A closed part as filed is not twice in the file, nor in memory afterwards."""
    shells = outer_shells("box", box()).shells
    part = PartFound(name="box", triangles_mm=shells[0].triangles_mm, kind="closed skin")
    skin = OuterSkin(
        name="box",
        shells=shells,
        sources=(np.zeros(12, dtype=np.int64),),
        method="as filed",
        parts=(part,),
    )
    SkinCache(tmp_path).put(KEY, skin)
    found = SkinCache(tmp_path).get(KEY)
    assert found.parts[0].triangles_mm is found.shells[0].triangles_mm


def test_the_file_is_a_plain_archive_of_arrays(tmp_path):
    """It is read without pickled objects, nothing in it is damaged, and nothing else lies by.

    Only `.gitignore`, which keeps all of it out of git.
    """
    SkinCache(tmp_path).put(KEY, small_skin())
    folder = tmp_path / ".hullcheck"
    assert sorted(path.name for path in folder.iterdir()) == [".gitignore", f"skin-{KEY}.npz"]
    assert (folder / ".gitignore").read_text() == "*\n"
    with zipfile.ZipFile(folder / f"skin-{KEY}.npz") as archive:
        assert archive.testzip() is None
        assert len(archive.comment) == 64
    with np.load(folder / f"skin-{KEY}.npz", allow_pickle=False) as held:
        assert {held[name].dtype.kind for name in held.files} == {"f", "i", "u"}


def test_nothing_is_made_by_looking(tmp_path):
    """A folder that holds no skin yet stays as it is."""
    assert SkinCache(tmp_path).get(KEY) is None
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_there_keeps_what_is_in_it(tmp_path):
    """A user's own `.gitignore`, or none, is left alone, and so are other files."""
    folder = tmp_path / ".hullcheck"
    folder.mkdir()
    (folder / "notes.txt").write_text("mine")
    assert SkinCache(tmp_path).put(KEY, small_skin()) is None
    assert sorted(p.name for p in folder.iterdir()) == ["notes.txt", f"skin-{KEY}.npz"]


def test_at_most_eight_are_kept_and_the_oldest_go(tmp_path):
    """The ninth drops the one written longest ago; writing one again makes it new."""
    cache, skin = SkinCache(tmp_path), small_skin()
    folder = tmp_path / ".hullcheck"
    keys = [f"{number:064x}" for number in range(11)]
    for age, key in enumerate(keys[:8]):
        cache.put(key, skin)
        os.utime(folder / f"skin-{key}.npz", (1e9 + age, 1e9 + age))
    (folder / "skin-notes.txt").write_text("no skin of ours")
    cache.put(keys[0], skin)
    for key in keys[8:]:
        assert cache.put(key, skin) is None
    kept = [key for key in keys if cache.get(key) is not None]
    assert kept == [keys[0], *keys[4:]]
    assert (folder / "skin-notes.txt").exists()


def test_a_skin_dropped_by_another_run_meanwhile_is_no_failure(tmp_path, monkeypatch):
    """A file that was listed and is gone when it is looked at needs no dropping."""
    cache, listed = SkinCache(tmp_path), pathlib.Path.glob

    def with_a_ghost(folder, pattern):
        return [folder / f"skin-{OTHER}.npz", *listed(folder, pattern)]

    monkeypatch.setattr(pathlib.Path, "glob", with_a_ghost)
    assert cache.put(KEY, small_skin()) is None
    assert cache.get(KEY) is not None


@given(st.data())
def test_a_damaged_file_counts_as_absent(tmp_path_factory, data):
    """Any byte changed, any length cut or grown: None, and the next skin takes its place."""
    folder = tmp_path_factory.mktemp("build")
    cache, skin = SkinCache(folder), small_skin()
    cache.put(KEY, skin)
    path = folder / ".hullcheck" / f"skin-{KEY}.npz"
    whole = path.read_bytes()
    place = data.draw(st.integers(0, len(whole) - 1))
    changed = bytes([whole[place] ^ data.draw(st.integers(1, 255))])
    damaged = (whole[:place] + changed + whole[place + 1 :], whole[:place], whole + changed)
    path.write_bytes(data.draw(st.sampled_from(damaged)))
    assert cache.get(KEY) is None
    assert cache.put(KEY, skin) is None
    assert dict(leaves(cache.get(KEY))) == dict(leaves(skin))


def sealed(body):
    """Return an archive with a seal that fits."""
    body = body[:-2] + (64).to_bytes(2, "little")
    return body + hashlib.sha256(body).hexdigest().encode()


def archive_of(**arrays):
    """Return arrays as numpy's own archive."""
    stream = io.BytesIO()
    np.savez(stream, **arrays)
    return stream.getvalue()


class Trap:
    """What tells when it is unpickled."""

    def __reduce__(self):
        """Return a call that cannot go unnoticed."""
        return pytest.fail, ("a pickled object was loaded",)


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"PK",
        b"not a skin" * 20,
        archive_of(plain=np.zeros(3)),
        pickle.dumps({"key": KEY}),
        sealed(b"PK\x03\x04 and no archive"),
        sealed(archive_of(other=np.zeros(3))),
        sealed(archive_of(plain=np.frombuffer(b"[1, 2]", np.uint8))),
        sealed(archive_of(plain=np.frombuffer(b'{"key"', np.uint8))),
        sealed(archive_of(plain=np.frombuffer(b"\xff\xfe", np.uint8))),
        sealed(archive_of(plain=np.array([Trap()], dtype=object))),
    ],
)
def test_a_foreign_file_counts_as_absent(tmp_path, content):
    """Empty, text, archives of something else, with a seal that fits or without: None."""
    folder = tmp_path / ".hullcheck"
    folder.mkdir()
    (folder / f"skin-{KEY}.npz").write_bytes(content)
    assert SkinCache(tmp_path).get(KEY) is None


def test_a_file_under_another_name_counts_as_absent(tmp_path):
    """A skin copied to another key is not that key's; a folder there is no skin."""
    cache, folder = SkinCache(tmp_path), tmp_path / ".hullcheck"
    cache.put(KEY, small_skin())
    (folder / f"skin-{OTHER}.npz").write_bytes((folder / f"skin-{KEY}.npz").read_bytes())
    assert cache.get(OTHER) is None
    (folder / f"skin-{'a' * 64}.npz").mkdir()
    assert cache.get("a" * 64) is None


def rewritten(path, change):
    """Change the plain part of a kept skin, and seal it again."""
    with np.load(path) as held:
        arrays = {name: held[name] for name in held.files}
    plain = json.loads(arrays["plain"].tobytes())
    change(plain["skin"], arrays)
    arrays["plain"] = np.frombuffer(json.dumps(plain).encode(), np.uint8)
    path.write_bytes(sealed(archive_of(**arrays)))


def put_in(*path, value):
    """Return a change of one value."""

    def change(skin, _):
        for step in path[:-1]:
            skin = skin[step]
        assert skin[path[-1]] != value
        skin[path[-1]] = value

    return change


@pytest.mark.parametrize(
    "change",
    [
        put_in("name", value=7),
        put_in("name", value=None),
        put_in("method", value="guessed"),
        put_in("method", value=["united"]),
        put_in("shells", value=[]),
        put_in("shells", 0, "volume_mm3", value=-1.0),
        put_in("shells", 0, "triangles_mm", value=99),
        put_in("shells", 0, "triangles_mm", value=-1),
        put_in("shells", 0, "triangles_mm", value=True),
        put_in("sources", value=[0, 0]),
        put_in("parts", 0, "found", value="one text"),
        put_in("parts", 0, "wall_mm", value="thin"),
        put_in("patches", 0, "error_mm3", value=-0.5),
        put_in("patches", 0, "error_mm3", value=False),
        put_in("seams", 0, "parts", value=["a", "b", "c"]),
        put_in("seams", 0, "normal", value=0),
        put_in("bulkheads_mm", value=[[1.0]]),
        put_in("checks", value=None),
        put_in("checks", "handles", value=1.5),
        put_in("notes", 0, value=["code"]),
        lambda skin, _: skin.pop("notes"),
        lambda skin, _: skin["checks"].update(more=1),
        lambda _, arrays: arrays.pop("array_1"),
        lambda _, arrays: arrays["array_0"].__setitem__(0, np.nan),
        lambda _, arrays: arrays.update(array_0=arrays["array_0"].astype(np.float32)),
    ],
)
def test_what_is_no_skin_of_this_version_counts_as_absent(tmp_path, change):
    """Wrong types, kinds, counts and fields, sealed as they are: None, not a skin half true."""
    cache = SkinCache(tmp_path)
    cache.put(KEY, small_skin())
    path = tmp_path / ".hullcheck" / f"skin-{KEY}.npz"
    rewritten(path, lambda *_: None)
    assert dict(leaves(cache.get(KEY))) == dict(leaves(small_skin()))
    rewritten(path, change)
    assert cache.get(KEY) is None


def refused(*_, **__):
    """Refuse as a read-only file system does."""
    raise OSError(30, "Read-only file system")


def test_a_read_only_folder_fails_nothing(tmp_path, monkeypatch):
    """Where nothing can be made, a note says so; what was kept before is still found."""
    cache, skin = SkinCache(tmp_path), small_skin(name="hull")
    monkeypatch.setattr(pathlib.Path, "mkdir", refused)
    code, said = cache.put(KEY, skin)
    assert code == "skin-not-kept"
    assert said == (
        f"the skin of hull could not be kept in {tmp_path / '.hullcheck'} (Read-only file system); "
        f"{NOTHING_KEPT}"
    )
    monkeypatch.undo()
    assert cache.put(KEY, skin) is None
    monkeypatch.setattr(pathlib.Path, "open", refused)
    assert cache.put(OTHER, skin) == (code, said)
    monkeypatch.undo()
    assert cache.get(KEY) is not None
    assert cache.get(OTHER) is None


@pytest.mark.parametrize("what", ["a file", "no folder", "read-only"])
def test_no_place_to_keep_it_fails_nothing(tmp_path, what):
    """A file where the folder would be, no build folder, and one that is read-only."""
    build = tmp_path / "build"
    if what != "no folder":
        build.mkdir()
    if what == "a file":
        (build / ".hullcheck").write_text("mine")
    if what == "read-only":
        if os.geteuid() == 0:
            pytest.skip("root may write to every folder")
        build.chmod(0o500)
    cache = SkinCache(build)
    assert cache.get(KEY) is None
    code, said = cache.put(KEY, small_skin())
    assert code == "skin-not-kept"
    assert said.endswith(NOTHING_KEPT)
    assert cache.get(KEY) is None
    if what == "a file":
        assert (build / ".hullcheck").read_text() == "mine"


@pytest.mark.parametrize("key", ["", "0" * 63, "0" * 65, "G" * 64, "../" + "0" * 61, KEY + "\n"])
def test_what_is_no_key_is_refused(tmp_path, key):
    """A key becomes a file's name: only what `key_of` makes will do."""
    with pytest.raises(InputError, match="is no key of a skin: 64 hexadecimal digits are wanted"):
        SkinCache(tmp_path).get(key)
    with pytest.raises(InputError, match="is no key of a skin"):
        SkinCache(tmp_path).put(key, small_skin())


def test_a_key_tells_all_that_decides(monkeypatch):
    """Names, order, the last bit, shapes, lids and the version: each change is another key."""
    a, b = box(), box() + 1.0
    bit = a.copy()
    bit[3, 1, 0] = np.nextafter(bit[3, 1, 0], np.inf)
    made = [
        key_of([("a", a), ("b", b)], "hull"),
        key_of([("b", b), ("a", a)], "hull"),
        key_of([("a", b), ("b", a)], "hull"),
        key_of([("a", bit), ("b", b)], "hull"),
        key_of([("a", a)], "hull"),
        key_of([("a", np.concatenate([a, b]))], "hull"),
        key_of([("a", a[:1]), ("a", a[1:])], "hull"),
        key_of([("a", a), ("b", b)], "hull", "lid"),
        key_of([("a", a), ("b", b)], "hulllid"),
        key_of([("a", a), ("b", b)], "hul", "l"),
        key_of([("a", a), ("b", b)]),
        key_of([("hull", a)], "a"),
        key_of([]),
        key_of([], ""),
    ]
    monkeypatch.setattr(skin_cache, "__version__", "another")
    made.append(key_of([("a", a), ("b", b)], "hull"))
    monkeypatch.undo()
    monkeypatch.setattr(skin_cache, "FORMAT", skin_cache.FORMAT + 1)
    made.append(key_of([("a", a), ("b", b)], "hull"))
    assert len(set(made)) == len(made)
    assert all(len(key) == 64 and set(key) <= set("0123456789abcdef") for key in made)


def test_a_key_depends_on_nothing_else():
    """The same numbers otherwise laid out in memory, and names that are no text, make one key."""
    triangles = box()
    turned = np.asfortranarray(triangles)
    turned.setflags(write=False)
    once = key_of([("\udcff.stl", triangles)], "hull")
    assert key_of([("\udcff.stl", turned)], "hull") == once
    assert key_of([("\udcff.stl", copy.deepcopy(triangles)[:, :, :])], "hull") == once
