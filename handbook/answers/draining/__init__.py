"""Parts of the questions about drains: what is blocked, a cable's reach, what a pipe carries."""
