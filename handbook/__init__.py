"""A house-systems handbook, computed from a record of its as-built plumbing."""
