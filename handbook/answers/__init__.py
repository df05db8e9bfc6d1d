"""What can be asked of a house: one file a question, pure functions, small typed results."""
