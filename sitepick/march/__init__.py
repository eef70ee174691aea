"""March: how far and when; pace, halts, daylight and the reach of a day."""

from sitepick.march.day import plan_march
from sitepick.march.model import HaltRule, Leg, March
from sitepick.march.propose import Proposal, propose_way
from sitepick.march.round_trip import minutes_to_and_back

__all__ = ["HaltRule", "Leg", "March", "Proposal", "minutes_to_and_back", "plan_march", "propose_way"]
