// Words of the transcript: choose one and the sound plays from there; as it plays they light up. The waveform
// is fetched when the page stands, and a click on it plays from there.
const words = [...document.querySelectorAll(".w")];

const play = (recording, seconds) => {
  const minutes = `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;
  document.dispatchEvent(new CustomEvent("play-from", {
    detail: { recording, seconds, said: `Playing from ${minutes}` },
  }));
};

if (words.length && document.getElementById("dock")) {
  const list = document.getElementById("words");
  let stop = words[0];
  const roam = (word) => {
    stop.tabIndex = -1;
    stop = word;
    stop.tabIndex = 0;
  };
  for (const word of words) {
    word.setAttribute("role", "button");
    word.tabIndex = -1;
  }
  roam(words[0]);
  const from = (word) => {
    roam(word);
    play(Number(word.dataset.r), Number(word.dataset.s));
  };
  list.addEventListener("click", (event) => {
    const word = event.target.closest(".w");
    if (word) from(word);
  });
  list.addEventListener("keydown", (event) => {
    const at = words.indexOf(event.target);
    if (at < 0) return;
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (event.key === "Enter" || event.key === " ") from(event.target);
    else if (step && words[at + step]) {
      roam(words[at + step]);
      stop.focus();
    } else return;
    event.preventDefault();
  });

  // Words are in time order within a recording: look the moment up by halving.
  const byRecording = new Map();
  for (const word of words) {
    const rows = byRecording.get(word.dataset.r) || [];
    rows.push({ word, start: Number(word.dataset.s), end: Number(word.dataset.e) });
    byRecording.set(word.dataset.r, rows);
  }
  let lit = null;
  const light = (word) => {
    if (lit === word) return;
    if (lit) lit.classList.remove("now");
    lit = word;
    if (!lit) return;
    lit.classList.add("now");
    const box = lit.getBoundingClientRect();
    if (box.top < 40 || box.bottom > innerHeight - 180) lit.scrollIntoView({ block: "center" });
  };
  const next = document.querySelector('a[rel="next"]');
  for (const audio of document.querySelectorAll("#dock audio")) {
    const recording = audio.id.replace("sound-", "");
    const rows = byRecording.get(recording) || [];
    const follow = () => {
      let low = 0;
      let high = rows.length;
      while (low < high) {
        const middle = (low + high) >> 1;
        if (rows[middle].start <= audio.currentTime) low = middle + 1;
        else high = middle;
      }
      const found = rows[low - 1];
      light(found && audio.currentTime < found.end + 0.25 ? found.word : null);
      const last = rows[rows.length - 1];
      if (next && last && !audio.paused && audio.currentTime > last.end + 1) {
        location.assign(`${next.href}#from-${recording}-${audio.currentTime.toFixed(2)}`);
        return;
      }
      if (!audio.paused) requestAnimationFrame(follow);
    };
    audio.addEventListener("play", () => requestAnimationFrame(follow));
    audio.addEventListener("timeupdate", follow);
  }
  const asked = /^#from-(\d+)-([\d.]+)$/.exec(location.hash);
  if (asked) {
    history.replaceState(null, "", location.pathname + location.search);
    play(Number(asked[1]), Number(asked[2]));
  }
}

const fill = document.querySelector("[data-fill]");
if (fill) {
  const answer = await fetch(fill.dataset.fill, { headers: { Accept: "text/html" } }).catch(() => null);
  if (answer && answer.ok) fill.replaceChildren(...new DOMParser().parseFromString(await answer.text(), "text/html").body.childNodes);
  else fill.textContent = "The sound cannot be drawn.";
  const drawing = fill.querySelector("svg");
  const sounds = [...document.querySelectorAll("#dock audio")];
  if (drawing) drawing.addEventListener("click", (event) => {
    const box = drawing.getBoundingClientRect();
    const total = sounds.reduce((sum, one) => sum + one.duration, 0);
    let seconds = (total * (event.clientX - box.left)) / box.width;
    sounds.some((audio, recording) => {
      if (seconds < audio.duration) {
        play(recording, seconds);
        return true;
      }
      seconds -= audio.duration;
      return false;
    });
  });
}
