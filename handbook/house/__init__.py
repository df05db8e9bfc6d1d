"""A record become a house: its places, and its water, drain and gas networks; all immutable."""
