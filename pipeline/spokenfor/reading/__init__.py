"""Reading: from a Transcript to statements, by a spaCy pipeline of our own components."""
