"""spokenfor: from a spoken walk-round to a check sheet that shows the sound behind every line."""

__version__ = "0.1.0"

CAUTIONS = (
    "An aid to record-keeping. It is not maintenance data and it releases nothing to service.",
    "It defers to approved maintenance data, local rules and licensed staff.",
    "Speech may be misheard: listen to the sound behind a line before you rely on it.",
    "Every line is a proposal until a named person has reviewed it.",
)
