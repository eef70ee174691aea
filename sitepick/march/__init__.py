"""March: how far and when; pace, halts, daylight and the reach of a day; what it takes of people and stores."""

from sitepick.march.day import plan_march
from sitepick.march.model import HaltRule, Leg, March, TurnBack
from sitepick.march.needs import Needs, Stop, read_needs
from sitepick.march.propose import Proposal, propose_way
from sitepick.march.return_way import minutes_back_to_route
from sitepick.march.round_trip import minutes_to_and_back

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
