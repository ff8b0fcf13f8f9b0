/**
 * Makes the pages quicker and never necessary: dropping files, progress of an upload, errors beside the form, and a page
 * that turns into the result as soon as there is one. Served as it stands; nothing builds it.
 */
export const PAGE_SCRIPT = `"use strict";
const form = document.querySelector("form[data-upload]");
if (form) {
  const files = form.querySelector("input[type=file]");
  const drop = form.querySelector(".drop");
  const chosen = form.querySelector("[data-chosen]");
  const alert = form.querySelector("[role=alert]");
  const progress = form.querySelector("progress");
  const button = form.querySelector("button");
  const size = (bytes) => bytes < 1e6 ? Math.ceil(bytes / 1e3) + " kB" : (bytes / 1e6).toFixed(1) + " MB";
  const tell = () => { chosen.textContent = [...files.files].map((file) => file.name + " (" + size(file.size) + ")").join(", "); };
  files.addEventListener("change", tell);
  for (const kind of ["dragenter", "dragover"]) drop.addEventListener(kind, (event) => { event.preventDefault(); drop.classList.add("over"); });
  for (const kind of ["dragleave", "drop"]) drop.addEventListener(kind, () => drop.classList.remove("over"));
  drop.addEventListener("drop", (event) => { event.preventDefault(); files.files = event.dataTransfer.files; tell(); });

  const complain = (problem) => {
    const places = (problem.errors || []).map((error) => error.pointer + ": " + error.detail);
    alert.replaceChildren(...[problem.title, problem.detail, ...places, problem.advice].filter((text, at, all) => text && all.indexOf(text) === at)
      .map((text) => Object.assign(document.createElement("p"), { textContent: text })));
    alert.hidden = false;
    progress.hidden = true;
    button.disabled = false;
    alert.focus();
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const large = [...files.files].find((file) => file.size > Number(files.dataset.most) && !/[.]zip$/i.test(file.name));
    if (large) return complain({ title: "A document is too large.", detail: large.name + " has " + size(large.size) + "; " + size(Number(files.dataset.most)) + " are taken." });
    alert.hidden = true;
    progress.hidden = false;
    button.disabled = true;
    const request = new XMLHttpRequest();
    request.open("POST", form.dataset.upload);
    request.responseType = "json";
    request.upload.addEventListener("progress", (sent) => { if (sent.lengthComputable) { progress.max = sent.total; progress.value = sent.loaded; } });
    request.addEventListener("load", () => {
      if (request.status < 300) location.assign("/submissions/" + request.response.id);
      else complain(request.response || { title: "The answer could not be read." });
    });
    request.addEventListener("error", () => complain({ title: "The documents could not be sent.", advice: "The network failed, or the service refused them before they were whole. Check the network and their size, and hand them in again." }));
    request.send(new FormData(form));
  });
}

for (const form of document.querySelectorAll("form[data-try]")) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    let path = form.dataset.try;
    const query = new URLSearchParams();
    for (const input of form.querySelectorAll("input")) {
      if (input.value === "") continue;
      if (input.dataset.in === "path") path = path.replace("{" + input.name + "}", encodeURIComponent(input.value));
      else query.set(input.name, input.value);
    }
    const status = form.querySelector("[role=status]");
    const answer = form.querySelector("pre");
    try {
      const response = await fetch(path + (query.size ? "?" + query : ""), { headers: { Accept: "application/json" } });
      const text = await response.text();
      status.textContent = response.status + " " + response.statusText;
      try { answer.textContent = JSON.stringify(JSON.parse(text), null, 2); } catch { answer.textContent = text; }
    } catch { status.textContent = "The service could not be reached."; answer.textContent = ""; }
    answer.hidden = false;
  });
}

const waiting = document.querySelector("[data-waiting]");
if (waiting) {
  const look = async () => {
    try {
      const response = await fetch(waiting.dataset.waiting, { headers: { Prefer: "wait=20" } });
      const { state } = await response.json();
      if (!response.ok || state === "done" || state === "failed") return location.reload();
    } catch { await new Promise((resolve) => setTimeout(resolve, 2000)); }
    look();
  };
  look();
}
`;
