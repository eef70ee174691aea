"""What it takes to melt snow where there is no water: snow, heat, fuel.

Pure functions; the plan knows how dense the snow is and how cold.
"""

from __future__ import annotations

from dataclasses import dataclass

WATER_L_PER_PERSON = 5.5  # common practice: 5-6 L a day on heavy marches in the cold
USUAL_SNOW_C = -20.0  # where the temperature isn't known
BOILING_C = 100.0

# Heat of ice by degree, of melting and of water by degree, kJ/kg; physics.
_ICE_KJ, _MELTING_KJ, _WATER_KJ = 2.09, 334.0, 4.186
# White gas, from memory; a stove in the cold leaves less than half of the heat in the pot: common practice.
_FUEL_KJ_PER_KG, _FUEL_KG_PER_L, _STOVE_FRAC = 44_000.0, 0.71, 0.45


@dataclass(frozen=True, slots=True, kw_only=True)
class Melting:
    """What a unit's water for a day costs.

    Attributes
    ----------
    water_l, snow_l : float
        Water wanted, and the snow that it takes.
    melt_fuel_l, boil_fuel_l : float
        White gas to melt it, and to bring it to the boil.
    """

    water_l: float
    snow_l: float
    melt_fuel_l: float
    boil_fuel_l: float


def heat_kj_per_l(snow_c: float, water_c: float = 0.0) -> float:
    """Heat that a litre of water takes out of snow.

    Parameters
    ----------
    snow_c : float
        Of the snow; above 0 °C as at 0.
    water_c : float
        Of the water wanted, 0-100.
    """
    return _ICE_KJ * max(0.0, -snow_c) + _MELTING_KJ + _WATER_KJ * water_c


def fuel_l_per_l(heat_kj: float) -> float:
    """Litres of white gas for a litre of water that takes so much heat."""
    return heat_kj / (_FUEL_KJ_PER_KG * _STOVE_FRAC) / _FUEL_KG_PER_L


def boiling_fuel_l(water_l: float) -> float:
    """Litres of white gas to bring cold water to the boil, as from under the ice."""
    return water_l * fuel_l_per_l(_WATER_KJ * BOILING_C)


def fuel_kg(fuel_l: float) -> float:
    """Weight of so many litres of white gas."""
    return fuel_l * _FUEL_KG_PER_L


def snow_l_per_l(snow_density_kg_m3: float) -> float:
    """Litres of snow for a litre of water."""
    return 1000.0 / snow_density_kg_m3


def melting_for(people: int, snow_density_kg_m3: float, temperature_c: float | None) -> Melting:
    """What a unit's water for a day costs in snow and fuel.

    Parameters
    ----------
    people : int
    snow_density_kg_m3 : float
    temperature_c : float or None
        Of the snow; None: `USUAL_SNOW_C`.
    """
    water_l = people * WATER_L_PER_PERSON
    snow_c = USUAL_SNOW_C if temperature_c is None else temperature_c
    return Melting(
        water_l=water_l,
        snow_l=water_l * snow_l_per_l(snow_density_kg_m3),
        melt_fuel_l=water_l * fuel_l_per_l(heat_kj_per_l(snow_c)),
        boil_fuel_l=water_l * fuel_l_per_l(heat_kj_per_l(snow_c, BOILING_C)),
    )
