"use strict";
(() => {
  const pad = 0.3; // seconds of sound before and after the words
  const dock = document.getElementById("dock");
  const now = document.getElementById("now");
  let playing = null; // {audio, button, until}

  document.documentElement.classList.add("js");

  const show = (figure) => {
    for (const one of dock.querySelectorAll(".sound")) one.classList.toggle("on", one === figure);
    dock.classList.add("up");
    document.body.classList.add("with-dock");
  };

  const stop = () => {
    if (!playing) return;
    const { audio, button } = playing;
    playing = null;
    audio.pause();
    if (button) button.classList.remove("on");
    now.textContent = "Stopped.";
  };

  const watch = () => {
    if (!playing) return;
    if (playing.audio.currentTime >= playing.until) stop();
    else requestAnimationFrame(watch);
  };

  const fault = (audio) => {
    const figure = audio.closest(".sound");
    figure.querySelector(".fault").hidden = false;
    figure.classList.add("faulty");
    show(figure);
    if (playing && playing.audio === audio) stop();
  };

  // Plays seconds of one recording; `button` is what asked for it, if any.
  const start = (recording, seconds, until, said, button) => {
    stop();
    const audio = document.getElementById(`sound-${recording}`);
    show(audio.closest(".sound"));
    for (const one of dock.querySelectorAll("audio")) if (one !== audio) one.pause();
    if (audio.error) return fault(audio);
    const mine = { audio, button, until };
    playing = mine;
    if (button) button.classList.add("on");
    now.textContent = said;
    const begin = () => {
      if (playing !== mine) return;
      audio.currentTime = seconds;
      audio.play().then(() => requestAnimationFrame(watch), () => {
        if (audio.error) fault(audio);
      });
    };
    if (audio.readyState >= 1) begin();
    else audio.addEventListener("loadedmetadata", begin, { once: true });
  };

  const play = (button) => {
    if (playing && playing.button === button) return stop();
    const { r, s, e } = button.dataset;
    const said = button.getAttribute("aria-label").replace("Play", "Playing");
    start(r, Math.max(0, Number(s) - pad), Number(e) + pad, said, button);
  };

  if (dock) {
    for (const audio of dock.querySelectorAll("audio")) {
      audio.addEventListener("error", () => fault(audio));
      if (audio.error) fault(audio);
      // The animation clock rests in a hidden tab; this one does not.
      audio.addEventListener("timeupdate", () => {
        if (playing && playing.audio === audio && audio.currentTime >= playing.until) stop();
      });
      audio.addEventListener("pause", () => {
        if (playing && playing.audio === audio && !audio.seeking) stop();
      });
    }
    const hide = document.getElementById("hide");
    hide.hidden = false;
    hide.addEventListener("click", () => {
      stop();
      dock.classList.remove("up");
      document.body.classList.remove("with-dock");
    });
    document.addEventListener("click", (event) => {
      const button = event.target.closest("button.play");
      if (button) play(button);
    });
    // For scripts of other pages: from a moment to the end of the recording.
    document.addEventListener("play-from", (event) => {
      const { recording, seconds, said } = event.detail;
      start(recording, seconds, Infinity, said, null);
    });
  }

  const table = document.getElementById("flagged-words");
  if (table) {
    const filter = document.querySelector(".filter");
    const shown = document.getElementById("shown");
    const rows = [...table.querySelectorAll("tbody tr")];
    filter.hidden = false;
    filter.addEventListener("change", (event) => {
      const reading = event.target.value;
      for (const row of rows) row.classList.toggle("off", reading && row.dataset.reading !== reading);
      const left = rows.filter((row) => !row.classList.contains("off")).length;
      shown.textContent = reading ? `${left} of ${rows.length} shown` : "";
    });
  }

  const openTarget = () => {
    const target = location.hash && document.getElementById(location.hash.slice(1));
    const details = target && target.querySelector(":scope > details");
    if (details) details.open = true;
  };
  addEventListener("hashchange", openTarget);
  openTarget();
})();
