// Dragging a session to another day; the form in the session does the same without it.
"use strict";

function sessionsReady() {
  document.querySelectorAll("details[data-session]").forEach((session) => {
    session.dataset.drag = "yes";
    session.querySelector("summary").draggable = true;
  });
}

document.addEventListener("dragstart", (event) => {
  const session = event.target.closest && event.target.closest("details[data-session]");
  if (!session) return;
  event.dataTransfer.setData("text/x-saltus-day", session.dataset.session);
  event.dataTransfer.effectAllowed = "move";
});

function dayUnder(event) {
  const dragged = [...event.dataTransfer.types].includes("text/x-saltus-day");
  return dragged && event.target.closest ? event.target.closest("li[data-day]") : null;
}

document.addEventListener("dragover", (event) => {
  const day = dayUnder(event);
  document.querySelectorAll(".plan-day.over").forEach((other) => { if (other !== day) other.classList.remove("over"); });
  if (!day) return;
  event.preventDefault();
  day.classList.add("over");
});

document.addEventListener("dragend", () => {
  document.querySelectorAll(".plan-day.over").forEach((day) => day.classList.remove("over"));
});

document.addEventListener("drop", (event) => {
  const day = dayUnder(event);
  if (!day) return;
  event.preventDefault();
  const from = event.dataTransfer.getData("text/x-saltus-day");
  const session = document.querySelector(`details[data-session="${CSS.escape(from)}"]`);
  if (!session || day.dataset.day === from) return;
  const form = session.querySelector("form");
  form.elements.to.value = day.dataset.day;
  form.requestSubmit();
});

// A day that an address names is opened.
function openNamedDay() {
  const named = location.hash && document.getElementById(location.hash.slice(1));
  if (!named || named.tagName !== "DETAILS") return;
  for (let each = named; each; each = each.parentElement.closest("details")) each.open = true;
  named.scrollIntoView({ block: "nearest" });
}

document.addEventListener("DOMContentLoaded", () => {
  sessionsReady();
  openNamedDay();
  document.querySelectorAll("[data-print]").forEach((button) => {
    button.hidden = false;
    button.addEventListener("click", () => window.print());
  });
});
window.addEventListener("hashchange", openNamedDay);
