"""Comparing: two or more walks side by side, for the trainer. Only the command line and the web import it."""
