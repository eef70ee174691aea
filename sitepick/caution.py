"""A caution: a hazard or a gap in the data that a person must go and look at.

Every stage can raise cautions; they travel with its result to the desk, the sheet and the files.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One thing to go and look at.

    Attributes
    ----------
    kind : str
        A short lower-case word for sorting and joining, such as ``"avalanche"``, ``"ice"``,
        ``"water"``, ``"cold"``, ``"timber"``, ``"data"``, ``"march"``, ``"dark"``, ``"fire"``.
    text : str
        The whole sentence as a person reads it, with its full stop.
    place : str
        Where on the way, word for word as in the text ("5.2 km"); empty: no one place. Cautions that differ
        in nothing else are told as one.
    """

    kind: str
    text: str
    place: str = ""


# What can kill or strand the unit comes first, gaps in the data last.
_GRAVITY = (
    "room", "avalanche", "ice", "flood", "water", "march", "dark", "cold", "timber", "fire", "snow", "sun", "load",
    "food", "limit",
)  # fmt: skip


def gravest_first(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """Cautions by what they may cost, none twice; those of a kind keep their order.

    Parameters
    ----------
    cautions : iterable of Caution
    """
    rank = {kind: number for number, kind in enumerate(_GRAVITY)}
    return tuple(sorted(dict.fromkeys(cautions), key=lambda caution: rank.get(caution.kind, len(rank))))


def joined_by_place(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """The same caution at several places told once, with all of them: ``5.2 km, 7.5 km and 8.7 km from the start``.

    Parameters
    ----------
    cautions : iterable of Caution
    """
    groups: dict[tuple[str, str], list[Caution]] = {}
    for caution in dict.fromkeys(cautions):
        bare = caution.text.replace(caution.place, "{}", 1) if caution.place else caution.text
        groups.setdefault((caution.kind, bare), []).append(caution)
    told = []
    for (kind, bare), alike in groups.items():
        if len(alike) == 1:
            told.append(alike[0])
            continue
        places = [caution.place for caution in alike]
        every = f"{', '.join(places[:-1])} and {places[-1]}"
        told.append(Caution(kind=kind, text=bare.replace("{}", every, 1), place=every))
    return tuple(told)
