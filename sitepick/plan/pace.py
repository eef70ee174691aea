"""How the user says the unit moves: a function and level speeds for each mode, and what slows them.

Everything here is a default that can be edited; each says where it comes from. Nothing is worked out here:
`march.pace` does that.
"""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting


@dataclass(frozen=True, slots=True, kw_only=True)
class SlopeFunction:
    """What is known about one way to reckon with slopes.

    Attributes
    ----------
    key : str
        As the plan file names it.
    label : str
        As told to people, after "slopes by".
    modes : tuple of str
        The modes it serves, out of `MODE_PACES`.
    source : str
        Where it was published.
    limits : str
        What it holds for.
    """

    key: str
    label: str
    modes: tuple[str, ...]
    source: str
    limits: str


_WALKING = ("foot", "snowshoe")

SLOPE_FUNCTIONS: tuple[SlopeFunction, ...] = (
    SlopeFunction(
        key="tobler", label="Tobler 1993", modes=_WALKING,
        source="Tobler 1993, NCGIA Technical Report 93-1: 6 exp(-3.5 |S + 0.05|) km/h, 0.6 of it off paths.",
        limits="Lone walkers without a load on bare paths; optimistic for a column and on steep falls.",
    ),
    SlopeFunction(
        key="naismith", label="Naismith and Langmuir", modes=_WALKING,
        source="Naismith 1892: 1 h for 5 km and 1 h for 600 m up; Langmuir: 10 min less for 300 m down between "
               "5 and 12°, 10 min more where steeper.",
        limits="Fit hill walkers on paths in summer, without halts; known to be quick for loaded parties.",
    ),
    SlopeFunction(
        key="irmischer_path", label="Irmischer and Clarke 2018, on paths", modes=_WALKING,
        source="Irmischer and Clarke 2018, Cartography and Geographic Information Science 45:177, as remembered: "
               "copies of it differ in detail.",
        limits="Cadets on paths in summer, slopes of -30 to 30 %.",
    ),
    SlopeFunction(
        key="irmischer_off_path", label="Irmischer and Clarke 2018, off paths", modes=_WALKING,
        source="Irmischer and Clarke 2018, Cartography and Geographic Information Science 45:177, as remembered: "
               "copies of it differ in detail.",
        limits="Cadets finding their own way in summer woods, slopes of -30 to 30 %.",
    ),
    SlopeFunction(
        key="rees", label="Rees 2004", modes=_WALKING,
        source="Rees 2004, Computers and Geosciences 30:203: 0.75 + 0.09 |S| + 14.6 S² s/m.",
        limits="Mountain walkers in summer, most on paths; the same up and down.",
    ),
    SlopeFunction(
        key="winter_card", label="the winter timing card", modes=_WALKING,
        source="Planning card for winter hill walking, as printed in a walkers' magazine in 2018: 3 km/h on snow, "
               "1 min more for 10 m up, 20 s less for 10 m down.",
        limits="Walkers on firm or shallow snow; deeper snow comes on top.",
    ),
    SlopeFunction(
        key="ski_rule", label="Munter's rule", modes=("ski", "tow"),
        source="Munter's rule: (km + m of height / 100) / rate hours, rates 4 up, 6 level, 10 down; partly confirmed.",
        limits="Fit touring parties with skins and light packs; the fall of a hill is no gain to sleds.",
    ),
    SlopeFunction(
        key="vehicle_grade", label="a fifth slower each 4 % uphill", modes=("vehicle", "tow"),
        source="Ours, no source: time grows by a fifth for each 4 % uphill, nothing is gained downhill.",
        limits="Tracked carriers on firm snow; measure your own vehicle.",
    ),
)  # fmt: skip

FUNCTION_KEYS = tuple(function.key for function in SLOPE_FUNCTIONS)
LEVEL_SOURCES = ("table", "function")
BREAKING_WAYS = ("rotation", "lead_party")
HAS_OWN_LEVEL = tuple(key for key in FUNCTION_KEYS if key != "vehicle_grade")


def slope_function(key: str) -> SlopeFunction:
    """What is known about the function with this key, one of `FUNCTION_KEYS`."""
    return SLOPE_FUNCTIONS[FUNCTION_KEYS.index(key)]


@dataclass(frozen=True, slots=True, kw_only=True)
class ModePace:
    """How one mode moves.

    Attributes
    ----------
    function : str
        How slopes count, out of `FUNCTION_KEYS`.
    level_from : str
        ``"table"``: the two speeds here. ``"function"``: the function's own speed on the level for a broken trail;
        an unbroken one keeps its proportion, or the function's own off paths.
    unbroken_kmh, broken_kmh : float
        On level open ground, for a trail to be broken and for a broken one.
    steepest_deg : float
        Steeper ground is a wall.
    """

    function: str = setting("tobler", label="slopes by", choices=FUNCTION_KEYS)
    level_from: str = setting(
        "table", label="level speed from", choices=LEVEL_SOURCES,
        help="The planning rates beside it, or the speed that the function itself gives on the level.",
    )  # fmt: skip
    unbroken_kmh: float = setting(
        label="speed on an unbroken trail", unit="km/h", low=0.2, high=60.0,
        help="On level open ground, without sled, by day; the middle of a planning table, from memory.",
    )  # fmt: skip
    broken_kmh: float = setting(
        label="speed on a broken trail", unit="km/h", low=0.2, high=60.0,
        help="On level open ground, without sled, by day; the middle of a planning table, from memory.",
    )  # fmt: skip
    steepest_deg: float = setting(
        label="steepest ground", unit="°", low=1.0, high=45.0, help="Steeper ground is not entered: common practice."
    )

    def __post_init__(self) -> None:
        check_settings(self)
        if self.level_from == "function" and self.function not in HAS_OWN_LEVEL:
            raise SettingsError(
                f"{slope_function(self.function).label} gives no speed on the level",
                fix="take the level speed from the table",
            )


# Rates from memory (the middle of a cold-region planning table); the vehicle's are ours: a tracked carrier off and
# on a packed trail; people towed on skis behind it hold on at half its speed. Steepest ground: common practice.
MODE_PACES = {
    "foot": ModePace(function="tobler", unbroken_kmh=3.2, broken_kmh=3.2, steepest_deg=30.0),
    "snowshoe": ModePace(function="tobler", unbroken_kmh=2.4, broken_kmh=3.2, steepest_deg=30.0),
    "ski": ModePace(function="ski_rule", unbroken_kmh=3.2, broken_kmh=4.8, steepest_deg=25.0),
    "vehicle": ModePace(function="vehicle_grade", unbroken_kmh=8.0, broken_kmh=15.0, steepest_deg=15.0),
    "tow": ModePace(function="vehicle_grade", unbroken_kmh=6.0, broken_kmh=8.0, steepest_deg=8.0),
}


# Common practice: what costs no speed, a full sled, and those who pull it.
USUAL_LOAD_KG, USUAL_SLED_KG, USUAL_TEAM_COUNT = 18.0, 90.0, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class PaceSettings:
    """What the march's speed is reckoned from.

    Attributes
    ----------
    foot, snowshoe, ski, vehicle, tow : ModePace
        How each mode moves; `tow`: on skis behind a vehicle.
    is_towed : bool
        By vehicle: people hang on behind instead of riding.
    breaking : str
        Who breaks an unbroken trail: ``"rotation"`` at the head of the column, or a ``"lead_party"`` that goes ahead.
    lead_margin_min : float
        How much earlier still the lead party leaves, so that the main body doesn't tread on its heels.
    sinking_cm : float or None
        How deep a boot sinks in beside the trail, as measured; None: reckoned from the snow's depth and density.
    night_frac : float
        Speed in the dark against that by day.
    fresh_frac : float
        What tiredness from earlier days leaves of the speed.
    load_kg : float or None
        On each back; None: by the kit list.
    load_free_kg, load_loss_frac : float
        What costs no speed; the share of speed that each further 4.5 kg costs.
    sled_kg, sled_team_count : float or None, int or None
        A sled with its load, and how many pull it; None: by the kit list and the plan's loads.
    sled_frac, sled_uphill_frac, sled_uphill_percent, sled_steepest_deg : float
        Speed with 30 kg of sled a head against that without; the same uphill, on slopes from so many percent on;
        and the steepest ground for a sled.
    white_ice_cm, vehicle_kg : float
        White ice over the clear, which counts half; the loaded vehicle that the ice must bear.
    """

    foot: ModePace = MODE_PACES["foot"]
    snowshoe: ModePace = MODE_PACES["snowshoe"]
    ski: ModePace = MODE_PACES["ski"]
    vehicle: ModePace = MODE_PACES["vehicle"]
    tow: ModePace = MODE_PACES["tow"]
    is_towed: bool = False
    breaking: str = setting(
        "rotation", label="who breaks the trail", choices=BREAKING_WAYS,
        help="The head of the column in turns, or a party that leaves before it.",
    )  # fmt: skip
    lead_margin_min: float = setting(
        15.0, label="head start of the lead party", unit="min", low=0.0, high=720.0,
        help="Besides the time that it needs for breaking; ours.",
    )  # fmt: skip
    sinking_cm: float | None = setting(
        None, label="a boot sinks", unit="cm", low=0.0, high=150.0,
        help="Beside the trail, as measured; empty: reckoned from the snow's depth and density.",
    )  # fmt: skip
    night_frac: float = setting(
        0.65, label="speed in the dark", low=0.1, high=1.0,
        help="Against that by day: 0.65 across country, 0.8 on roads and broken trails (FM 21-18: 1.6 of 2.5, "
             "3.2 of 4.0 km/h).",
    )  # fmt: skip
    fresh_frac: float = setting(
        1.0, label="speed left by earlier days", low=0.3, high=1.0,
        help="1 for rested people; a journey reckons it for each of its days.",
    )  # fmt: skip
    load_kg: float | None = setting(
        None, label="load on each back", unit="kg", low=0.0, high=80.0,
        help="Leave empty to take the kit list's. Over 33 kg is more than people march with and stay fit (from memory, "
             "FM 21-18).",
    )  # fmt: skip
    load_free_kg: float = setting(
        18.0, label="load that costs no speed", unit="kg", low=0.0, high=80.0, help="From memory, FM 21-18."
    )
    load_loss_frac: float = setting(
        0.083, label="speed lost for each 4.5 kg more", low=0.0, high=0.5,
        help="From memory, FM 21-18: 2 km less in a march of six hours at 4 km/h.",
    )  # fmt: skip
    sled_kg: float | None = setting(
        None, label="a loaded sled weighs", unit="kg", low=0.0, high=300.0,
        help="Leave empty to take the kit list's. A hauling sled carries at most 90 kg for a section: common practice.",
    )  # fmt: skip
    sled_team_count: int | None = setting(
        None, label="people at each sled", low=1, high=12,
        help="Leave empty to take the Unit page's. Three or four and one to brake: from memory.",
    )  # fmt: skip
    sled_frac: float = setting(
        0.7, label="speed with 30 kg of sled a head", low=0.2, high=1.0,
        help="Against that without: 0.6 to 0.8, common practice.",
    )  # fmt: skip
    sled_uphill_frac: float = setting(
        0.5, label="the same uphill", low=0.1, high=1.0, help="Common practice: half the speed without a sled."
    )
    sled_uphill_percent: float = setting(
        8.0, label="uphill for a sled from", unit="%", low=1.0, high=40.0, help="Common practice: more than 8 %."
    )
    sled_steepest_deg: float = setting(
        20.0, label="steepest ground for a sled", unit="°", low=1.0, high=45.0,
        help="Beyond it a sled is roped or carried: common practice.",
    )  # fmt: skip
    white_ice_cm: float = setting(
        0.0, label="white ice", unit="cm", low=0.0, high=300.0,
        help="Snow ice over the clear ice, measured; it counts half: common practice.",
    )  # fmt: skip
    vehicle_kg: float = setting(
        5000.0, label="the loaded vehicle weighs", unit="kg", low=100.0, high=60_000.0,
        help="Ice is checked against it by Gold's rule, with what the rule is known to overrate taken off.",
    )  # fmt: skip

    @property
    def told_load_kg(self) -> float:
        """The load on each back; a usual one where neither the user nor a kit list gave it."""
        return USUAL_LOAD_KG if self.load_kg is None else self.load_kg

    @property
    def sled_head_kg(self) -> float:
        """What each of a sled's team pulls; of a usual sled where neither the user nor a kit list gave it."""
        sled_kg = USUAL_SLED_KG if self.sled_kg is None else self.sled_kg
        return sled_kg / (USUAL_TEAM_COUNT if self.sled_team_count is None else self.sled_team_count)

    def __post_init__(self) -> None:
        check_settings(self)
        for key in MODE_PACES:
            mode_pace: ModePace = getattr(self, key)
            if key not in slope_function(mode_pace.function).modes:
                raise SettingsError(
                    f"slopes by {slope_function(mode_pace.function).label} don't serve the mode {key}",
                    fix=f"take one of {', '.join(functions_for(key))}",
                )
        if self.sled_uphill_frac > self.sled_frac:
            raise SettingsError(
                f"the speed with a sled is {self.sled_uphill_frac:g} uphill and {self.sled_frac:g} on the level",
                fix="let it be no quicker uphill",
            )


def functions_for(mode: str) -> tuple[str, ...]:
    """Keys of the functions that serve a mode."""
    return tuple(function.key for function in SLOPE_FUNCTIONS if mode in function.modes)


def mode_key(mode: str, pace: PaceSettings) -> str:
    """Which of the mode paces a mode uses: its own, or ``"tow"`` behind a vehicle."""
    return "tow" if mode == "vehicle" and pace.is_towed else mode
