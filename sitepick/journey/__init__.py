"""Journey: several days, where each night falls, and routes side by side."""

from sitepick.journey.chain import Chain
from sitepick.journey.journey import journey_day, plan_journey, with_days
from sitepick.journey.model import Candidate, Day, DayDetail, Journey, RouteJourney

__all__ = [
    "Candidate",
    "Chain",
    "Day",
    "DayDetail",
    "Journey",
    "RouteJourney",
    "journey_day",
    "plan_journey",
    "with_days",
]
