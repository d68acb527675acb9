"""What the checks against other geometry kernels share: the kernels, the bodies, the planes."""

import importlib
import os

import numpy as np
import pytest


def required(module):
    """Return a module of an outside library; where it is missing, fail under CI=true, else skip."""
    try:
        return importlib.import_module(module)
    except ModuleNotFoundError as missing:
        reason = f"{missing.name} is not installed; pip install 'hullcheck[test]' brings it"
        if os.environ.get("CI", "").lower() == "true":
            pytest.fail(f"{reason}, and CI=true does not let this check be left out", pytrace=False)
        pytest.skip(reason, allow_module_level=True)


def planes(triangles, count, seed):
    """Return unit normals (count, 3) and heights (count,) of planes that cut a body well inside.

    Half of them are near level, as water is for a craft afloat, half are turned any way; the middle
    four fifths of the body's extent along the normal hold the plane.
    """
    rng = np.random.default_rng(seed)
    normals = rng.normal(size=(count, 3))
    normals[::2] = [0.0, 0.0, 1.0] + 0.1 * normals[::2]
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    extent = triangles.reshape(-1, 3) @ normals.T
    low, high = extent.min(axis=0), extent.max(axis=0)
    return normals, low + rng.uniform(0.1, 0.9, size=count) * (high - low)


def indexed(triangles):
    """Return points (m, 3) and faces (n, 3), corners equal to the last bit made one point."""
    points, faces = np.unique(triangles.reshape(-1, 3), axis=0, return_inverse=True)
    return points, faces.reshape(-1, 3)


def tetrahedra(triangles):
    """Return volume and centroid that a closed surface encloses, by tetrahedra from one corner."""
    a, b, c = np.moveaxis(triangles - triangles[0, 0], 1, 0)
    sixfold = np.einsum("ni,ni->n", a, np.cross(b, c))
    total = sixfold.sum()
    return total / 6.0, triangles[0, 0] + (sixfold @ (a + b + c)) / (4.0 * total)
