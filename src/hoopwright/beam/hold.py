"""How the foot of a hoop is held: free to turn, turned back by two straps, or not turning."""

from __future__ import annotations

from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Hold:
    """The hold of one foot (both feet of a hoop are held alike).

    turning: True where the pipe may turn at the top strap.
    spacing: distance between the top and the lower strap [m]; 0 for one strap or a clamp.
    """

    turning: bool
    spacing: float = 0.0

    @staticmethod
    def one_strap() -> Hold:
        """One strap: the pipe turns freely in it."""
        return Hold(turning=True)

    @staticmethod
    def two_straps(spacing: float) -> Hold:
        """Two straps `spacing` [m] apart; the pipe between them may bow.

        The embedded length a is a beam on two supports turned at its end: rotation M a / (3 EI),
        the simple-beam end rotation of any strength-of-materials text. Where the pipe lies flat on
        the board between the straps it is stiffer, nearer to a clamp.
        """
        if not spacing > 0.0:
            raise ValueError("the spacing of two straps must be greater than zero")
        return Hold(turning=True, spacing=spacing)

    def condition(self, length: float) -> tuple[float, float]:
        """Weights (a, b) of the foot condition a * moment = b * rotation, per unit EI / length.

        Rotation is the turn of the foot away from upright. One strap: (1, 0). Clamp: (0, 1).
        Two straps: (spacing / (3 length), 1).
        """
        if not self.turning:
            return 0.0, 1.0
        if self.spacing == 0.0:
            return 1.0, 0.0
        return self.spacing / (3.0 * length), 1.0
