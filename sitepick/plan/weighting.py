"""How what counts becomes one score, and how far the score may be off."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting

LonLat = tuple[float, float]
MEANS = ("arithmetic", "geometric")


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighting:
    """How the factors' scores become one, and the errors that the ranking is tried against.

    Attributes
    ----------
    mean : str
        ``"arithmetic"``: the weighted mean of the scores; ``"geometric"``: one bad thing spoils it, and a score of 0
        makes the whole 0.
    weight_error_frac, wind_error_deg, wind_speed_error_frac : float
        Within what the draws vary each weight, the bearing the wind comes from, and its speed. The error of
        the pace is `MarchSettings.pace_error_frac`, that of the slope comes from the heights.
    draw_count : int
        How often the ranking is drawn.
    """

    mean: str = setting(
        "arithmetic", label="way to the score", choices=MEANS,
        help="The mean lets good things make up for a bad one; the other way, one bad thing spoils a site.",
    )  # fmt: skip
    weight_error_frac: float = setting(
        0.25, label="error of the weights", low=0.0, high=1.0, help="How far what you think counts may be off, a share."
    )
    wind_error_deg: float = setting(
        22.5, label="error of the wind's direction", unit="°", low=0.0, high=180.0, help="Either side of the forecast."
    )
    wind_speed_error_frac: float = setting(
        0.3, label="error of the wind's speed", low=0.0, high=0.9, help="How far the speed may be off, as a share."
    )
    draw_count: int = setting(2000, label="draws", low=100, high=20000, help="How often the ranking is tried.")

    def __post_init__(self) -> None:
        check_settings(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteMark:
    """What the user says of the site that lies at a place.

    Attributes
    ----------
    place : (lon_deg, lat_deg)
        It stays with the ground, whatever rank the site there has.
    name : str
        Instead of the name made from the map; empty: none.
    is_pinned : bool
        Listed whatever its rank, as long as it keeps the limits.
    is_hidden : bool
        Neither listed nor ranked.
    """

    place: LonLat
    name: str = ""
    is_pinned: bool = False
    is_hidden: bool = False

    def __post_init__(self) -> None:
        lon, lat = self.place
        if not (-180.0 <= lon <= 180.0 and -90.0 <= lat <= 90.0):
            raise SettingsError(
                f"a marked site lies at longitude {lon:g}, latitude {lat:g}",
                fix="give longitude and latitude in degrees, longitude first",
            )
        if self.is_pinned and self.is_hidden:
            raise SettingsError("a site is both kept in the list and hidden", fix="choose one of them")

    @property
    def says_nothing(self) -> bool:
        """Whether the mark holds no wish any more."""
        return not (self.name or self.is_pinned or self.is_hidden)


def ring_crosses_itself(ring: tuple[LonLat, ...]) -> bool:
    """Whether two sides of a ring cross or lie on each other.

    Parameters
    ----------
    ring : tuple of (lon_deg, lat_deg)
        Closed or not.
    """
    points = [point for point, after in pairwise((*ring, ring[0])) if point != after]
    sides = list(pairwise((*points, points[0])))
    for k, one in enumerate(sides):
        for other_number in range(k + 1, len(sides)):
            is_next = other_number == k + 1 or (k == 0 and other_number == len(sides) - 1)
            if _meet(one, sides[other_number], is_next=is_next):
                return True
    return False


def _meet(one: tuple[LonLat, LonLat], other: tuple[LonLat, LonLat], *, is_next: bool) -> bool:
    """Whether two sides share more than the corner that neighbours share."""
    (a, b), (c, d) = one, other
    turns = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if is_next:
        # Neighbours meet again only where one runs back along the other.
        corner, end, far = (b, a, d) if b == c else (a, b, c)
        back = (end[0] - corner[0]) * (far[0] - corner[0]) + (end[1] - corner[1]) * (far[1] - corner[1])
        return all(turn == 0.0 for turn in turns) and back > 0.0
    if turns[0] * turns[1] < 0.0 and turns[2] * turns[3] < 0.0:
        return True
    touching = ((a, b, c, turns[0]), (a, b, d, turns[1]), (c, d, a, turns[2]), (c, d, b, turns[3]))
    return any(turn == 0.0 and _is_between(start, end, point) for start, end, point, turn in touching)


def _turn(a: LonLat, b: LonLat, c: LonLat) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _is_between(start: LonLat, end: LonLat, point: LonLat) -> bool:
    return min(start[0], end[0]) <= point[0] <= max(start[0], end[0]) and min(start[1], end[1]) <= point[1] <= max(
        start[1], end[1]
    )
