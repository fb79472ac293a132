// Draws from the templates of the page: every word stands there, translated by the server.

// The page's language as this phone writes its dates and numbers.
const asked = document.documentElement.lang || "en";
const language = navigator.languages.find((each) => each.split("-")[0] === asked) ?? asked;
const spoken = new Map();

export function word(name, values = {}) {
  if (!spoken.size) {
    for (const each of document.getElementById("words").content.querySelectorAll("[data-word]")) {
      spoken.set(each.dataset.word, each.textContent.trim());
    }
  }
  const text = spoken.get(name);
  if (text === undefined) throw new Error(`no word for ${name}`);
  return text.replace(/\{(\w+)\}/g, (whole, key) => values[key] ?? "");
}

export const hasWord = (name) => { word("sent"); return spoken.has(name); };

// A copy of a template: `text` fills [data-text], and what has none is hidden; `show` shows or
// hides [data-if]; `act` answers presses of [data-do]; `list` fills [data-list].
export function copy(name, { text = {}, show = {}, act = {}, list = {}, set = {} } = {}) {
  const root = document.getElementById(`draw-${name}`).content.firstElementChild.cloneNode(true);
  const all = (attribute, key) => [root, ...root.querySelectorAll(`[data-${attribute}]`)]
    .filter((each) => each.dataset[attribute] === key);
  for (const [key, value] of Object.entries(text)) {
    for (const each of all("text", key)) {
      each.textContent = value ?? "";
      each.hidden = value === null || value === undefined || value === "";
    }
  }
  for (const [key, value] of Object.entries(show)) {
    for (const each of all("if", key)) each.hidden = !value;
  }
  for (const [key, value] of Object.entries(list)) {
    for (const each of all("list", key)) {
      each.replaceChildren(...value);
      each.hidden = !value.length;
    }
  }
  for (const [key, value] of Object.entries(set)) {
    for (const each of all("set", key)) Object.assign(each, value);
  }
  for (const [key, value] of Object.entries(act)) {
    for (const each of all("do", key)) each.addEventListener("click", value);
  }
  return root;
}

// Finds on a screen drawn anew what had the focus before.
function sameAs(element, place) {
  if (!element || !place.contains(element)) return () => null;
  const { do: does, set } = element.dataset;
  const name = does ? "do" : set ? "set" : null;
  const all = (root) => (name ? [...root.querySelectorAll(`[data-${name}="${does ?? set}"]`)] : []);
  const at = all(place).indexOf(element);
  return () => (element.matches("h1") ? place.querySelector("h1") : all(place)[at]);
}

// Puts a screen on the page and takes the reader to its heading, or back to where they were.
export function put(screen, { focus = true } = {}) {
  const place = document.getElementById("main");
  const again = sameAs(document.activeElement, place);
  place.replaceChildren(screen);
  const heading = screen.querySelector("h1");
  if (heading) {
    heading.tabIndex = -1;
    document.title = heading.textContent.trim();
    if (focus) {
      heading.focus({ preventScroll: true });
      window.scrollTo(0, 0);
    } else again()?.focus({ preventScroll: true });
  }
}

// Said to those who listen rather than look.
export function announce(text) {
  document.getElementById("said").textContent = text;
}

const date = (text) => new Date(`${text}T12:00:00`);

export const longDay = (text) =>
  date(text).toLocaleDateString(language, { weekday: "long", day: "numeric", month: "long" });

export const shortDay = (text) =>
  date(text).toLocaleDateString(language, { weekday: "short", day: "numeric", month: "short" });

export const number = (value, digits = 2) =>
  new Intl.NumberFormat(language, { maximumFractionDigits: digits, useGrouping: false }).format(value);
