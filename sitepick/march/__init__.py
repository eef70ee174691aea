"""March: how far and when; pace, halts, daylight and the reach of a day."""
