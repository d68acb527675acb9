"""Dirt that files for printing hold: each function gives triangles or parts back with it."""

import numpy as np


def scaled(parts, factor):
    """Return parts with every number multiplied and rounded to 32 bits, as a file holds it."""
    return [(name, (t * factor).astype(np.float32).astype(np.float64)) for name, t in parts]


def one_file(parts):
    """Return all parts as one soup."""
    return [("all parts", np.concatenate([triangles for _, triangles in parts]))]


def flipped(triangles, share, rng):
    """Return the triangles with a share of them turned over."""
    turned = triangles.copy()
    which = rng.uniform(size=len(triangles)) < share
    turned[which] = turned[which, ::-1]
    return turned


def duplicated(triangles, share, rng):
    """Return the triangles with a share of them given twice, half of the copies turned over."""
    copies = triangles[rng.uniform(size=len(triangles)) < share]
    return np.concatenate([triangles, flipped(copies, 0.5, rng)])


def with_missing(triangles, count, rng):
    """Return the triangles without some of them."""
    return np.delete(triangles, rng.choice(len(triangles), size=count, replace=False), axis=0)


def with_t_junctions(triangles, share, rng):
    """Return the triangles with a share of them halved at a side; its neighbor keeps it whole."""
    which = rng.uniform(size=len(triangles)) < share
    split = triangles[which]
    a, b, c = np.moveaxis(split, 1, 0)
    middle = a + rng.uniform(0.3, 0.7, size=(len(split), 1)) * (b - a)
    middle = middle.astype(np.float32).astype(np.float64)
    halves = np.concatenate([np.stack([a, middle, c], axis=1), np.stack([middle, b, c], axis=1)])
    return np.concatenate([triangles[~which], halves])
