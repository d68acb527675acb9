"""The lines of stepped flying boats, drawn at random: sizes, angles, and the corners they give.

Axes, mm: x aft, y to starboard, z up from the keel's corner at the step.
"""

import math
from dataclasses import asdict, dataclass

import numpy as np


@dataclass(frozen=True, kw_only=True)
class Lines:
    """What a flying boat is drawn from [mm, deg]; z is 0 at the keel's corner at the step."""

    length: float
    beam: float
    deck: float
    deadrise: float
    step_station: float
    step_depth: float
    forebody_keel: float
    afterbody_keel: float
    shoulder: float
    stern_beam_share: float
    stern_deadrise: float
    flare: float
    crown: float
    float_radius: float
    float_length: float
    float_offset: float
    float_height: float


def drawn(seed, index):
    """Return the lines of one flying boat, drawn at random; the same for the same two numbers."""
    rng = np.random.default_rng((seed, index))
    length = rng.uniform(480.0, 900.0)
    beam = length * rng.uniform(0.15, 0.2)
    step = length * rng.uniform(0.44, 0.56)
    return Lines(
        length=length,
        beam=beam,
        deck=beam * rng.uniform(0.62, 0.8),
        deadrise=rng.uniform(8.0, 24.0),
        step_station=step,
        step_depth=length * rng.uniform(0.009, 0.02),
        forebody_keel=rng.uniform(0.0, 3.0),
        afterbody_keel=rng.uniform(3.0, 6.5),
        shoulder=step * rng.uniform(0.5, 0.7),
        stern_beam_share=rng.uniform(0.35, 0.7),
        stern_deadrise=rng.uniform(10.0, 28.0),
        flare=rng.uniform(1.0, 1.12),
        crown=rng.uniform(0.1, 0.35),
        float_radius=beam * rng.uniform(0.13, 0.18),
        float_length=length * rng.uniform(0.14, 0.2),
        float_offset=length * rng.uniform(0.5, 0.62),
        float_height=beam * rng.uniform(0.3, 0.42),
    )


def described(lines):
    """Return the lines as one line of text."""
    return ", ".join(f"{name} {value:.2f}" for name, value in asdict(lines).items())


def corners(lines):
    """Return the corners (station, keel chine knuckle edge, 3), starboard side.

    Stations: bow, shoulder, step ahead, step behind, stern. Behind the step the chine is where the
    knuckle ended, and there is no knuckle: it repeats the chine.
    """
    half, depth, deck = 0.5 * lines.beam, lines.step_depth, lines.deck
    rise = half * math.tan(math.radians(lines.deadrise))
    fore, aft = (math.tan(math.radians(a)) for a in (lines.forebody_keel, lines.afterbody_keel))
    up = fore * (lines.step_station - lines.shoulder)
    post = depth + aft * (lines.length - lines.step_station)
    stern = half * lines.stern_beam_share
    post_rise = stern * math.tan(math.radians(lines.stern_deadrise))
    blunt, stem, top = 0.16 * half, 0.62 * deck, deck - 0.5 * post

    def section(x, breadth, heights):
        across = (0.0, breadth, breadth, breadth * lines.flare)
        return [(x, y, z) for y, z in zip(across, heights, strict=True)]

    middle = np.array([0.0, rise, rise + depth, deck])
    return np.array(
        [
            section(0.0, blunt, (stem, stem + 0.1 * deck, stem + 0.2 * deck, 1.05 * deck)),
            section(lines.shoulder, half, middle + np.array([up, up, up, 0.0])),
            section(lines.step_station, half, middle),
            section(lines.step_station, half, (depth, rise + depth, rise + depth, deck)),
            section(lines.length, stern, post + np.array([0.0, post_rise, post_rise, top])),
        ]
    )
