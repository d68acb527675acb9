"""Array types, and the one way a record takes an array in."""

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
BoolArray = npt.NDArray[np.bool_]


def owned(values: npt.ArrayLike, shape: tuple[int, ...]) -> FloatArray:
    """Return finite values as a read-only float64 array of the given shape; −1 is any length.

    The values are copied, unless they come as such an array already.
    """
    array = np.asarray(values)
    if array.flags.writeable or not array.flags.c_contiguous or array.dtype != np.float64:
        array = np.array(values, dtype=np.float64, order="C")
    if array.ndim != len(shape) or any(
        wanted not in {-1, given} for wanted, given in zip(shape, array.shape, strict=True)
    ):
        raise ValueError(f"an array of shape {array.shape} was given where {shape} was wanted")
    if not np.isfinite(array).all():
        raise ValueError("an array holds a value that is not a finite number")
    array.setflags(write=False)
    return array


def bounds(triangles: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the least and the greatest coordinates of triangles (n, 3, 3), as two points."""
    points = triangles.reshape(-1, 3)
    whole = len(points) // _BLOCK * _BLOCK
    # Rows of many points are reduced along the fast axis: ten times quicker than rows of three.
    blocks = points[:whole].reshape(-1, 3 * _BLOCK)
    low, high = points[whole:], points[whole:]
    if whole:
        low = np.concatenate((low, blocks.min(axis=0).reshape(-1, 3)))
        high = np.concatenate((high, blocks.max(axis=0).reshape(-1, 3)))
    return low.min(axis=0), high.max(axis=0)


_BLOCK = 128
