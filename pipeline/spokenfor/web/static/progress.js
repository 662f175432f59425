// Follows a check (server-sent events) or a replay (asked for each second) and shows how far it is.
const stage = document.getElementById("stage");
const share = document.getElementById("share");

const show = (text, part) => {
  if (stage.textContent !== text) stage.textContent = text;
  if (part === null || part === undefined) share.removeAttribute("value");
  else share.value = part;
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
  };
  // The browser itself tries again when the server has gone; say so meanwhile.
  events.onerror = () => show("The workbench does not answer; trying again. The recordings are stored.", null);
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
