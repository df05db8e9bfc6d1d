"""Parts of the questions about hot water: ways from the heater, closed systems, scald times."""
