"""Long-wave radiation between sky, a partly transparent cover, and the leaves and soil under it."""

from typing import Any

from hoopwright.tables.constants import KELVIN, STEFAN_BOLTZMANN


def emitted(temperature: Any) -> Any:
    """Black-body emission [W/m2] at `temperature` [degC]."""
    kelvin = temperature + KELVIN
    square = kelvin * kelvin
    return STEFAN_BOLTZMANN * square * square


def exchange(
    passed: Any,
    inner: Any,
    outer: Any,
    ground: Any,
    area: Any,
    sky: Any,
    outside: Any,
) -> tuple[Any, Any, Any, Any, Any, Any]:
    """Radiosity of a convex cover over flat ground, as six coefficients.

    passed  : [-] transmittance; inner, outer : [-] emissivity of the two faces
    ground  : [-] emissivity of soil and leaves
    area    : [-] cover area over ground area; the ground sees nothing but cover (F = 1), the cover
              sees itself by 1 - 1/area (reciprocity; e.g. Incropera & DeWitt ch. 13)
    sky     : [W/m2] on open level ground;  outside : [W/m2] mean on the cover's outer face

    Returns (a_c, a_g, a_0, b_c, b_g, b_0) so that, with black-body emissions B [W/m2],
      long-wave on the ground               = a_c B_cover + a_g B_ground + a_0
      absorbed by the cover, both faces     = b_c B_cover + b_g B_ground + b_0
    both per ground area. Film does not scatter: ground sees the true sky through it, and what
    crosses the dome without meeting ground falls on the far film. Grey, diffuse surfaces.
    """
    back = 1.0 - passed - inner
    seen = 1.0 - 1.0 / area
    share = 1.0 / area
    echo = 1.0 - ground
    through_ground = passed * sky
    through_cover = passed * max(0.0, outside - sky * share)
    denominator = 1.0 / (1.0 - back * seen - back * echo * share)
    # Leaving the cover's inner face: own emission and what it reflects.
    leave_c = denominator * inner
    leave_g = denominator * back * ground * share
    leave_0 = denominator * back * (echo * share * through_ground + through_cover)
    a_c, a_g, a_0 = leave_c, leave_g, leave_0 + through_ground
    # Falling on the cover's inner face: from the ground, from itself, and from outside.
    fall_c = share * echo * a_c + seen * leave_c
    fall_g = share * (ground + echo * a_g) + seen * leave_g
    fall_0 = share * echo * a_0 + seen * leave_0 + through_cover
    return (
        a_c,
        a_g,
        a_0,
        area * inner * fall_c,
        area * inner * fall_g,
        area * (inner * fall_0 + outer * outside),
    )


def ground_behind_fabric(passed: Any, emits: Any, ground: Any) -> tuple[Any, Any, Any, Any]:
    """Soil and leaves under a flat fabric, as one ground seen from above.

    passed, emits : [-] of the fabric, both faces;  ground : [-] emissivity underneath
    Returns (x_f, x_g, back, echo): what leaves upward is x_f B_fabric + x_g B_ground + back x what
    comes down; `echo` is the series of reflections between fabric and ground. Parallel planes.
    """
    reflects = 1.0 - passed - emits
    dark = 1.0 - ground
    echo = 1.0 / (1.0 - reflects * dark)
    return (
        emits * (1.0 + passed * dark * echo),
        ground * passed * (1.0 + dark * echo * reflects),
        reflects + passed * passed * dark * echo,
        echo,
    )


def blend(dry: Any, wet: Any, wetness: Any) -> Any:
    """A cover's property between dry (wetness 0) and fully beaded with water (1).

    Linear in the water held: an assumption; the end values are measured (see heat_covers.csv).
    """
    return dry + (wet - dry) * wetness
