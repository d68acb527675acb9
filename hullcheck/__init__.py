"""hullcheck: where a small seaplane floats, from the mesh of her hull.

Axes and signs, everywhere: body axes are right-handed and fixed in the craft, x aft from the datum
(stations grow towards the tail), y to starboard, z up. Lengths are millimeters, masses grams,
volumes cm³, areas cm², densities kg/m³, moments g·mm; angles are degrees in results and radians
inside. The water surface holds the points p with n·p = h, n the unit vector up out of the water.
Trim is positive bow up, heel positive starboard down, a righting arm positive when it turns her to
port.
"""

__version__ = "0.1.0"
