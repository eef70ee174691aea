"""A caution: a hazard or a gap in the data that a person must go and look at.

Every stage can raise cautions; they travel with its result to the desk, the sheet and the files.
"""

from __future__ import annotations

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
    """

    kind: str
    text: str
