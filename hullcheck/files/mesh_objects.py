"""The objects of a mesh file by name, as a build sheet names one of them."""

from dataclasses import replace
from typing import Final

from hullcheck.files.mesh_file import MeshFile, MeshPart
from hullcheck.files.sheet_words import nearest, value_text

_MOST_LISTED: Final = 24


def named_objects(file: MeshFile) -> tuple[MeshPart, ...]:
    """Return the objects of a mesh file, no two with one name.

    Parameters
    ----------
    file : MeshFile
        As read.

    Returns
    -------
    tuple of MeshPart
        In the order of the file. One without a name is called by its number, "object 3"; of those
        with one name the first keeps it and the second is "nose 2".

    Notes
    -----
    A number already taken by another object's own name is passed over, so that a name that stands
    in the file once always means that object.
    """
    own = [part.name or f"object {k}" for k, part in enumerate(file.parts, start=1)]
    taken: set[str] = set()
    named = []
    for part, plain in zip(file.parts, own, strict=True):
        name, count = plain, 1
        while name in taken or (count > 1 and name in own):
            count += 1
            name = f"{plain} {count}"
        taken.add(name)
        named.append(part if name == part.name else replace(part, name=name))
    return tuple(named)


def object_of(file: MeshFile, name: str) -> MeshFile | None:
    """Return a mesh file with nothing but the object of a name, None where there is none."""
    found = next((part for part in named_objects(file) if part.name == name), None)
    return None if found is None else replace(file, parts=(found,))


def no_object_words(file: MeshFile, name: str, called: str) -> str:
    """Return that a file holds no object of a name: the nearest that it holds, and all of them.

    Parameters
    ----------
    file : MeshFile
        As read.
    name : str
        What was asked for.
    called : str
        What the file is called in the sheet.
    """
    wrong = f"{value_text(name)} is no object of {called}"
    if len(file.parts) == 1 and not file.parts[0].name:
        return f"{wrong}: it holds one mesh without a name; leave object out"
    names = [part.name for part in named_objects(file)]
    hint = nearest(name, names)
    listed = ", ".join(names[:_MOST_LISTED])
    more = f", … ({len(names)} in all)" if len(names) > _MOST_LISTED else ""
    return f"{wrong}; {f'{hint} ' if hint else ''}it holds: {listed}{more}"
