"""Writing files whole or not at all."""

import os
import re
import stat

import pytest

from hullcheck.errors import InputError
from hullcheck.files import atomic
from hullcheck.files.atomic import write_new_bytes


def names_in(folder):
    """Return the names of everything in a folder."""
    return sorted(entry.name for entry in folder.iterdir())


def test_a_new_file_holds_the_bytes_and_nothing_is_left_beside_it(tmp_path):
    """The temporary file is gone, and the permissions are those of any new file."""
    path = tmp_path / "skin.stl"
    write_new_bytes(path, b"hull")
    assert path.read_bytes() == b"hull"
    assert names_in(tmp_path) == ["skin.stl"]
    (tmp_path / "plain").touch()
    assert path.stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_file_that_is_there_is_kept_unless_told(tmp_path):
    """It is refused by name and unchanged; told to, it is replaced and keeps its permissions."""
    path = tmp_path / "skin.stl"
    path.write_bytes(b"old")
    path.chmod(0o640)
    with pytest.raises(InputError, match=re.escape(f"{path}: is there already; name another")):
        write_new_bytes(path, b"new")
    assert path.read_bytes() == b"old"
    write_new_bytes(path, b"new", overwrite=True)
    assert path.read_bytes() == b"new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_link_keeps_pointing(tmp_path):
    """What a link points at is replaced, not the link; a link to nothing is a taken name."""
    (tmp_path / "folder").mkdir()
    link = tmp_path / "link.stl"
    link.symlink_to("folder/skin.stl")
    with pytest.raises(InputError, match="is there already"):
        write_new_bytes(link, b"new")
    write_new_bytes(link, b"new", overwrite=True)
    assert link.is_symlink()
    assert (tmp_path / "folder" / "skin.stl").read_bytes() == b"new"


@pytest.mark.parametrize("overwrite", [True, False])
def test_what_cannot_be_written_is_refused(tmp_path, overwrite):
    """A folder, a folder that is not there and an impossible name are refused with the reason."""
    for path, why in (
        (tmp_path, "it is a folder"),
        (tmp_path / "none" / "skin.stl", "No such file or directory"),
        (tmp_path / ("x" * 300), "File name too long"),
        (tmp_path / "nul\0byte", "embedded null byte"),
    ):
        with pytest.raises(InputError, match=re.escape(f"cannot be written ({why}); check the")):
            write_new_bytes(path, b"new", overwrite=overwrite)
    assert names_in(tmp_path) == []


@pytest.mark.parametrize("overwrite", [True, False])
def test_a_full_disk_leaves_the_old_file(tmp_path, monkeypatch, overwrite):
    """When the bytes do not reach the disk, the name keeps what it held, and nothing is left."""
    path = tmp_path / "skin.stl"
    if overwrite:
        path.write_bytes(b"old")

    def full(_descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(atomic.os, "fsync", full)
    with pytest.raises(InputError, match=r"cannot be written \(No space left on device\)"):
        write_new_bytes(path, b"new", overwrite=overwrite)
    assert names_in(tmp_path) == (["skin.stl"] if overwrite else [])
    if overwrite:
        assert path.read_bytes() == b"old"


def test_a_file_made_meanwhile_is_kept(tmp_path, monkeypatch):
    """Another program that takes the name while the bytes are written keeps it."""
    path = tmp_path / "skin.stl"
    real = os.fsync

    def meanwhile(descriptor):
        path.write_bytes(b"theirs")
        real(descriptor)

    monkeypatch.setattr(atomic.os, "fsync", meanwhile)
    with pytest.raises(InputError, match="is there already"):
        write_new_bytes(path, b"ours")
    assert path.read_bytes() == b"theirs"
    assert names_in(tmp_path) == ["skin.stl"]


@pytest.mark.parametrize("taken", [True, False])
def test_a_file_system_without_links(tmp_path, monkeypatch, taken):
    """A memory card knows no hard links: the file is moved into place where its name is free."""
    path = tmp_path / "skin.stl"

    def no_links(target, _source):
        if taken:
            target.write_bytes(b"theirs")
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(atomic.Path, "hardlink_to", no_links)
    if taken:
        with pytest.raises(InputError, match="is there already"):
            write_new_bytes(path, b"ours")
    else:
        write_new_bytes(path, b"ours")
    assert path.read_bytes() == (b"theirs" if taken else b"ours")
    assert names_in(tmp_path) == ["skin.stl"]
