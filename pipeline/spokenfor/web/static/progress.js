// Follows a check (server-sent events) or a replay (asked for each second) and shows how far it is.
const stage = document.getElementById("stage");
const share = document.getElementById("share");

const show = (text, part) => {
  if (stage.textContent !== text) stage.textContent = text;
  if (part === null || part === undefined) share.removeAttribute("value");
  else share.value = part;
};

const made = (name, text, kind) => {
  const element = document.createElement(name);
  element.textContent = text;
  if (kind) element.className = kind;
  return element;
};

// The sheet as far as the words heard so far fill it.
const fill = (sheet) => {
  const by = (id) => document.getElementById(id);
  by("filling").hidden = false;
  by("so-far").textContent = `${sheet.covered} of ${sheet.required} required items covered.`;
  by("heard-last").textContent = sheet.last;
  by("found-so-far").replaceChildren(...sheet.found.map((one) => {
    const line = made("li", "");
    line.append(made("b", one.verdict, one.verdict), ` ${one.thing} at ${one.at}: `, made("q", one.words));
    return line;
  }));
  by("zones-so-far").replaceChildren(...sheet.zones.map(([name, covered, required]) => {
    const line = made("li", "");
    const bar = document.createElement("progress");
    bar.max = required;
    bar.value = covered;
    bar.setAttribute("aria-hidden", "true");
    line.append(made("span", name), bar, made("span", `${covered} of ${required}`, "quiet"));
    return line;
  }));
};

const check = document.getElementById("progress");
if (check) {
  const events = new EventSource(check.dataset.events);
  events.onmessage = (event) => {
    const now = JSON.parse(event.data);
    if (now.state === "done") return location.assign(check.dataset.done);
    if (now.state !== "waiting" && now.state !== "working") return location.reload();
    if (now.state === "waiting") show(`Waiting, place ${now.place} in the queue`, null);
    else show(now.stage || "Starting", now.share);
    if (now.sheet) fill(now.sheet);
  };
  // The browser itself tries again when the server has gone; say so meanwhile.
  events.onerror = () => show(
    events.readyState === EventSource.CLOSED
      ? "The workbench was started again: open the address that it prints now. The recordings are stored and the check goes on."
      : "The workbench does not answer; trying again. The recordings are stored.",
    null,
  );
}

const replay = document.getElementById("replay");
if (replay && ["waiting", "working"].includes(replay.dataset.state)) {
  const ask = async () => {
    const answer = await fetch(replay.dataset.replay, { headers: { Accept: "application/json" } });
    const now = await answer.json();
    if (now.state !== "waiting" && now.state !== "working") return location.reload();
    show(now.stage || "Waiting", now.share);
    setTimeout(ask, 1000);
  };
  ask();
}
