// Test days: moving between figures by Enter and arrows, what is not saved yet, fields that a
// test has no use for, and the progress of uploads. Every page works without it.
"use strict";

function figures(form) {
  return Array.from(form.querySelectorAll("input[inputmode]"));
}

// In the grid Enter and the arrows move within a column; a column is the place of the figure
// among all figures of its row.
function moveInGrid(input, down) {
  const row = input.closest("tr");
  const place = figures(row).indexOf(input);
  const rows = Array.from(row.parentNode.children);
  let next = rows[rows.indexOf(row) + (down ? 1 : -1)];
  let target = next && figures(next)[place];
  if (!target && down) target = figures(rows[0])[place + 1];
  if (target) { target.focus(); target.select(); }
}

document.addEventListener("keydown", (event) => {
  const input = event.target;
  if (!(input instanceof HTMLInputElement) || !input.closest("form.cell")) return;
  if (input.closest("[data-grid]")) {
    if (event.key === "Enter" || event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      moveInGrid(input, event.key !== "ArrowUp");
    }
  } else if (event.key === "Enter") {
    const all = figures(input.form);
    const next = all[all.indexOf(input) + 1];
    if (next) { event.preventDefault(); next.focus(); next.select(); }
  }
});

// What was typed and is not on record yet: each cell says so, and a page that is hidden or
// closed still sends it. A figure sent twice is kept once; of two that are under way, the one
// that names the other as its own ("sent") is not taken for somebody else's.
function typedIn(form) {
  return new URLSearchParams(figures(form).map((input) => [input.name, input.value])).toString();
}

function underWay(form) {
  return (form.underWay || []).slice(-4);
}

function tellUnsaved(form, failed) {
  const told = form.querySelector(".cell-unsaved");
  if (!told) return;
  form.classList.toggle("unsaved", Boolean(form.unsaved));
  form.failed = Boolean(form.unsaved && failed);
  told.hidden = !form.unsaved;
  told.textContent = form.failed ? told.dataset.failed : told.dataset.typed;
}

function acknowledged(form, typed) {
  form.underWay = underWay(form).filter((each) => each !== typed);
  form.unsaved = typedIn(form) !== typed;
  tellUnsaved(form, false);
}

function cellOf(event) {
  const element = event.detail && event.detail.elt ? event.detail.elt : event.target;
  return element instanceof HTMLElement ? element.closest("form.cell") : null;
}

document.addEventListener("input", (event) => {
  const form = event.target.closest("form.cell");
  if (!form || !event.target.hasAttribute("inputmode")) return;
  form.unsaved = true;
  tellUnsaved(form, false);
});

document.addEventListener("htmx:configRequest", (event) => {
  const form = cellOf(event);
  if (!form) return;
  for (const each of underWay(form)) event.detail.parameters.append("sent", each);
});

document.addEventListener("htmx:beforeRequest", (event) => {
  const form = cellOf(event);
  if (!form) return;
  event.detail.xhr.typed = typedIn(form);
  form.underWay = [...underWay(form), event.detail.xhr.typed];
});

document.addEventListener("htmx:afterRequest", (event) => {
  const form = cellOf(event);
  if (!form || event.detail.xhr.typed === undefined) return;
  if (event.detail.successful) acknowledged(form, event.detail.xhr.typed);
  else tellUnsaved(form, true);
});

async function sendUnsaved(form) {
  const typed = typedIn(form);
  if (!form.unsaved || form.leaving || form.lastSent === typed) return;
  const data = new FormData(form);
  for (const each of underWay(form)) data.append("sent", each);
  form.underWay = [...underWay(form), typed];
  form.lastSent = typed;
  try {
    const answer = await fetch(form.action, {
      method: "POST", body: new URLSearchParams(data), keepalive: true,
      credentials: "same-origin", headers: { "HX-Request": "true" },
    });
    if (!answer.ok) throw new Error(answer.status);
    const state = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector(".cell-state");
    if (state) form.querySelector(".cell-state").replaceWith(state);
    acknowledged(form, typed);
  } catch {
    tellUnsaved(form, true);
  } finally {
    form.lastSent = undefined;
  }
}

function sendAllUnsaved() {
  document.querySelectorAll("form.cell").forEach(sendUnsaved);
}

document.addEventListener("visibilitychange", () => { if (document.hidden) sendAllUnsaved(); });
window.addEventListener("pagehide", sendAllUnsaved);
window.addEventListener("pageshow", () => {
  document.querySelectorAll("form.cell").forEach((form) => { form.leaving = false; });
});
window.addEventListener("online", sendAllUnsaved);
window.addEventListener("beforeunload", (event) => {
  if (Array.from(document.querySelectorAll("form.cell")).some((form) => form.failed && !form.leaving)) event.preventDefault();
});
// A form that is sent as a page takes its figures along itself.
document.addEventListener("submit", (event) => {
  if (event.target.matches("form.cell[data-one]")) event.target.leaving = true;
});

// On paper stand figures, not fields; empty ones are left to the pencil.
window.addEventListener("beforeprint", () => {
  document.querySelectorAll("[data-grid] .on-paper").forEach((paper) => {
    const form = paper.parentNode.querySelector("form.cell");
    const open = form.querySelector(".asked, .wrong, .unfinished, .changed") ? " ?" : "";
    paper.textContent = figures(form).map((input) => input.value || "____").join("   ") + open;
  });
});

// Fields of a new test that its kind has no use for.
const NEEDS = {
  how: ["countermovement_jump", "squat_jump", "approach_jump", "drop_jump"],
  arms: ["countermovement_jump", "squat_jump", "approach_jump", "drop_jump", "broad_jump"],
  load: ["countermovement_jump", "squat_jump", "approach_jump"],
  box: ["drop_jump"],
  frame_rate_hz: ["countermovement_jump", "squat_jump", "approach_jump", "drop_jump"],
  lift: ["maximum", "rep_set", "bar_speed"],
  attempts: ["countermovement_jump", "squat_jump", "approach_jump", "drop_jump", "broad_jump", "bar_speed"],
};

function showWhatIsNeeded(form) {
  const kind = form.elements.kind.value;
  const filmed = form.elements.how.value.startsWith("film");
  for (const option of form.elements.how.options) {
    option.disabled = kind === "drop_jump" && option.value.startsWith("reach");
  }
  if (form.elements.how.selectedOptions[0].disabled) form.elements.how.value = "mat heights";
  for (const [name, kinds] of Object.entries(NEEDS)) {
    const needed = kinds.includes(kind) && (name !== "frame_rate_hz" || filmed);
    const field = form.elements[name].closest(".field");
    if (field) field.hidden = !needed;
  }
}

document.addEventListener("DOMContentLoaded", () => {
  document.querySelectorAll("[data-trial-form]").forEach((form) => {
    form.addEventListener("change", () => showWhatIsNeeded(form));
    showWhatIsNeeded(form);
  });
});

// Uploads: all are listed at once and sent one after another, each with its progress.
function listUpload(form, file) {
  const item = document.createElement("li");
  const name = document.createElement("span");
  name.textContent = file.webkitRelativePath || file.name;
  const bar = document.createElement("progress");
  bar.max = 1;
  bar.value = 0;
  bar.setAttribute("aria-label", name.textContent);
  const state = document.createElement("span");
  state.className = "note";
  state.textContent = form.dataset.waiting;
  item.append(name, bar, state);
  form.querySelector(".uploads").append(item);
  return { file, name, bar, state };
}

function uploadOne(form, { file, name, bar, state }, said) {
  return new Promise((resolve) => {
    const data = new FormData(form);
    data.delete("files");
    data.append("files", file);
    data.append("path", file.webkitRelativePath || file.name);
    const request = new XMLHttpRequest();
    request.open("POST", form.action || window.location.href);
    request.setRequestHeader("X-Upload", "1");
    request.upload.addEventListener("progress", (event) => {
      if (event.lengthComputable) bar.value = event.loaded / event.total;
      if (event.loaded === event.total) state.textContent = form.dataset.reading;
    });
    const finish = (sentence, good) => {
      bar.remove();
      state.textContent = sentence;
      state.className = good ? "note" : "fault";
      said.textContent = name.textContent + ": " + sentence;
      resolve();
    };
    request.addEventListener("load", () => {
      try {
        const outcome = JSON.parse(request.responseText).files[0];
        finish(outcome.sentence, outcome.good);
      } catch (error) {
        finish(form.dataset.failed, false);
      }
    });
    request.addEventListener("error", () => finish(form.dataset.failed, false));
    request.send(data);
  });
}

async function uploadAll(form, files) {
  const progress = form.querySelector("[data-progress]");
  const said = form.querySelector("[data-said]");
  const done = form.querySelector("[data-done]");
  progress.hidden = false;
  done.hidden = true;
  const listed = files.map((file) => listUpload(form, file));
  for (const each of listed) await uploadOne(form, each, said);
  done.hidden = false;
  done.focus();
}

document.addEventListener("DOMContentLoaded", () => {
  document.querySelectorAll("form[data-upload]").forEach((form) => {
    const inputs = Array.from(form.querySelectorAll("input[type=file]"));
    const isRecording = (file) => /\.(c3d|csv|dat|mot|sto|tsv|txt)$/i.test(file.name);
    form.addEventListener("submit", (event) => {
      const files = inputs.flatMap((input) => input.webkitdirectory
        ? Array.from(input.files).filter(isRecording) : Array.from(input.files));
      if (!files.length) return;
      event.preventDefault();
      uploadAll(form, files).then(() => inputs.forEach((input) => { input.value = ""; }));
    });
    const drop = form.querySelector("[data-drop]");
    ["dragenter", "dragover"].forEach((kind) => drop.addEventListener(kind, (event) => {
      event.preventDefault();
      drop.classList.add("over");
    }));
    drop.addEventListener("dragleave", () => drop.classList.remove("over"));
    drop.addEventListener("drop", (event) => {
      event.preventDefault();
      drop.classList.remove("over");
      uploadAll(form, Array.from(event.dataTransfer.files));
    });
  });
});
