"""`python -m handbook` is the `handbook` command."""

from handbook.cli import main

main()
