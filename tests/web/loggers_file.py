"""An invented logger's file for the tests of the evidence page."""

import math
from datetime import datetime, timedelta

START = datetime(2026, 4, 9)


def log(days=12, head="Time (MDT),Inside °F,Outside °F"):
    """Return an invented logger's file: 3 °F warmer at night, 15 by day."""
    rows = [head]
    for hour in range(24 * days):
        outside = 45 + 13 * math.sin(2 * math.pi * (hour - 9) / 24) + 5 * math.sin(hour // 24 * 1.7)
        inside = outside + 3 + 12 * max(0.0, math.sin(2 * math.pi * (hour - 6) / 24))
        when = START + timedelta(hours=hour + 1)
        rows.append(f"{when:%Y-%m-%d %H:%M},{inside:.1f},{outside:.1f}")
    return "\n".join(rows).encode()
