"""The local workbench: the same functions as the command line, in a browser, for engineer, trainer and
auditor. It uses every other stage; none of them uses it."""
