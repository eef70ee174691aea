"""How each factor is told: its name, its unit, the side that a limit makes sense on, where its curve comes from."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class FactorWords:
    """How one factor is told.

    Attributes
    ----------
    label, unit : str
    better, worse : str
        What a site has more of, or is worse in, than another ("denser evergreens", "fewer evergreens").
    limit : str
        ``"min"`` or ``"max"``: the side that a limit makes sense on.
    source : str
        Where the usual curve comes from.
    """

    label: str
    unit: str
    better: str
    worse: str
    limit: str
    source: str


FACTOR_WORDS: dict[str, FactorWords] = {
    "forest": FactorWords(
        label="evergreen forest", unit="share", better="denser evergreens", worse="fewer evergreens",
        limit="min", source="common practice: dense evergreens well above open ground",
    ),
    "slope": FactorWords(
        label="slope", unit="°", better="leveller ground", worse="steeper ground",
        limit="max", source="common practice: 2-4 % best, 10 % the limit for a whole unit",
    ),
    "wind": FactorWords(
        label="wind at the shelters", unit="share", better="less wind", worse="more wind",
        limit="max", source="common practice: 10-30 % of the open wind in closed conifers",
    ),
    "water": FactorWords(
        label="way to water and back", unit="min", better="water nearer by", worse="water farther off",
        limit="max", source="common practice: near water is a bonus, snow is the fallback",
    ),
    "room": FactorWords(
        label="room to spare", unit="shelters", better="more room", worse="less room",
        limit="min", source="common practice: everyone on one site, at the spacing",
    ),
    "progress": FactorWords(
        label="share of the day's way", unit="share", better="more of the way behind", worse="less of the way behind",
        limit="min", source="ours: a stop before half the day's march is no stop for the night",
    ),
    "detour": FactorWords(
        label="way off the route", unit="min", better="nearer the route", worse="farther off the route",
        limit="max", source="ours: a minute off the route costs two, in and out",
    ),
    "cold": FactorWords(
        label="cold air gathering", unit="share", better="less cold air", worse="more cold air",
        limit="max", source="common practice: on a bench 10-40 m above the floor, never in a hollow",
    ),
    "depth": FactorWords(
        label="depth in the forest", unit="m", better="deeper in the forest", worse="nearer the forest's edge",
        limit="min", source="common practice: the thick part of a forest is best",
    ),
    "boughs": FactorWords(
        label="evergreens within 150 m", unit="share", better="more boughs near", worse="fewer boughs near",
        limit="min", source="ours: half evergreens leave boughs to choose from",
    ),
    "fuel": FactorWords(
        label="dead wood within 150 m", unit="share", better="more fuel near", worse="less fuel near",
        limit="min", source="ours, on the scale of the cover's legend",
    ),
    "steepest": FactorWords(
        label="steepest cell", unit="°", better="no cell so steep", worse="a steeper cell",
        limit="max", source="common practice: no floor over 10°",
    ),
    "level_chance": FactorWords(
        label="chance of keeping the slope's limit", unit="share", better="surer slopes", worse="less sure slopes",
        limit="min", source="ours: nine in ten is good enough",
    ),
    "seen_tracks": FactorWords(
        label="seen from tracks and roads", unit="share",
        better="less seen from tracks", worse="more seen from tracks",
        limit="max", source="ours: a few looks find a camp",
    ),
    "seen_route": FactorWords(
        label="seen from the route", unit="share",
        better="less seen from the route", worse="more seen from the route",
        limit="max", source="ours: a few looks find a camp",
    ),
    "seen_observers": FactorWords(
        label="seen by marked observers", unit="share",
        better="less seen by observers", worse="more seen by observers",
        limit="max", source="ours: who is marked is there to look",
    ),
    "seen_air": FactorWords(
        label="open to the air", unit="share", better="more hidden from the air", worse="less hidden from the air",
        limit="max", source="common practice: closed crowns overhead",
    ),
    "sun": FactorWords(
        label="direct sun", unit="h", better="more sun", worse="less sun",
        limit="min", source="ours: an hour or two dries clothes and charges cells",
    ),
    "way_slope": FactorWords(
        label="steepest bit of the way in", unit="°", better="a gentler way in", worse="a steeper way in",
        limit="max", source="ours: from 10° a loaded sled is hauled by more than its team",
    ),
    "way_going": FactorWords(
        label="slowest going on the way in", unit="times",
        better="easier going on the way in", worse="harder going on the way in",
        limit="max", source="ours, on the scale of the cover's legend",
    ),
    "approaches": FactorWords(
        label="fall of the ground all round", unit="°",
        better="ground that falls away more", worse="ground that falls away less",
        limit="min", source="common practice: no ground looks down on the camp",
    ),
    "view": FactorWords(
        label="ground in view from the edge", unit="share", better="more ground in view", worse="less ground in view",
        limit="min", source="ours: posts see most of what comes",
    ),
    "morning": FactorWords(
        label="way back to the route next day", unit="min",
        better="sooner back on the route", worse="later back on the route",
        limit="max", source="ours, as the way off the route",
    ),
    "hazards": FactorWords(
        label="distance to known hazards", unit="m", better="hazards farther off", worse="hazards nearer",
        limit="min", source="ours, beside the limits that keep camps off them anyway",
    ),
}  # fmt: skip
