"""The draft at a given attitude: bisection on displaced volume, sped up by Newton steps."""

from hullcheck.errors import InputError, SolverError
from hullcheck.geometry.arrays import FloatArray
from hullcheck.geometry.moment_tree import Displacing
from hullcheck.geometry.moments import VolumeMoments

VOLUME_TOLERANCE = 1e-13
_STEPS = 200


def settle(
    tree: Displacing,
    normal: FloatArray,
    volume_mm3: float,
    *,
    height: float | None = None,
    tolerance: float = VOLUME_TOLERANCE,
) -> tuple[float, VolumeMoments]:
    """Return the height of the plane that displaces a volume, and what lies under it.

    Parameters
    ----------
    tree : MomentTree or like it
        Moments of the skin.
    normal : ndarray, shape (3,)
        Unit normal out of the water.
    volume_mm3 : float
        Volume to displace [mm³], above 0 and below the whole.
    height : float, optional
        Where to begin, above the tree's origin [mm].
    tolerance : float, default 1e-13
        Allowed |V − volume| as a share of the volume.

    Returns
    -------
    height : float
        Above the tree's origin along the normal [mm].
    moments : VolumeMoments

    Raises
    ------
    InputError
        If the volume is not between 0 and the whole.
    SolverError
        If the bracket closes without reaching the tolerance, which a closed skin cannot do.

    Notes
    -----
    The displaced volume never falls as the plane rises, so a bracket always holds the answer. A
    Newton step (dV/dh is the waterplane area) is taken only where it lands inside the bracket, and
    bisection wherever the bracket did not halve: a flat deck on the plane, where the area jumps,
    cannot throw it off.
    """
    box = 0.5 * (tree.high_mm - tree.low_mm)
    reach = float(abs(normal) @ box)
    low, high = -reach, reach
    if not volume_mm3 > 0.0:
        raise InputError(f"volume to displace {volume_mm3:g} mm³: must be above 0")
    here = 0.0 if height is None or not low < height < high else height
    width = high - low
    best: tuple[float, float, VolumeMoments] | None = None
    for count in range(_STEPS):
        under = tree.under(normal, here)
        missing = volume_mm3 - under.volume
        if best is None or abs(missing) < best[0]:
            best = (abs(missing), here, under)
        if abs(missing) <= tolerance * volume_mm3:
            return here, under
        if missing > 0.0:
            low = here
        else:
            high = here
        if high - low <= 4e-16 * reach:
            break
        newton = here + missing / under.area if under.area > 0.0 else high
        slow = high - low > 0.5 * width
        width = high - low
        here = newton if low < newton < high and not (slow and count > 3) else 0.5 * (low + high)
    return _closest(best, volume_mm3, reach)


def _closest(
    best: tuple[float, float, VolumeMoments] | None, volume_mm3: float, reach: float
) -> tuple[float, VolumeMoments]:
    """Return the best plane met, if it is as good as rounding lets it be."""
    if best is None:
        raise SolverError("no plane was tried")
    missing, height, under = best
    # One unit in the last place of the height moves the volume by this much.
    rounding = 1e-15 * reach * max(under.area, reach * reach) + 1e-12 * volume_mm3
    if missing > rounding:
        raise SolverError(
            f"no waterline displaces {volume_mm3:g} mm³: the closest is off by {missing:g} mm³"
        )
    return height, under
