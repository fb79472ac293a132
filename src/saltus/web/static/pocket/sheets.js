// What is asked about a set: the second tap, all its numbers, why it is left out, what hurts.

import { copy, number, word } from "./page.js";
import { places } from "./places.js";
import { read, typed, unitOf } from "./units.js";

const FIELDS = {
  reps: { kind: "plain", step: 1, whole: true },
  missed: { kind: "plain", step: 1, whole: true },
  load_kg: { kind: "mass", steps: { kg: 2.5, lb: 5 } },
  box_m: { kind: "length", steps: { cm: 5, in: 2 } },
  drop_m: { kind: "length", steps: { cm: 5, in: 2 } },
  reserve: { kind: "plain", step: 1 },
  speed_m_s: { kind: "speed", step: 0.05 },
  jump_m: { kind: "length", steps: { cm: 1, in: 0.5 } },
  contact_s: { kind: "milliseconds", step: 10 },
};

const label = (name, values) => {
  const found = document.getElementById("field-labels").content.querySelector(`[data-field="${name}"]`);
  return found.textContent.trim().replace(/\{(\w+)\}/g, (whole, key) => values?.[key] ?? "");
};

// A number to be typed or stepped; `value()` reads it in SI, whole where it counts.
function field(name, start) {
  const { kind, step, steps, whole } = FIELDS[name];
  const unit = unitOf(kind);
  const text = label(name, { unit });
  const size = step ?? steps[unit] ?? 1;
  const root = copy("field", {
    text: { label: text },
    set: {
      label: { htmlFor: `field-${name}` },
      input: { id: `field-${name}`, value: typed(start, kind) },
      less: { ariaLabel: label("less", { what: text }) },
      more: { ariaLabel: label("more", { what: text }) },
    },
    act: { less: () => move(-size), more: () => move(size) },
  });
  const input = root.querySelector("input");
  function move(by) {
    const now = read(input.value, "plain");
    input.value = number(Math.max(0, Number(((Number.isNaN(now) ? 0 : now ?? 0) + by).toFixed(3))));
  }
  root.value = () => {
    const value = read(input.value, kind);
    return whole && value !== null && !Number.isInteger(value) ? NaN : value;
  };
  root.name = name;
  root.input = input;
  return root;
}

// The values of fields, or null with the fault told at the first that is wrong.
function values(root, fields) {
  const found = {};
  for (const each of fields) {
    const value = each.value();
    if (Number.isNaN(value)) {
      fail(root, word("number-wrong"));
      each.input.setAttribute("aria-invalid", "true");
      each.input.focus();
      return null;
    }
    found[each.name] = value;
  }
  return found;
}

function fail(root, text) {
  const fault = root.querySelector(":scope > [data-text=fault]");
  fault.textContent = text;
  fault.hidden = false;
}

const MEASURES = { speed: "speed_m_s", jump: "jump_m", contact: "contact_s" };

const once = (work) => {
  let begun = false;
  return (...given) => {
    if (begun) return;
    begun = true;
    work(...given);
  };
};

// Yes and no as two buttons of which one is pressed.
function yesNo(root, start, told) {
  const [yes, no] = ["quiet", "loud"].map((name) => root.querySelector(`[data-set=${name}]`));
  const press = (value) => {
    yes.ariaPressed = String(value === true);
    no.ariaPressed = String(value === false);
    told(value);
  };
  press(start);
  yes.addEventListener("click", () => press(true));
  no.addEventListener("click", () => press(false));
}

// The second tap: with the numbers as planned, only what cannot be known before is asked.
export function quickSheet(app, { item, planned, heading, keep, back, other }) {
  const asks = new Set(item.asks);
  const measures = Object.keys(MEASURES).filter((name) => asks.has(name)).map((name) => field(MEASURES[name], null));
  let soft = null;
  let ready = false;
  const save = once((reserve, found) => keep({ ...planned, ...found, reserve, ...(asks.has("landing") ? { soft_landings: soft } : {}) }));
  const finish = (reserve = null) => {
    const found = values(root, measures);
    if (found) save(reserve, found);
  };
  const landingLast = asks.has("landing") && !asks.has("reserve"); // its answer is the second tap
  const root = copy("quick", {
    text: { heading, fault: null },
    show: {
      soft: asks.has("landing"), reserve: asks.has("reserve"),
      keep: !asks.has("reserve") && !landingLast,
    },
    list: {
      measures,
      reserves: [0, 1, 2, 3, 4, 5].map((count) =>
        copy("level", {
          text: { level: count < 5 ? number(count) : word("five-or-more") },
          act: { choose: () => finish(count) },
        })),
    },
    act: { keep: () => finish(), back, other },
  });
  yesNo(root, null, (value) => {
    soft = value;
    if (ready && landingLast) finish();
  });
  ready = true;
  return root;
}

// Every number of a set; also to correct one.
export function fullSheet(app, { item, start, old = null, keep, remove = null, back }) {
  const asks = new Set(item.asks);
  const told = (name) => start[name] !== null && start[name] !== undefined;
  const names = ["reps", "missed"];
  for (const name of ["load_kg", "box_m", "drop_m"]) {
    if (told(name) || (item[name] !== null && item[name] !== undefined)) names.push(name);
  }
  for (const [ask, name] of [["reserve", "reserve"], ...Object.entries(MEASURES)]) {
    if (asks.has(ask) || told(name)) names.push(name);
  }
  const fields = names.map((name) => field(name, name === "missed" ? start.missed ?? 0 : start[name]));
  const asksSoft = asks.has("landing") || told("soft_landings");
  let soft = start.soft_landings ?? null;
  const save = once((data) => keep(data));
  const root = copy("full", {
    text: { heading: word(old ? "heading-change" : "heading-numbers"), fault: null },
    show: { soft: asksSoft, remove, which: item.exercises },
    list: { fields },
    set: { note: { value: start.note ?? "" } },
    act: {
      keep: () => {
        const found = values(root, fields);
        if (!found) return;
        if (found.reps === null) {
          fail(root, word("number-wrong"));
          return;
        }
        const which = root.querySelector("[data-set=which]");
        if (item.exercises && !which.value) {
          fail(root, word("choose-exercise"));
          which.focus();
          return;
        }
        save({
          ...found, missed: found.missed ?? 0,
          ...(asksSoft ? { soft_landings: soft } : {}),
          ...(item.exercises ? { exercise: which.value } : {}),
          note: root.querySelector("[data-set=note]").value.trim(),
        });
      },
      remove: once(() => remove()),
      back,
    },
  });
  if (item.exercises) {
    const which = root.querySelector("[data-set=which]");
    which.append(new Option(word("choose-exercise"), ""), ...[...item.exercises].map(([value, name]) => new Option(name, value)));
    if (start.exercise) which.value = start.exercise;
  }
  yesNo(root, soft, (value) => { soft = value; });
  return root;
}

export function skipSheet({ keep, back }) {
  const save = once(keep);
  const root = copy("skip", {
    text: { fault: null },
    act: {
      why: (event) => save(event.currentTarget.textContent.trim()),
      keep: () => {
        const why = root.querySelector("[data-set=words]").value.trim();
        if (why) save(why);
        else fail(root, word("write-why"));
      },
      back,
    },
  });
  return root;
}

// Pain that comes during the session: it counts from now on.
export function hurtsSheet(app, { chosen, keep, back }) {
  return copy("hurts", {
    list: { pain: [places(app.bundle.places, "pain", chosen, keep, { open: true })] },
    act: { back },
  });
}
