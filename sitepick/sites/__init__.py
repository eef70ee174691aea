"""Sites: where the whole unit can camp, ranked, with reasons."""
