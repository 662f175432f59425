"""report.html as text: what stands first, what is said, and that nothing breaks out of it."""

import base64
import hashlib
import re
from html.parser import HTMLParser

import pytest

from spokenfor import CAUTIONS
from spokenfor.models import Evidence, Result, Transcript
from spokenfor.reporting.page import report_html

VOID = {"meta", "link", "line", "rect", "use", "path", "circle", "input", "br"}


class Page(HTMLParser):
    """Text by the id of the innermost section, and every tag with its attributes."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.sections: dict[str, str] = {}
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self._section = ""
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag in ("section", "header", "aside"):
            self._section = dict(attrs).get("id") or tag
            self.sections[self._section] = ""

        if self._section and tag in ("td", "dd", "dt", "p", "li"):
            self.sections[self._section] += " "

    def handle_data(self, data):
        if self._section:
            self.sections[self._section] += data

    def text(self, section: str) -> str:
        return " ".join(self.sections[section].split())


@pytest.fixture
def page(result: Result, transcript: Transcript) -> Page:
    return Page(report_html(result, transcript, {0: "left.wav", 1: "right.wav"}))


def test_what_was_skipped_and_found_comes_first(page: Page):
    assert list(page.sections) == [
        "header",
        "not-covered",
        "findings",
        "flagged",
        "sheet",
        "walk",
        "repairs",
        "unheard",
        "transcript",
        "record",
        "dock",
    ]


def test_the_heading_says_what_who_when_and_the_bottom_line(page: Page):
    heading = page.text("header")
    for said in (
        "DEMO-1",
        "helicopter-light-twin 1.0.0",
        "by A. Learner",
        "3 May 2025, 07:41 UTC",
        "2 recordings, 4:38",
        "22 of 40 required items covered · 18 not covered · 4 defects · 2 remarks · 0:23 unheard",
        *CAUTIONS,
    ):
        assert said in heading


def test_every_item_without_a_result_is_listed_as_not_covered(page: Page, result: Result):
    text = page.text("not-covered")
    covered = {"satisfactory", "remark", "defect", "not_fitted"}
    for item in result.items:
        listed = f" {item.label} " in f" {text} "
        assert listed is (item.status.value not in covered or item.by_reference), item.label


# section | words that must stand there
SAID = [
    ("not-covered", "Left windscreen looked for, no result stated"),
    ("not-covered", "Left step named, no result stated"),
    ("not-covered", "Right winch fairing not inspected (said so)"),
    ("not-covered", "No. 2 hydraulic reservoir by reference"),
    ("not-covered", "No. 2 oil level unheard"),
    ("not-covered", "It may have been spoken of here, where it was not heard (too noisy)"),
    ("not-covered", "Tail boom and fin 6 of 6 required, zone not walked"),
    ("not-covered", "Nothing was heard about it, and its zone was not walked."),
    ("findings", "Left brake line: leak defect, found and put right"),
    ("findings", "Tightened that brake line union and rechecked, dry."),
    ("findings", "Loom: chafe defect, unplaced"),
    ("findings", '6 mm ("six millimetres"), against at most 2 mm: beyond it'),
    ("sheet", "First aid kit not fitted"),
    ("sheet", "Left engine cowling satisfactory, inspected later"),
    ("sheet", "Couldn't get at the left cowling, stand in the way."),
    ("sheet", "Said of no line of the sheet 1 Torch"),
    ("walk", "6. Cabin and baggage bay walked 4th out of the sheet's order"),
    ("walk", "4. Tail boom and fin not walked"),
    ("repairs", "I draw a became hydraulic phones 0.86, spelling 0.71, sound +1.5 nats"),
    ("unheard", "rec 1, 2:44 to 2:51 0:07 speech that did not become words Cabin and baggage bay"),
    ("transcript", "Number one I draw a [read as hydraulic] reservoir full, no leaks."),
    ("transcript", "thanks for watching [doubtful: kept, but no item is ticked by it]"),
    ("record", "1a5a" * 16),
    ("record", "signal to noise 17.3 dB, clipped 0.21 %"),
]


@pytest.mark.parametrize(("section", "words"), SAID)
def test_what_stands_where(page: Page, section: str, words: str):
    assert words in page.text(section)


def test_defects_come_before_remarks(page: Page):
    verdicts = re.findall(r"\b(defect|remark)(?:,| )", page.text("findings"))
    assert verdicts == ["defect"] * 4 + ["remark"] * 2


def test_every_flagged_word_is_listed_with_its_reading(page: Page, result: Result):
    readings = [attrs["data-reading"] for tag, attrs in page.tags if "data-reading" in attrs]
    assert readings == [one.reading.value for one in result.flagged_words]


def test_a_flagged_word_that_cannot_be_found_in_its_words_is_still_listed(
    result: Result, transcript: Transcript
):
    result.flagged_words[0].evidence = Evidence(recording=0, start=1, end=2, heard="", text="")
    assert "chips nick looked for" in Page(report_html(result, transcript, {})).text("flagged")


def test_every_id_is_used_once_and_every_inner_link_leads_somewhere(page: Page):
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    links = [attrs.get("href", "") for tag, attrs in page.tags if tag in ("a", "use")]
    assert {link.removeprefix("#") for link in links} <= set(ids)


def test_nothing_is_fetched_and_only_the_pages_own_script_runs(page: Page):
    addresses = {
        value
        for _, attrs in page.tags
        for name, value in attrs.items()
        if name in ("src", "href", "action", "poster", "srcset", "data")
    }
    assert {one for one in addresses if not one.startswith("#")} == {
        "data:,",
        "left.wav",
        "right.wav",
    }
    assert not any("style" in attrs for _, attrs in page.tags)
    assert not any(name.startswith("on") for _, attrs in page.tags for name in attrs)


def test_the_policy_admits_exactly_the_inline_script_and_style(
    result: Result, transcript: Transcript
):
    html = report_html(result, transcript, {})
    for tag in ("script", "style"):
        (inline,) = re.findall(rf"<{tag}>(.*?)</{tag}>", html, re.DOTALL)
        digest = base64.b64encode(hashlib.sha256(inline.encode()).digest()).decode()
        policy = html.split('Content-Security-Policy" content="')[1].split('"')[0]
        assert f"{tag}-src &#39;sha256-{digest}&#39;" in policy or (
            f"{tag}-src 'sha256-{digest}'" in policy
        )
        assert "@import" not in inline and "url(http" not in inline


HOSTILE = [
    "</script><script>window.broken=1</script>",
    '"><img src=x onerror=window.broken=1>',
    "' onclick='window.broken=1",
    "{{ 7 * 7 }}{% for x in y %}",
    "</style><style>*{display:none}</style>",
    "</title></details></section><h1>",
    "&lt;b&gt; &amp;quot;",
    "--> <!-- ]]>",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_breaks_out_of_its_place(result: Result, transcript: Transcript, text: str):
    make_hostile(result, transcript, "harmless words")
    before = Page(report_html(result, transcript, {0: "left.wav"}))
    make_hostile(result, transcript, text)
    after = Page(report_html(result, transcript, {0: "left.wav"}))
    assert [tag for tag, _ in after.tags] == [tag for tag, _ in before.tags]
    assert [sorted(attrs) for _, attrs in after.tags] == [sorted(attrs) for _, attrs in before.tags]
    shown = " ".join(text.split())
    for section in ("header", "findings", "flagged", "sheet", "walk", "transcript", "record"):
        assert shown in after.text(section), section


def make_hostile(result: Result, transcript: Transcript, text: str) -> None:
    """Put the text wherever a file, a pack, a person or a recogniser could have put it."""
    result.inspection.asset = result.inspection.by = result.inspection.id = text
    result.inspection.pack.name = text
    result.cautions[0] = text
    result.recordings[0].file = transcript.recordings[0].file = text
    item = result.items[0]
    item.label = item.ata = item.component = item.note = text
    item.aspects[0].name = text
    result.zones[0].name = text
    for evidence in (item.evidence[0], result.findings[1].evidence):
        evidence.text = evidence.heard = text
    result.findings[1].condition = result.findings[1].note = text
    result.statements[0].evidence.text = text
    result.flagged_words[0].word = result.flagged_words[0].evidence.text = text
    result.repairs[1].heard = result.repairs[1].became = result.repairs[1].why = text
    transcript.segments[1].words[0].text = text


def test_the_same_result_gives_the_same_page(result: Result, transcript: Transcript):
    sound = {0: "left.wav"}
    assert report_html(result, transcript, sound) == report_html(
        result.model_copy(deep=True), transcript.model_copy(deep=True), sound
    )


def test_without_sound_the_page_says_so_and_offers_no_play(result: Result, transcript: Transcript):
    page = Page(report_html(result, transcript, {}))
    assert "No sound came with this report" in page.text("header")
    assert not any(tag in ("audio", "button") for tag, _ in page.tags)


def test_an_empty_walk_is_still_a_report(result: Result, transcript: Transcript):
    for emptied in ("findings", "flagged_words", "statements", "repairs", "unheard", "zones"):
        setattr(result, emptied, [])
    for item in result.items:
        item.statements, item.evidence = [], []
    transcript.segments = []
    page = Page(report_html(result, transcript, {}))
    assert "No defect and no remark was found" in page.text("findings")
    assert "No words." in page.text("transcript")
