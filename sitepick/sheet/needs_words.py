"""How effort, food, water, fuel and loads read on everything that is handed out, and on the desk."""

from __future__ import annotations

from sitepick.march.effort import LegEffort
from sitepick.march.needs import SNOW, WATER, Needs
from sitepick.march.needs_cautions import goods_words
from sitepick.march.sled_load import Sled
from sitepick.plan.kit import STOWED, KitItem
from sitepick.plan.model import Plan
from sitepick.sheet.words import count_words, kilometres
from sitepick.terrain.chill import WARM_C, frostbite, wind_chill_c

STOWING_RULE = (
    "Heavy and bulky goods lie low and aft and are lashed, stove and food forward, tools on top where they come to "
    "hand first."
)  # common practice
_PLACE_WORDS = {"low aft": "Low and aft", "forward": "Forward", "to hand": "To hand", "anywhere": "Between"}
HEATER_WORDS = "A heating stove burns besides, by memory about 19 L a night and tent."


def energy_words(needs: Needs) -> str:
    """What the day takes of a body, and whether a ration covers it."""
    least = "at least " if needs.is_at_least else "about "
    text = f"The day takes {least}{_kcal(needs.walk.total_kcal)} kcal a person"
    if needs.pull is not None:
        text += f", {_kcal(needs.pull.total_kcal)} of one who pulls all the way"
    lack = round(needs.short_kcal, -1)
    if needs.is_at_least and lack == 0.0:
        covers = "covers that"
    else:
        covers = "covers it" if lack == 0.0 else f"leaves {_kcal(lack)} open"
    unknown = " The depth of the snow isn't known, so it may be more." if needs.is_at_least else ""
    return f"{text}; a ration of {_kcal(needs.ration_kcal)} kcal {covers}.{unknown}"


def food_words(needs: Needs, people: int) -> str:
    """Food for the whole unit."""
    return f"Food for the unit: {count_words(people, 'ration')}; the day takes {_kcal(needs.unit_kcal)} kcal in all."


def water_words(needs: Needs, people: int) -> str:
    """How much water, and where it comes from."""
    text = f"{_litres(needs.water_l / people)} of water a person, {_litres(needs.water_l)} in all. {needs.water_words}"
    if needs.water_source == SNOW:
        text += f" It takes {_litres(needs.melting.snow_l)} of snow."
    return text


def fuel_words(needs: Needs) -> str:
    """White gas for the water."""
    text = f"White gas to boil it: {_litres(needs.fuel_l)} ({needs.fuel_kg:.1f} kg)"
    if needs.water_source == SNOW:
        return f"{text}; only to melt it, {_litres(needs.melting.melt_fuel_l)}."
    if needs.water_source == WATER:
        return (
            f"{text}; were it melted from {_litres(needs.melting.snow_l)} of snow instead, "
            f"{_litres(needs.melting.boil_fuel_l)}."
        )
    return f"{text}."


def load_words(needs: Needs) -> str:
    """What lies on backs and sleds."""
    lightest, heaviest = min(kg for _, kg in needs.carried_kg), max(kg for _, kg in needs.carried_kg)
    back = f"{heaviest:.0f} kg" if heaviest - lightest < 0.5 else f"{lightest:.0f} to {heaviest:.0f} kg"
    text = f"On each back {back}, clothing included"
    if not needs.sleds:
        return f"{text}; no sleds."
    most = max(needs.sleds, key=lambda sled: sled.load_kg)
    over = sum(sled.over_kg > 0.0 for sled in needs.sleds)
    told = f", {over} over the limit" if over else ""
    return (
        f"{text}; {count_words(len(needs.sleds), 'sled')}, the heaviest with {most.load_kg:.1f} of "
        f"{most.limit_kg:g} kg{told}."
    )


def sled_words(sled: Sled) -> str:
    """One sled: its weight against the limit, who pulls it, what lies where."""
    over = f", {sled.over_kg:.1f} kg over" if sled.over_kg > 0.0 else ""
    text = f"{sled.name}: {sled.load_kg:.1f} of {sled.limit_kg:g} kg{over}, {sled.pullers} in harness."
    if not sled.goods:
        return f"{text} Empty."
    for place in STOWED:
        goods = [one for one in sled.goods if one.stowed == place]
        if goods:
            text += f" {_PLACE_WORDS[place]}: {goods_words(goods)}."
    if sled.guests:
        owners = sorted({one.section for one in sled.guests})
        text += f" {goods_words(sled.guests)} of {', '.join(owners)} ride along: their own sled is full."
    return text


def sled_lines(needs: Needs) -> tuple[str, ...]:
    """Every sled, those that are loaded alike told together."""
    alike: dict[object, list[Sled]] = {}
    for sled in needs.sleds:
        goods = tuple((one.name, one.weight_kg, one.count, one.stowed) for one in sled.goods)
        alike.setdefault((goods, sled.pullers, sled.name if sled.guests else ""), []).append(sled)
    return tuple(sled_words(sleds[0]) if len(sleds) == 1 else _each_words(sleds) for sleds in alike.values())


def _each_words(sleds: list[Sled]) -> str:
    rest = sled_words(sleds[0]).removeprefix(f"{sleds[0].name}: ")
    return f"{'; '.join(sled.name for sled in sleds)}, each {rest}"


def sled_weights(needs: Needs) -> str:
    """All sleds by what lies on them, in one line; empty without sleds."""
    told = [f"{sled.load_kg:.1f} ({sled.section})" for sled in needs.sleds]
    return f"On the sleds, kg: {', '.join(told)}. What lies where is told in the order." if told else ""


def leg_words(leg: LegEffort) -> str:
    """The effort of one leg, such as ``310 W (410 W in harness), 450 kcal (590 kcal)``."""
    if leg.pull_w is None or leg.pull_kcal is None:
        return f"{_ten(leg.walk_w)} W, {_ten(leg.walk_kcal)} kcal"
    return (
        f"{_ten(leg.walk_w)} W, {_ten(leg.pull_w)} W in harness; {_ten(leg.walk_kcal)} and {_ten(leg.pull_kcal)} kcal"
    )


def open_words(leg: LegEffort) -> str:
    """How much of a leg lies open, and what it feels like there."""
    if leg.open_m < 5.0:
        return "none"
    if leg.chill is None:
        return kilometres(leg.open_m)
    felt = f"{leg.chill.felt_c:.0f}".replace("-", "−")
    return f"{kilometres(leg.open_m)}, feels like {felt} °C"


def chill_words(plan: Plan) -> str:
    """What the night's cold and the open wind feel like, as the end of a sentence; empty where it isn't known."""
    temperature_c, wind_kmh = plan.weather.temperature_c, plan.weather.mean_wind_kmh
    if temperature_c is None or wind_kmh is None or temperature_c > WARM_C:
        return ""
    felt = f"{wind_chill_c(temperature_c, wind_kmh):.0f}".replace("-", "−")
    return f": feels like {felt} °C, {frostbite(temperature_c, wind_kmh).text}"


def tick_words(plan: Plan) -> str:
    """How much of the kit list is checked."""
    taken = taken_kit(plan)
    if not taken:
        return "The kit list is empty."
    ticked = sum(item.is_ticked for item in taken)
    return f"{ticked} of {count_words(len(taken), 'thing')} on the kit list {'is' if ticked == 1 else 'are'} ticked."


def taken_kit(plan: Plan) -> tuple[KitItem, ...]:
    """What is taken along this time."""
    return tuple(item for item in plan.load.kit if item.number > 0)


def kit_words(item: KitItem) -> str:
    """One thing: how many, what one weighs, for whom, where it travels."""
    number = f"{item.number} × " if item.number > 1 else ""
    return f"{number}{item.name}, {item.weight_kg:g} kg, each {item.whose}, on the {item.carried}"


def _kcal(value: float) -> str:
    return f"{round(value, -1):,.0f}".replace(",", " ")


def _ten(value: float) -> str:
    return f"{round(value, -1):.0f}"


def _litres(volume_l: float) -> str:
    return f"{volume_l:.0f} L" if volume_l >= 10.0 else f"{volume_l:.1f} L"
