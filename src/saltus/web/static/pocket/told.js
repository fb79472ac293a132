// Sets and items in words and numbers.

import { number, word } from "./page.js";
import { told } from "./units.js";

const known = (value) => value !== null && value !== undefined;

const minutesTold = (minutes) => word("minutes", { minutes: number(minutes) });

// "8 repetitions", "10 repetitions each leg"; of a warm-up its time.
export function repsTold(reps, { minutes, per_side } = {}) {
  if (minutes) return minutesTold(minutes);
  const times = reps === 1 ? word("reps-one") : word("reps", { reps: number(reps) });
  return per_side ? word("each-leg", { what: times }) : times;
}

// "5 × 62.5 kg", "3 × box 60 cm", "5 from 30 cm", "8 repetitions"; of a warm-up its time.
export function what({ reps, load_kg, box_m, drop_m }, { minutes, hurdle } = {}) {
  if (minutes) return minutesTold(minutes);
  const times = number(reps);
  if (known(drop_m) && !known(load_kg) && !known(box_m)) {
    return word("reps-drop", { reps: times, height: told(drop_m, "length") });
  }
  const parts = [];
  if (known(load_kg)) parts.push(told(load_kg, "mass"));
  if (known(drop_m)) parts.push(word("drop", { height: told(drop_m, "length") }));
  if (known(box_m)) parts.push(word(hurdle ? "hurdle" : "box", { height: told(box_m, "length") }));
  return parts.length ? word("reps-load", { reps: times, load: parts.join(", ") }) : repsTold(reps);
}

export function setTold(data, item = {}) {
  const parts = [what(data, item)];
  if (data.missed) parts.push(word("told-missed", { count: number(data.missed) }));
  if (known(data.reserve)) {
    parts.push(word("told-reserve", { count: data.reserve >= 5 ? word("five-or-more") : number(data.reserve) }));
  }
  if (known(data.speed_m_s)) parts.push(told(data.speed_m_s, "speed"));
  if (known(data.jump_m)) parts.push(word("told-jump", { height: told(data.jump_m, "length") }));
  if (known(data.contact_s)) parts.push(word("told-contact", { time: told(data.contact_s, "milliseconds") }));
  if (data.soft_landings === true) parts.push(word("told-soft"));
  if (data.soft_landings === false) parts.push(word("told-hard"));
  return parts.join(", ");
}

export function itemTold(item) {
  if (item.minutes) return minutesTold(item.minutes);
  const sets = `${number(item.sets)} × ${what(item, item)}`;
  return item.per_side ? word("each-leg", { what: sets }) : sets;
}
