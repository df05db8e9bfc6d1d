"""Riser diagrams: which points and pipes of the water and of the drains stand in them, unplaced."""
