"""What is done where water comes from a water heater's relief pipe and nowhere else: the heater's
water stays on, for the valve keeps the tank from bursting. Guides, tags, sheet and the table of
whom to call all say it in these words."""


def keep_away() -> str:
    """Say what whoever finds it does, as a clause without its full stop."""
    return "Keep away, close nothing"
