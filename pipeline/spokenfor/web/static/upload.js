// Sends files that were dropped or chosen, one after the other, each until the server says it is stored.
import { csrf, elsewhere, renew } from "./session.js";

export const base = document.getElementById("main").dataset.base;

const sending = document.getElementById("sending");
const limit = Number(document.getElementById("files").dataset.limit);

export const stored = (name, size) => {
  const line = document.createElement("li");
  const bold = document.createElement("b");
  bold.textContent = name;
  line.append(bold, ` ${(size / 1048576).toFixed(1)} MiB`);
  document.getElementById("sounds").append(line);
  const count = document.getElementById("sound-count");
  count.textContent = Number(count.textContent) + 1;
  document.getElementById("check").disabled = false;
};

const send = (file, line, once = false) => new Promise((done) => {
  const request = new XMLHttpRequest(); // fetch does not tell how much has been sent
  request.open("POST", `${base}/files?name=${encodeURIComponent(file.name)}&changed=${file.lastModified / 1000}`);
  request.setRequestHeader("X-CSRF", csrf());
  request.setRequestHeader("Content-Type", "application/octet-stream");
  request.setRequestHeader("Accept", "application/json");
  request.upload.onprogress = (event) => {
    line.textContent = `${file.name}: ${Math.round((100 * event.loaded) / event.total)} % sent`;
  };
  request.onload = async () => {
    if (request.status === 403 && !once) {
      if (await renew()) return done(await send(file, line, true));
      line.className = "wrong";
      line.textContent = `${file.name}: not sent. ${elsewhere}, then give the file again.`;
      return done();
    }
    let answer = {};
    try { answer = JSON.parse(request.responseText); } catch { /* a page of the guard */ }
    if (request.status === 200) {
      line.remove();
      stored(answer.name, answer.size);
    } else {
      line.className = "wrong";
      line.textContent = `${file.name}: ${answer.wrong || "not taken"}. ${answer.mend || ""}.`;
    }
    done();
  };
  request.onerror = () => {
    line.className = "wrong";
    line.textContent = `${file.name}: the workbench does not answer. Send it again.`;
    done();
  };
  request.send(file);
});

const take = async (files) => {
  for (const file of files) {
    const line = document.createElement("li");
    sending.append(line);
    if (file.size > limit) {
      line.className = "wrong";
      line.textContent = `${file.name}: too large, over ${limit / 1048576} MiB. Split it.`;
      continue;
    }
    line.textContent = `${file.name}: waiting`;
    await send(file, line);
  }
};

const drop = document.getElementById("drop");
const pick = document.getElementById("pick");
const takePicked = () => take([...pick.files]).then(() => { pick.value = ""; });
pick.addEventListener("change", takePicked);
if (pick.files.length) takePicked(); // chosen before this script was there
for (const name of ["dragover", "dragenter"]) {
  drop.addEventListener(name, (event) => { event.preventDefault(); drop.classList.add("over"); });
}
drop.addEventListener("dragleave", () => drop.classList.remove("over"));
drop.addEventListener("drop", (event) => {
  event.preventDefault();
  drop.classList.remove("over");
  take([...event.dataTransfer.files]);
});
