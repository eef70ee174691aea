"""March: how far and when; pace, halts, daylight and the reach of a day; what it takes of people and stores.

The names below are fetched when they are first asked for: the window wants the loads of the sleds before it shows, and
the rest brings the compiler along.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sitepick.march.day import plan_march
    from sitepick.march.model import HaltRule, Leg, March, TurnBack
    from sitepick.march.needs import Needs, Stop, read_needs
    from sitepick.march.propose import Proposal, propose_way
    from sitepick.march.return_way import minutes_back_to_route
    from sitepick.march.round_trip import minutes_to_and_back

_MODULES = {
    "HaltRule": "model",
    "Leg": "model",
    "March": "model",
    "Needs": "needs",
    "Proposal": "propose",
    "Stop": "needs",
    "TurnBack": "model",
    "minutes_back_to_route": "return_way",
    "minutes_to_and_back": "round_trip",
    "plan_march": "day",
    "propose_way": "propose",
    "read_needs": "needs",
}

__all__ = [
    "HaltRule",
    "Leg",
    "March",
    "Needs",
    "Proposal",
    "Stop",
    "TurnBack",
    "minutes_back_to_route",
    "minutes_to_and_back",
    "plan_march",
    "propose_way",
    "read_needs",
]


def __getattr__(name: str) -> Any:
    if name not in _MODULES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_MODULES[name]}"), name)
