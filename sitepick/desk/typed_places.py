"""Places that a person types: grid references, apart by semicolons."""

from __future__ import annotations

from sitepick.desk.translation import tr
from sitepick.errors import SettingsError
from sitepick.exercise.grid_reference import ReferenceFaultError, read_place
from sitepick.grid import Grid
from sitepick.plan.model import LonLat


def typed_places(text: str, grid: Grid | None) -> tuple[LonLat, ...]:
    """The places of a text, in their order.

    Parameters
    ----------
    text : str
    grid : Grid or None
        Of the ground, from which short references are filled in; None before there is an answer.

    Raises
    ------
    SettingsError
        There is no ground yet, or a part of the text names no place.
    """
    if grid is None:
        raise SettingsError(tr("the ground isn't read yet"), fix=tr("wait for the first answer, then try again"))
    places = []
    for part in text.split(";"):
        try:
            places.append(read_place(part, grid).place)
        except ReferenceFaultError as fault:
            raise SettingsError(f"{part.strip()!r}: {fault}", fix=tr("write it like 34W DA 67413 26991")) from fault
    return tuple(places)
