"""Closed bodies that overlap, made one."""

from collections.abc import Sequence

from hullcheck.errors import SurfaceError
from hullcheck.geometry.shells import Shell, outer_shells
from hullcheck.geometry.solids import as_solid, mesh_of
from hullcheck.geometry.topology import merged

_OVERLAP_SHARE = 1e-9


def overlapping(one: Shell, two: Shell) -> bool:
    """Return whether two closed bodies share volume: more than 1e-9 of the smaller one."""
    if (one.low_mm >= two.high_mm).any() or (two.low_mm >= one.high_mm).any():
        return False
    shared = (_manifold(one) ^ _manifold(two)).volume()
    return bool(shared > _OVERLAP_SHARE * min(one.volume_mm3, two.volume_mm3))


def united(name: str, shells: Sequence[Shell]) -> tuple[Shell, ...]:
    """Return the outer shells of the union of closed bodies.

    Parameters
    ----------
    name : str
        What the result is called in messages.
    shells : sequence of Shell
        Bodies in body axes [mm].

    Returns
    -------
    tuple of Shell
        Largest first; voids between the bodies are dropped.

    Raises
    ------
    SurfaceError
        If the bodies cannot be united.
    """
    from manifold3d import Manifold, OpType

    whole = Manifold.batch_boolean([_manifold(shell) for shell in shells], OpType.Add)
    triangles = mesh_of(whole).triangles
    if len(triangles) == 0:
        raise SurfaceError(f"{name}: the overlapping bodies could not be united")
    return outer_shells(name, triangles).shells


def _manifold(shell: Shell) -> "Manifold":  # type: ignore[name-defined]  # noqa: F821
    """Return a shell as a solid of the boolean library, in double precision."""
    from manifold3d import Error

    solid = as_solid(merged(shell.triangles_mm))
    if solid.status() != Error.NoError:
        raise SurfaceError(
            f"a body of {shell.volume_mm3 / 1000:.3g} cm³ overlaps another and cannot be united "
            f"with it ({solid.status().name}); unite them in the CAD program"
        )
    return solid
