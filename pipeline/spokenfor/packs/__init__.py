"""Packs: reading, checking and compiling the trade vocabularies and check sheets of vocab/."""
