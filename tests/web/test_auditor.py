"""The auditor's day: open a sealed bag, verify it, replay it, see what was decided and what came again."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect
from tests.record.sealed import seal_signed
from tests.record.walked import BY
from tests.web.test_engineer import until
from tests.web.walks import kept
from tests.web.workbench import CAPTIONS, Workbench

from spokenfor.record.entries import Action
from spokenfor.record.review import Decision, decide

DAMAGED = {
    "sound": ("data/recordings/left side.wav", "data/recordings/left side.wav was changed"),
    "log": ("data/log.jsonl", "entry 2 "),
}


@pytest.fixture(scope="module")
def archive(kept_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workbench]:
    """An inspection in which a status was changed and words corrected, sealed; its bag, as a zip too, and two
    copies of it that somebody changed; and a later inspection of the same asset."""
    root = tmp_path_factory.mktemp("archive") / "root"
    root.mkdir()
    folder = Path(shutil.copytree(kept_once, root / "r07"))
    decide(folder, Decision(Action.CHANGE_STATUS, "f1", BY, "heard it again", status="defect"))
    decide(folder, Decision(Action.CORRECT_WORDS, "s1", BY, words="Nose cone, sound and secure."))
    bag = seal_signed(folder, root.parent / "key")
    for name, (file, _) in DAMAGED.items():
        path = Path(shutil.copytree(bag, root / name)) / file
        content = bytearray(path.read_bytes())
        content[content.index(b"heard it again") if name == "log" else 2000] ^= 1
        path.write_bytes(content)
    shutil.make_archive(str(root / "sent"), "zip", root, bag.name)
    kept(root, "r07-later", day="2025-05-10")
    workbench = Workbench(root)
    yield workbench
    workbench.stop()
    assert "Traceback" not in workbench.errors()


def test_a_bag_is_opened_read_only_and_verified(visit, archive: Workbench):
    page = visit(archive, "/bags")
    page.get_by_role("link", name="r07-sealed", exact=True).click()
    expect(page.get_by_text("Sealed bag, read only")).to_be_visible()
    assert page.get_by_role("link", name="Add a recording").count() == 0
    page.get_by_role("link", name="Review", exact=True).click()
    expect(page.get_by_text("A sealed bag takes no decision.")).to_be_visible()
    assert page.locator("button[data-do]").count() == 0
    page.get_by_role("link", name="Log", exact=True).click()
    log = page.locator("table").first
    expect(log).to_contain_text("remark became defect")
    expect(log).to_contain_text("heard it again")
    expect(log).to_contain_text("Nose cone, sound and secure.")
    expect(page.locator("#repairs")).to_contain_text("No stone")
    page.get_by_role("link", name="Overview", exact=True).click()
    page.locator("#findings button.play:visible").first.click()
    expect(page.locator("#now")).to_contain_text("Playing")
    page.get_by_role("link", name="Verify", exact=True).click()
    expect(page.locator(".verdict").first).to_have_text("As it was sealed")
    rows = page.locator("section[aria-labelledby=h-files] tbody tr")
    assert rows.count() > 10 and page.locator("tbody .bad").count() == 0


@pytest.mark.parametrize("name", DAMAGED)
def test_what_was_changed_is_named(visit, archive: Workbench, name: str):
    page = visit(archive, f"/bags/{name}/verify")
    expect(page.locator(".verdict").first).to_contain_text("Not as it was sealed")
    wrong = page.locator("tbody tr", has=page.locator(".bad"))
    expect(wrong.filter(has_text=DAMAGED[name][1])).to_have_count(1)
    page.get_by_role("button", name="Check it again").click()
    expect(page.get_by_text("The bag is not as it was sealed")).to_be_visible()


def test_a_bag_as_zip_is_the_same(visit, archive: Workbench):
    page = visit(archive, "/bags/sent.zip/verify")
    expect(page.locator(".verdict").first).to_have_text("As it was sealed")
    page.get_by_role("link", name="Open the bag, read only").click()
    expect(page.locator("h1")).to_have_text("R-07")


def test_a_bag_is_replayed_in_one_click(visit, bench: Workbench):
    name = bench.new("R-14")
    assert bench.send(name, "walk.vtt", CAPTIONS.encode()).status_code == 200
    assert bench.check(name)["state"] == "done"
    answer = bench.post(f"/inspections/{name}/seal", data={"by": BY, "despite": "a trial"})
    assert answer.status_code == 303, answer.text
    page = visit(bench, f"{answer.headers['location']}/verify")
    page.get_by_role("button", name="Check it again").click()
    expect(page.get_by_text("The same, byte for byte")).to_be_visible(timeout=60_000)


def test_what_came_again_on_an_asset_is_shown(visit, archive: Workbench):
    page = visit(archive, "/asset?name=r-07")
    expect(page.get_by_role("heading", name="Found more than once")).to_be_visible()
    expect(page.locator("section").first).to_contain_text("Nose tyre")
    page.get_by_role("link", name="3 May 2025").first.click()
    expect(page.locator("h1")).to_have_text("R-07")


def test_a_sealed_inspection_is_reopened_with_a_reason(visit, archive: Workbench):
    page = visit(archive, "/inspections/r07/log")
    page.get_by_label("Your name").fill(BY)
    page.get_by_label("Why").fill("the oil level was read again")
    page.get_by_role("button", name="Reopen").click()
    expect(page.locator("table").first).to_contain_text("the oil level was read again")
    assert page.get_by_role("button", name="Reopen").count() == 0


def test_words_are_found_and_played_where_they_were_said(visit, archive: Workbench):
    page = visit(archive, "/search")
    page.get_by_label("Words").fill("brake line leak*")
    page.get_by_role("button", name="Search").click()
    expect(page.get_by_role("status")).to_contain_text("place")
    expect(page.locator(".found-in h2").first).to_contain_text("R-07")
    expect(page.locator(".hits mark").first).to_be_visible()
    page.locator(".hits a.button").first.click()
    expect(page.locator("#sound-0")).to_be_attached()
    until(page, "document.getElementById('sound-0').currentTime > 20")
    expect(page.get_by_role("heading", name="Transcript as heard")).to_be_visible()
    page.goto(f"{archive.base}/search?q=zeppelin")
    expect(page.get_by_role("status")).to_have_text("Nothing found")
    page.goto(f"{archive.base}/search?q=leak&since=yesterday")
    expect(page.get_by_role("alert")).to_contain_text("is no date")


def test_the_archive_copy_is_made_as_it_stands(archive: Workbench):
    answer = archive.post("/inspections/r07-later/pdf")
    assert answer.status_code == 303
    copy = archive.client.get(answer.headers["location"])
    assert copy.content.startswith(b"%PDF-") and "attachment" in copy.headers["content-disposition"]
