"""The sentence that was said, and the measured numbers in it. All wordings: *common practice*, our own words."""

from __future__ import annotations

from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from spacy.language import Language
from tests.spoken import PACK, spoken

from spokenfor.models import Quantity
from spokenfor.reading.document import CUES, QUANTITIES
from spokenfor.reading.heard_doc import transcript_doc
from spokenfor.reading.pipeline import COMPONENTS, build


@lru_cache(maxsize=1)
def pipeline() -> Language:
    return build(PACK)


def quantities(said: str) -> list[Quantity]:
    """The span group as the components up to the quantities leave it."""
    doc = transcript_doc(pipeline().vocab, spoken(said))
    for name in COMPONENTS[: COMPONENTS.index("spokenfor_quantities") + 1]:
        doc = pipeline().get_pipe(name)(doc)
    return [span._.quantity for span in doc.spans[QUANTITIES]]


MEASURED = [
    # as it is spoken
    ("Nose tyre, seventy psi.", [(70, "psi")]),
    ("Two and a half mil on the pads.", [(2.5, "millimeter")]),
    ("Crack in the door, three quarters of an inch long.", [(0.75, "inch")]),
    ("An eighth of an inch.", [(0.125, "inch")]),
    ("Three eighths of an inch.", [(0.375, "inch")]),
    ("Five thirty-seconds of an inch.", [(0.15625, "inch")]),
    ("Two and three eighths inches of chrome.", [(2.375, "inch")]),
    ("An inch and a half of chrome.", [(1.5, "inch")]),
    ("Inch and three quarters of chrome.", [(1.75, "inch")]),
    ("Half an inch.", [(0.5, "inch")]),
    ("About a litre.", [(1, "liter")]),
    ("Point oh two of a millimetre.", [(0.02, "millimeter")]),
    ("Nought point one five millimetres of play.", [(0.15, "millimeter")]),
    ("Two point seventy five mil.", [(2.75, "millimeter")]),
    ("A tenth of a millimetre.", [(0.1, "millimeter")]),
    ("Five thousandths of a millimetre.", [(0.005, "millimeter")]),
    ("Five thousandths of an inch.", [(5, "thou")]),
    ("Accumulator, nine eighty psi.", [(980, "psi")]),
    ("Three fifty psi.", [(350, "psi")]),
    ("One oh five psi.", [(105, "psi")]),
    ("One five zero psi.", [(150, "psi")]),
    ("Twenty eight hundred psi.", [(2800, "psi")]),
    ("Twenty eight fifty psi.", [(2850, "psi")]),
    ("Two nine fifty psi.", [(2950, "psi")]),
    ("One thousand, two hundred psi.", [(1200, "psi")]),
    ("Three thousand psi.", [(3000, "psi")]),
    ("Two and a half thousand psi.", [(2500, "psi")]),
    ("A hundred and ten psi.", [(110, "psi")]),
    ("Zero psi.", [(0, "psi")]),
    ("Minus five degrees.", [(-5, "degree")]),
    ("Fifteen degrees C.", [(15, "degree_Celsius")]),
    ("Ninety pounds per square inch.", [(90, "psi")]),
    ("Torqued to twenty five newton metres.", [(25, "newton * meter")]),
    ("A couple of thou.", [(2, "thou")]),
    # rates
    ("About three drops a minute.", [(3, "count / minute")]),
    ("A drop a minute.", [(1, "count / minute")]),
    ("One drop every ten seconds.", [(6, "count / minute")]),
    ("Half a litre an hour.", [(0.5, "liter / hour")]),
    # ranges, and numbers that share a unit
    ("Between 88 and 92 psi.", [(88, "psi"), (92, "psi")]),
    ("Somewhere from sixty eight to seventy psi.", [(68, "psi"), (70, "psi")]),
    ("Ten to twelve mil.", [(10, "millimeter"), (12, "millimeter")]),
    ("Two or three drops a minute.", [(2, "count / minute"), (3, "count / minute")]),
    ("Tyres are ninety and ninety two psi.", [(90, "psi"), (92, "psi")]),
    ("Left tyre eighty eight, right tyre ninety psi.", [(88, "psi"), (90, "psi")]),
    ("Ninety psi on the left, ninety two on the right.", [(90, "psi"), (92, "psi")]),
    ("Fifteen mil across and one mil deep.", [(15, "millimeter"), (1, "millimeter")]),
    # how exactly
    ("Ninety psi plus or minus two.", [(90, "psi")]),
    ("Just under two mil left.", [(2, "millimeter")]),
    ("No more than two thou.", [(2, "thou")]),
    ("About an inch or so.", [(1, "inch")]),
    # as a recogniser writes it
    ("150 psi", [(150, "psi")]),
    ("150PSI", [(150, "psi")]),
    ("150 P.S.I. on the gauge.", [(150, "psi")]),
    ("1,200 psi", [(1200, "psi")]),
    ("2.5mm", [(2.5, "millimeter")]),
    (".5 mm", [(0.5, "millimeter")]),
    ("0.5 millimeters", [(0.5, "millimeter")]),
    ("20 thou", [(20, "thou")]),
    ('3/8" and 3/8 inch', [(0.375, "inch"), (0.375, "inch")]),
    ("1 1/2 inches", [(1.5, "inch")]),
    ("1-1/2 inches", [(1.5, "inch")]),
    ("2½ inches", [(2.5, "inch")]),
    ("5°", [(5, "degree")]),
    ("15°C", [(15, "degree_Celsius")]),
    ("90-92 psi", [(90, "psi"), (92, "psi")]),
    ("90%", [(90, "percent")]),
    ("24.6V on the battery.", [(24.6, "volt")]),
    ("2,950 PSI", [(2950, "psi")]),
    # taken back
    ("Seventeen, sorry, seventy psi.", [(70, "psi")]),
    ("Seventeen psi, sorry, seventy.", [(70, "psi")]),
    ("Seventeen psi, no, seventy psi.", [(70, "psi")]),
    ("Battery's twenty two, make that twenty four point two volts.", [(24.2, "volt")]),
    ("Ninety psi on the left, sorry, right.", [(90, "psi")]),
    ("Pumped it from sixty up to seventy psi.", [(70, "psi")]),
    # the limit beside the number
    ("The limit's two mil, we've got one and a half mil.", [(1.5, "millimeter")]),
    ("Should be between 85 and 95 psi, it's ninety psi.", [(90, "psi")]),
    ("It was ninety psi last week, it's eighty eight now.", [(88, "psi")]),
]


@pytest.mark.parametrize(("said", "expected"), MEASURED, ids=[said for said, _ in MEASURED])
def test_a_number_with_a_unit_is_a_quantity(said: str, expected: list[tuple[float, str]]) -> None:
    found = quantities(said)
    assert [one.unit for one in found] == [unit for _, unit in expected]
    assert [one.value for one in found] == pytest.approx([value for value, _ in expected])


NOT_MEASURED = [
    # levels in words
    "Fluid level is half way up the glass.",
    "Oil's three quarters of the way up, between the marks.",
    "Just below minimum.",
    # names, places in a row, dates, times, registrations
    "Number one engine, number two system.",
    "Blade one, blade two and blade three are good.",
    "R zero seven at Fellbeck. R07, R one one.",
    "The third blade, the twenty first rivet, 3rd of May 2026.",
    "Twelfth of June, half past ten, quarter to two, ten to twelve.",
    "It's 10:30 and we start at ten thirty hours.",
    "This one bar a scratch is good.",
    "Two bolts, three rivets and one screw.",
    "Two V belts and a V band clamp.",
    # limits that are quoted, and what is only expected, supposed or asked
    "The limit is two mil.",
    "Two mil is the limit.",
    "The limit for the nose tyre is 65 psi.",
    "Maximum of two thou.",
    "Anything over two mil and it's out.",
    "It should be ninety psi.",
    "If it drops below sixty psi we pump it up.",
    "Is that ninety psi?",
    "I'm looking for ninety psi here.",
    # a manner of speaking
    "I'm a hundred percent sure.",
    "Ninety nine percent certain.",
]


@pytest.mark.parametrize("said", NOT_MEASURED)
def test_what_was_not_measured_is_no_quantity(said: str) -> None:
    assert quantities(said) == []


def test_names_of_blades_before_a_number() -> None:
    assert [one.value for one in quantities("Blades one and two five mil of play.")] == [5]


def test_a_range_is_quoted_whole() -> None:
    said = [(one.value, one.text) for one in quantities("Reads between 88 and 92 psi.")]
    assert said == [(88, "between 88 and 92 psi"), (92, "between 88 and 92 psi")]


def test_words_of_a_number_are_no_cues() -> None:
    """ "Less than" negates nothing here, and "and a" ends no clause."""
    doc = transcript_doc(pipeline().vocab, spoken("Less than two and a half mil of play."))
    for name in COMPONENTS[: COMPONENTS.index("spokenfor_quantities") + 1]:
        doc = pipeline().get_pipe(name)(doc)
    inside = doc.spans[QUANTITIES][0]
    assert [cue.text for cue in doc.spans[CUES] if cue.start < inside.end] == []


@settings(deadline=None, max_examples=60, derandomize=True)
@given(st.text("0123456789.,-/°%\"½ psimbaronetwhdyquf'", max_size=40))
def test_any_line_can_be_searched_for_quantities(text: str) -> None:
    for one in quantities(text):
        assert one.unit and one.within is None


@settings(deadline=None, max_examples=40, derandomize=True)
@given(
    st.integers(1, 99_999).map(lambda number: number / 100),
    st.sampled_from([("psi", "psi"), ("mm", "millimeter"), ("volts", "volt"), ("bar", "bar")]),
)
def test_figures_and_units_come_back_as_written(value: float, unit: tuple[str, str]) -> None:
    found = quantities(f"It reads {value:g} {unit[0]} here.")
    assert [(one.value, one.unit) for one in found] == [(float(f"{value:g}"), unit[1])]
