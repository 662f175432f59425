"""The engineer's day in a real browser: record, check, listen, decide with keys, add, seal."""

from __future__ import annotations

import io
import json

from PIL import Image
from playwright.sync_api import Page, expect
from tests.web.workbench import Workbench

BY = "A. Engineer"
PLAYING = "!document.getElementById('sound-{0}').paused"


def until(page: Page, condition: str, steps: int = 200) -> None:
    # Not wait_for_function: it evaluates text inside the page, which the page's policy forbids.
    for _ in range(steps):
        if page.evaluate(condition):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never came true: {condition}")


# What the page of a check showed of the sheet, however short it stood there.
WATCH = """new MutationObserver(() => {
  const filling = document.getElementById("filling");
  if (filling && !filling.hidden) sessionStorage.setItem("seen", filling.textContent);
}).observe(document, { subtree: true, childList: true, characterData: true });"""


def test_record_check_review_with_keys_and_seal(visit, bench: Workbench):
    page = visit(bench)
    page.add_init_script(WATCH)
    page.get_by_role("link", name="New inspection").click()
    page.get_by_label("Asset").fill("R-11")
    page.get_by_label("Your name").fill(BY)
    page.get_by_role("button", name="Start").click()

    expect(page.locator("#to-say summary")).to_have_text("What the sheet asks for 200")
    page.get_by_role("button", name="Record", exact=True).click()
    expect(page.locator("#rec-state")).to_have_text("Recording")
    until(page, "document.getElementById('level').value > 0.3")
    page.wait_for_timeout(6500)
    expect(page.locator("#rec-stored")).to_contain_text("stored")
    page.get_by_role("button", name="Pause").click()
    expect(page.locator("#rec-state")).to_have_text("Paused")
    page.get_by_role("button", name="Go on").click()
    page.wait_for_timeout(1500)
    page.get_by_role("button", name="End").click()
    expect(page.locator("#sounds li")).to_contain_text("recorded-01.webm")

    page.get_by_role("button", name="Check").click()
    expect(page.get_by_role("heading", name="Being checked")).to_be_visible()
    page.wait_for_url(lambda url: not url.endswith("/record"), timeout=90_000)
    seen = page.evaluate("sessionStorage.getItem('seen')")
    assert "of 200 required items covered" in seen and "nose section" in seen
    expect(page.locator("h1")).to_have_text("R-11")
    expect(page.locator("#sheet .line.satisfactory").first).to_be_visible()
    folder = next(one for one in bench.root.iterdir() if "R-11" in one.name)
    report = json.loads((folder / "report.json").read_text())
    assert "nose" in " ".join(one["evidence"]["text"].lower() for one in report["statements"])

    page.get_by_role("link", name="Transcript", exact=True).click()
    word = page.locator(".w").nth(3)
    word.click()
    until(page, PLAYING.format(0))
    start = float(word.get_attribute("data-s"))
    until(page, f"document.getElementById('sound-0').currentTime > {start}")
    expect(page.locator(".w.now")).to_have_count(1)

    page.get_by_role("link", name="Seal", exact=True).click()
    page.get_by_label("Your name").fill(BY)
    if page.get_by_label("Why it is sealed with points undecided").count():
        page.get_by_label("Why it is sealed with points undecided").fill("a trial walk")
    page.get_by_role("button", name="Seal", exact=True).click()
    expect(page.get_by_text("Sealed bag, read only")).to_be_visible()
    page.get_by_role("link", name="Verify", exact=True).click()
    expect(page.locator(".verdict").first).to_contain_text("As it was sealed")


def test_a_recording_goes_on_over_a_restart_of_the_workbench(visit, bench: Workbench):
    name = bench.new()
    page = visit(bench, f"/inspections/{name}/record")
    page.get_by_role("button", name="Record", exact=True).click()
    expect(page.locator("#rec-stored")).to_contain_text("stored")
    bench.kill()
    expect(page.locator("#rec-stored")).to_contain_text("does not answer")
    bench.command = ("serve", str(bench.root), "--port", bench.port)
    bench.start()
    expect(page.locator("#rec-stored")).to_contain_text("started again")
    page.context.new_page().goto(bench.entrance)
    expect(page.locator("#rec-stored")).to_contain_text("pieces stored")
    page.get_by_role("button", name="End").click()
    expect(page.locator("#sounds li")).to_contain_text("recorded-01.webm")
    stored = bench.root / f".workbench/drafts/{name}/sounds/01/recorded-01.webm"
    assert stored.read_bytes().startswith(b"\x1aE\xdf\xa3")


def test_decisions_are_taken_with_keys_alone(visit, bench: Workbench):
    page = visit(bench, "/inspections/r07/review")
    page.get_by_label("Deciding as").fill(BY)
    page.keyboard.press("Enter")
    page.keyboard.press("j")
    page.keyboard.press(" ")
    until(page, "[0, 1].some((n) => !document.getElementById(`sound-${n}`).paused)")
    line = page.locator(".subject:focus")
    subject = line.get_attribute("data-subject")
    page.keyboard.press("a")
    expect(page.locator("#said")).to_contain_text("accept. Entry 2")
    expect(page.locator(f'[data-subject="{subject}"] .decided')).to_contain_text(f"accept by {BY}")

    page.keyboard.press("j")
    changed = page.locator(".subject:focus").get_attribute("data-subject")
    page.keyboard.press("c")
    expect(page.get_by_role("dialog")).to_be_visible()
    page.keyboard.press("Home")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#ask-wrong")).to_contain_text("needs a reason")
    page.get_by_label("Why").fill("heard it again")
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog")).to_be_hidden()
    expect(page.locator(f'[data-subject="{changed}"] .decided')).to_contain_text("heard it again")

    log = (bench.root / "r07/log.jsonl").read_text().splitlines()
    actions = [json.loads(one)["action"] for one in log]
    assert actions == ["check", "accept", "change_status"]
    page.get_by_role("link", name="Log", exact=True).click()
    expect(page.locator("table").first).to_contain_text("heard it again")
    reviewed = bench.root / "r07/reviewed.html"
    bench.until(lambda: reviewed.exists() and "heard it again" in reviewed.read_text())


def test_two_people_deciding_at_once_are_told(visit, bench: Workbench):
    first, second = (visit(bench, "/inspections/r07/review") for _ in range(2))
    for page in (first, second):
        page.get_by_label("Deciding as").fill(BY)
        page.keyboard.press("Enter")
    first.keyboard.press("a")
    expect(first.locator("#said")).to_contain_text("Entry 2")
    second.keyboard.press("a")
    expect(second.locator("#said")).to_contain_text("has decided")


def test_lines_and_the_waveform_play_from_there(visit, shared: Workbench):
    page = visit(shared, "/inspections/r07")
    line = page.locator("#findings .line", has_text="Nose tyre")
    line.locator("> button.play").click()
    until(page, "document.getElementById('sound-0').currentTime > 25")
    drawing = page.locator("svg.waveform")
    expect(drawing).to_be_visible()
    box = drawing.bounding_box()
    # Three quarters of 182 s and 96 s: 26.5 s into the second recording.
    drawing.click(position={"x": box["width"] * 0.75, "y": 20})
    until(page, "document.getElementById('sound-1').currentTime > 26")
    assert page.evaluate("document.getElementById('sound-1').currentTime") < 29


def test_sound_is_answered_by_range(shared: Workbench):
    whole = shared.client.get("/inspections/r07/sound/0")
    part = shared.client.get("/inspections/r07/sound/0", headers={"Range": "bytes=1000-1999"})
    assert part.status_code == 206
    assert part.headers["content-range"] == f"bytes 1000-1999/{len(whole.content)}"
    assert part.content == whole.content[1000:2000]


def test_files_are_dropped_and_a_broken_one_is_explained(visit, bench: Workbench):
    page = visit(bench, f"/inspections/{bench.new()}/record")
    page.get_by_label("Drop recordings or photos here").set_input_files(
        [
            {"name": "notes.txt", "mimeType": "text/plain", "buffer": b"no sound"},
            {"name": "walk.wav", "mimeType": "audio/wav", "buffer": b"RIFF\x10\0\0\0WAVEjunk" * 9},
        ]
    )
    expect(page.locator("#sending .wrong")).to_contain_text("This kind of file is not taken")
    expect(page.locator("#sounds li")).to_contain_text("walk.wav")
    page.get_by_role("button", name="Check").click()
    expect(page.get_by_role("alert")).to_contain_text("walk.wav", timeout=30_000)
    expect(page.get_by_role("button", name="Try again")).to_be_visible()
    page.get_by_role("button", name="Remove walk.wav").click()
    expect(page.locator("#sounds li")).to_have_count(0)


def test_a_second_recording_is_added_to_what_was_checked(visit, bench: Workbench, narration):
    page = visit(bench, "/inspections/r07")
    page.get_by_role("link", name="Add a recording").click()
    expect(page.locator("#to-say summary")).to_contain_text("Not covered yet")
    assert page.locator("#to-say li").count() > 1
    twin = {
        "name": "again.wav",
        "mimeType": "audio/wav",
        "buffer": narration.read_bytes(),
    }
    taken = io.BytesIO()
    Image.new("RGB", (64, 48), "grey").save(taken, "JPEG")
    photo = {"name": "oleo.jpg", "mimeType": "image/jpeg", "buffer": taken.getvalue()}
    page.get_by_label("Drop recordings or photos here").set_input_files([twin, photo])
    expect(page.locator("#sounds li")).to_have_count(2)
    page.get_by_role("button", name="Check").click()
    page.wait_for_url(lambda url: not url.endswith("/record"), timeout=60_000)
    expect(page.locator(".about")).to_contain_text("3 recordings")
    assert (bench.root / "r07/earlier/1/report.json").is_file()
    until(page, "document.querySelector('#photos img').naturalWidth === 64")
