"""The errors hullcheck raises, each also a child of the built-in a caller expects."""


class HullcheckError(Exception):
    """Base of every error that is about the input and not about the program."""


class InputError(HullcheckError, ValueError):
    """A value that was given makes no sense."""


class MissingFileError(HullcheckError, FileNotFoundError):
    """A file that was named is not there."""


class MeshFileError(HullcheckError, ValueError):
    """A mesh file cannot be read as what it claims to be."""


class SurfaceError(HullcheckError, ValueError):
    """A surface does not enclose a volume, so nothing can be computed from it."""


class SolverError(HullcheckError, ArithmeticError):
    """No waterline or attitude was found to the stated tolerance."""
