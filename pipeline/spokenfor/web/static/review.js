// Review with keys alone: the line in focus is the one that keys act on. The server has the last word: a line
// is replaced by what it stands at after the decision.
import { change, elsewhere } from "./session.js";

const base = document.getElementById("main").dataset.base;
const who = document.getElementById("by");
const said = document.getElementById("said");
const ask = document.getElementById("ask");
const by = (id) => document.getElementById(id);
let seen = Number(document.querySelector("script[data-entries]").dataset.entries);

who.value = localStorage.getItem("deciding-as") || "";
who.addEventListener("change", () => localStorage.setItem("deciding-as", who.value.trim()));
by("who").addEventListener("submit", (event) => {
  event.preventDefault();
  go(current() || lines()[0]);
});

const lines = () => [...document.querySelectorAll(".subject")];
const current = () => document.activeElement.closest(".subject");

const go = (line) => {
  if (!line) return;
  for (const one of document.querySelectorAll('.subject[tabindex="0"]')) one.tabIndex = -1;
  line.tabIndex = 0;
  line.focus();
};

const step = (by) => {
  const all = lines();
  const at = all.indexOf(current());
  go(at < 0 ? all[0] : all[Math.min(all.length - 1, Math.max(0, at + by))]);
};

const nextOpen = (after) => {
  const all = lines();
  const at = all.indexOf(after);
  const open = [...all.slice(at + 1), ...all.slice(0, at + 1)].find((one) => one.classList.contains("todo"));
  go(open || all[Math.min(all.length - 1, at + 1)]);
};

const decide = async (line, fields) => {
  if (!who.value.trim()) {
    said.textContent = "Give your name first.";
    who.focus();
    return false;
  }
  localStorage.setItem("deciding-as", who.value.trim());
  const body = new URLSearchParams({ ...fields, subject: line.dataset.subject, by: who.value, seen });
  let answer;
  let now;
  try {
    answer = await change(`${base}/decisions`, { method: "POST", body });
    now = answer.status === 403 ? { wrong: "the page is of an earlier start", mend: elsewhere } : await answer.json();
  } catch {
    said.textContent = "The workbench does not answer: nothing was decided.";
    return false;
  }
  if (!answer.ok) {
    said.textContent = `Not decided: ${now.wrong}. ${now.mend}.`;
    by("ask-wrong").textContent = said.textContent;
    return false;
  }
  const label = line.querySelector(".label b").textContent;
  if (now.line) {
    const holder = document.createElement("ul");
    holder.append(...new DOMParser().parseFromString(`<ul>${now.line}</ul>`, "text/html").querySelector("ul").childNodes);
    const fresh = holder.querySelector(".subject");
    line.replaceWith(fresh);
    line = fresh;
  }
  seen = Math.max(seen, now.entry);
  const count = document.getElementById("open-count");
  if (count) count.textContent = now.open;
  said.textContent = `${label}: ${fields.action.replace("_", " ")}. Entry ${now.entry}, ${now.open} to decide.`;
  return line;
};

const questions = {
  change: { title: "Change", status: true, why: "Why (must be said)", action: "change_status" },
  place: { title: "Place on a line of the sheet", place: true, why: "Why", action: "place_finding" },
  words: { title: "Correct the words", words: "What was really said", why: "Why", action: "correct_words" },
  note: { title: "Note", words: "Note", action: "add_note" },
  reopen: { title: "Take the decision back", why: "Why (must be said)", action: "reopen" },
};

const question = (line, name) => {
  const form = questions[name];
  by("ask-title").textContent = form.title;
  by("ask-about").textContent = line.querySelector(".label").textContent;
  by("ask-wrong").textContent = "";
  by("ask-status").hidden = !form.status;
  by("ask-place").hidden = !form.place;
  by("ask-words").hidden = !form.words;
  by("ask-why").hidden = !form.why;
  by("ask-reason").value = "";
  if (form.why) document.querySelector('label[for="ask-reason"]').textContent = form.why;
  if (form.words) by("ask-text-label").textContent = form.words;
  const quote = line.querySelector(".quote dd:last-child, .quote blockquote");
  by("ask-text").value = name === "words" && quote ? quote.textContent : "";
  if (form.status) {
    by("ask-choice").replaceChildren(...line.dataset.statuses.split(";").map((one) => {
      const [value, words] = one.split("=");
      return new Option(words, value, false, value === line.dataset.status);
    }));
  }
  ask.dataset.for = line.dataset.subject;
  ask.dataset.name = name;
  ask.showModal();
  (form.status ? by("ask-choice") : form.place ? by("ask-item") : form.words ? by("ask-text") : by("ask-reason")).focus();
};

by("ask-cancel").addEventListener("click", (event) => {
  event.preventDefault();
  ask.close();
});
ask.addEventListener("close", () => go(lines().find((one) => one.dataset.subject === ask.dataset.for)));
by("ask-form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const form = questions[ask.dataset.name];
  const fields = { action: form.action };
  if (form.status) fields.status = by("ask-choice").value;
  if (form.place) fields.item = by("ask-item").value;
  if (form.words) fields.words = by("ask-text").value;
  if (form.why && by("ask-reason").value.trim()) fields.why = by("ask-reason").value;
  const line = lines().find((one) => one.dataset.subject === ask.dataset.for);
  const fresh = await decide(line, fields);
  if (fresh) {
    ask.close();
    go(fresh);
  }
});

const act = async (line, name) => {
  if (name === "accept") {
    const fresh = await decide(line, { action: "accept" });
    if (fresh) nextOpen(fresh);
  } else if (name === "play") {
    const button = line.querySelector("button.play");
    if (button) button.click();
  } else if (name !== "place" || line.dataset.place === "yes") question(line, name);
};

document.addEventListener("click", (event) => {
  const button = event.target.closest("button[data-do]");
  if (button) act(button.closest(".subject"), button.dataset.do);
});

const keys = { a: "accept", c: "change", p: "place", w: "words", n: "note", r: "reopen", " ": "play" };
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey || ask.open) return;
  if (event.target.closest("input, textarea, select, audio")) return;
  const key = event.key.toLowerCase();
  const line = current();
  const onButton = event.target.closest("button, a, summary");
  if (key === "j") step(1);
  else if (key === "k") step(-1);
  else if (key === "u") nextOpen(line || lines()[lines().length - 1]);
  else if (line && keys[key] && !(onButton && key === " ")) act(line, keys[key]);
  else return;
  event.preventDefault();
});
if (who.value) go(lines()[0]);
