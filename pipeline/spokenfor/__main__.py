"""`python -m spokenfor`: the same as the command `spokenfor`."""

from spokenfor.cli import run

run()
