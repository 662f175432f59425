"use strict";
(() => {
  let playing = null; // {audio, link}
  const said = document.getElementById("playing");

  document.documentElement.classList.add("js");
  for (const link of document.querySelectorAll("a.play")) link.setAttribute("role", "button");

  const stop = () => {
    if (!playing) return;
    const { audio, link } = playing;
    playing = null;
    audio.pause();
    link.classList.remove("on");
    said.textContent = "Stopped.";
  };

  const play = (link) => {
    const again = playing && playing.link === link;
    stop();
    if (again) return;
    const audio = document.getElementById(link.hash.slice(1));
    playing = { audio, link };
    link.classList.add("on");
    said.textContent = link.getAttribute("aria-label").replace("Play", "Playing");
    audio.onended = audio.onpause = () => {
      if (playing && playing.audio === audio) stop();
    };
    const fault = () => {
      if (!playing || playing.audio !== audio) return;
      stop();
      said.textContent = "This browser cannot play the clip.";
      said.classList.remove("visually-hidden");
    };
    // An address with #t=start,end (media fragment) starts and ends by itself; begin it anew each time.
    audio.load();
    audio.play().catch(fault);
  };

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a.play");
    if (!link) return;
    event.preventDefault();
    play(link);
  });
  document.addEventListener("keydown", (event) => {
    const link = event.key === " " && event.target.closest("a.play");
    if (!link) return;
    event.preventDefault();
    play(link);
  });
})();
