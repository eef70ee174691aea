"""Exercise: marks on the ground, what trainees are given, assessment of what they hand in. No Qt here."""
