"""How do templates become pages? One jinja2 environment for reports, comparisons and the workbench."""

from __future__ import annotations

from importlib.resources import files

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined

from spokenfor.reporting.wording import clock, counted, duration, listed


def environment(*packages: str) -> Environment:
    """An environment with the templates of these packages and, behind them, of the reports. Text is escaped,
    a name that is not given is an error, and numbers and names are said as in the reports."""
    made = Environment(
        loader=ChoiceLoader([PackageLoader(name) for name in (*packages, "spokenfor.reporting")]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters |= {"clock": clock, "duration": duration, "counted": counted, "listed": listed}
    return made


def report_style() -> str:
    """The style sheet of a page that stands alone."""
    return "".join(map(static_text, ("tokens.css", "page.css", "print.css")))


def with_printing(script: str) -> str:
    """A page's script with what opens everything for print."""
    return script + static_text("printing.js")


def static_text(name: str) -> str:
    """A style sheet or script of the report."""
    return files("spokenfor.reporting").joinpath("templates", name).read_text(encoding="utf-8")
