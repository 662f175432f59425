// Records in the browser. Every few seconds a piece is sent and stored, so that a crash loses the last one
// at most; a piece that cannot be sent is kept and sent again until the server has it.
import { change, elsewhere } from "./session.js";
import { base, stored } from "./upload.js";

const every = 3000; // milliseconds a piece
const again = 1500; // milliseconds before a piece is sent again
const box = document.getElementById("recorder");
const by = (id) => document.getElementById(id);
const kind = box.dataset.kinds.split(",").find(
  (one) => window.MediaRecorder && MediaRecorder.isTypeSupported(one),
);
let now = null; // {recorder, stream, number, made, waiting, seconds, since, meter}

if (kind && navigator.mediaDevices) box.hidden = false;

const say = (text) => { by("rec-state").textContent = text; };

const post = async (address, body) => {
  const answer = await change(address, { method: "POST", body: new URLSearchParams(body) });
  if (answer.status === 403) throw new Error(`${elsewhere}.`);
  const said = await answer.json();
  if (!answer.ok) throw new Error(`${said.wrong}. ${said.mend}.`);
  return said;
};

const pause = (milliseconds) => new Promise((done) => { setTimeout(done, milliseconds); });

// Sends the pieces in order; gives up only on an answer that says no.
const deliver = async (session) => {
  if (session.sending) return session.sending;
  session.sending = (async () => {
    while (session.waiting.length) {
      const { piece, blob } = session.waiting[0];
      try {
        const answer = await change(`${base}/recordings/${session.number}/pieces/${piece}`, {
          method: "PUT", body: blob, headers: { "Content-Type": "application/octet-stream" },
        });
        if (answer.ok) {
          session.waiting.shift();
          by("rec-stored").textContent = `${piece} ${piece === 1 ? "piece" : "pieces"} stored`;
          continue;
        }
        if (answer.status === 403) {
          by("rec-stored").textContent = `${elsewhere}; what is recorded is kept here until then.`;
          await pause(again);
          continue;
        }
        if (answer.status < 500) {
          const said = await answer.json();
          say(`Not stored: ${said.wrong}. ${said.mend}.`);
          return;
        }
      } catch { /* the server is away: again */ }
      by("rec-stored").textContent = "The workbench does not answer; what is recorded is kept here and sent again.";
      await pause(again);
    }
  })();
  await session.sending;
  session.sending = null;
};

const clock = (seconds) => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;

const elapsed = () => now.seconds + (now.since ? (performance.now() - now.since) / 1000 : 0);

const watchLevel = (stream) => {
  const context = new AudioContext();
  const analyser = context.createAnalyser();
  context.createMediaStreamSource(stream).connect(analyser);
  const samples = new Float32Array(analyser.fftSize);
  let lately = 0; // the level of the last seconds: a pause between words is no silence
  const look = setInterval(() => {
    analyser.getFloatTimeDomainData(samples);
    const peak = samples.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
    const level = Math.min(1, Math.max(0, 1 + (20 * Math.log10(peak + 1e-6)) / 60));
    lately = Math.max(level, lately - 0.02);
    by("level").value = level;
    const words =
      lately > 0.99 ? "Too loud: hold the microphone further away." : lately < 0.3 ? "Hardly anything to hear." : "Level is good.";
    if (by("level-words").textContent !== words) by("level-words").textContent = words;
    if (now) by("rec-clock").textContent = clock(elapsed());
  }, 150);
  return () => { clearInterval(look); context.close(); };
};

const buttons = (state) => {
  by("rec-start").hidden = state !== "idle";
  by("rec-pause").hidden = by("rec-end").hidden = state === "idle";
  by("rec-pause").textContent = state === "paused" ? "Go on" : "Pause";
  box.classList.toggle("recording", state === "recording");
};

const start = async () => {
  by("rec-start").disabled = true;
  say("Asking for the microphone");
  try {
    const stream = await navigator.mediaDevices.getUserMedia({
      audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: true },
    });
    const { number } = await post(`${base}/recordings`, { kind });
    const recorder = new MediaRecorder(stream, { mimeType: kind, audioBitsPerSecond: 48000 });
    const session = { recorder, stream, number, made: 0, waiting: [], seconds: 0, since: performance.now() };
    now = session;
    session.meter = watchLevel(stream);
    recorder.ondataavailable = (event) => {
      if (!event.data.size) return;
      session.made += 1;
      session.waiting.push({ piece: session.made, blob: event.data });
      deliver(session);
    };
    recorder.onstop = () => end(session);
    recorder.onerror = () => recorder.stop();
    for (const track of stream.getTracks()) track.onended = () => recorder.state !== "inactive" && recorder.stop();
    recorder.start(every);
    buttons("recording");
    say("Recording");
    by("rec-pause").focus();
  } catch (error) {
    say(error.name === "NotAllowedError" ? "The browser may not use the microphone. Allow it, or give a file." : `Cannot record: ${error.message}`);
  } finally {
    by("rec-start").disabled = false;
  }
};

const end = async (session) => {
  session.meter();
  for (const track of session.stream.getTracks()) track.stop();
  say("Storing the last piece");
  while (session.waiting.length) {
    await deliver(session);
    if (session.waiting.length) await pause(again);
  }
  now = null;
  buttons("idle");
  if (!session.made) return say("Nothing was recorded");
  try {
    const sound = await post(`${base}/recordings/${session.number}/end`, { pieces: session.made });
    stored(sound.name, sound.size);
    say(`Stored: ${sound.name}, ${clock(session.seconds)}`);
    by("check").focus();
  } catch (error) {
    say(`Not ended: ${error.message} Load the page again; the pieces are stored.`);
  }
};

const hold = () => {
  if (now.since) {
    now.seconds = elapsed();
    now.since = null;
  }
};

by("rec-start").addEventListener("click", start);
by("rec-pause").addEventListener("click", () => {
  if (now.recorder.state === "recording") {
    now.recorder.pause();
    hold();
    buttons("paused");
    say("Paused");
  } else {
    now.recorder.resume();
    now.since = performance.now();
    buttons("recording");
    say("Recording");
  }
});
by("rec-end").addEventListener("click", () => {
  hold();
  now.recorder.stop();
});
addEventListener("beforeunload", (event) => { if (now) event.preventDefault(); });
