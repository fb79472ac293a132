// Small things that a page without JavaScript can do without.
"use strict";

const PANEL_MARGIN = 84;
const PANEL_LEAST = 180;

// Charts: <figure data-chart="URL"> is drawn from the specification at URL. The expression
// interpreter ("ast") keeps the content security policy free of eval.
// Panels one above the other do not fit themselves to their place, as a single chart does.
function fitted(spec, target) {
  const room = target.clientWidth - PANEL_MARGIN;
  const panels = (spec.vconcat || []).map((panel) =>
    panel.width > room ? { ...panel, width: Math.max(room, PANEL_LEAST) } : panel);
  return spec.vconcat ? { ...spec, vconcat: panels } : spec;
}

function drawChart(figure) {
  const target = figure.querySelector("[data-canvas]");
  if (!target || target.dataset.drawn || !window.vegaEmbed) return;
  target.dataset.drawn = "yes";
  const dark = window.matchMedia("(prefers-color-scheme: dark)").matches;
  fetch(figure.dataset.chart + (dark ? "?dark=1" : ""), { credentials: "same-origin" })
    .then((answer) => answer.json())
    // The drawing is called as its place was: by the words that tell what it shows.
    .then((spec) => window.vegaEmbed(target, { ...fitted(spec, target), description: target.getAttribute("aria-label") || spec.description }, { ast: true, actions: false, renderer: "svg", defaultStyle: false, tooltip: { disableDefaultStyle: true } }))
    .catch(() => { target.textContent = ""; figure.classList.add("undrawn"); });
}

function drawCharts(root) {
  root.querySelectorAll("figure[data-chart]").forEach(drawChart);
}

document.addEventListener("DOMContentLoaded", () => drawCharts(document));
document.addEventListener("htmx:load", (event) => drawCharts(event.detail.elt.parentNode || document));

// A field that is only there to be copied from.
document.addEventListener("DOMContentLoaded", () => {
  if (!navigator.clipboard) return;
  document.querySelectorAll("[data-copy]").forEach((button) => {
    button.hidden = false;
    button.addEventListener("click", () => {
      navigator.clipboard.writeText(document.getElementById(button.dataset.copy).value)
        .then(() => { button.textContent = button.dataset.copied; });
    });
  });
});
document.addEventListener("focusin", (event) => {
  if (event.target instanceof HTMLInputElement && event.target.readOnly) event.target.select();
});

// Sliders say where they stand.
document.addEventListener("input", (event) => {
  if (event.target.type !== "range") return;
  const told = document.querySelector(`output[for="${event.target.id}"]`);
  if (told) told.textContent = (event.target.value > 0 ? "+" : "") + event.target.value.replace("-", "\u2212");
});
