"""The one error that the output floor raises for what a user can put right."""

from __future__ import annotations


class OutputError(Exception):
    """Something could not be written; the message says what and what to do, in plain words."""
