"""A level or the lot as a plan: walls, doors, stairs, things and lines, composed for a map."""
