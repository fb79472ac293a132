// One exercise at a time: what is next, done in two taps, with the rest after it.

import { announce, copy, number, shortDay, word } from "./page.js";
import { clock } from "./rest.js";
import { fullSheet, hurtsSheet, quickSheet, skipSheet } from "./sheets.js";
import { repsTold, setTold, what } from "./told.js";
import { platesUnit, told, unitOf } from "./units.js";

const path = (session, ...rest) => ["/session", session.id, ...rest].join("/");
const LONGER_S = 30;

// Plates as they are stamped; where the gym's unit is not the reader's, with the load in it.
function platesTold({ plates, load_kg, load_words }) {
  if (!load_kg) return null;
  const stamped = platesUnit();
  if (!plates || (stamped !== unitOf("mass") && load_words)) return load_words ?? null;
  const on = plates.map((each) => number(each)).join(" + ");
  return plates.length ? word("each-side", { plates: on, unit: stamped }) : word("bar-only");
}

function lastTold(item) {
  const [first, ...sets] = item.last ?? [];
  if (!first || item.minutes) return null;
  if (/^\d{4}-\d\d-\d\d$/.test(first)) return word("last-day", { day: shortDay(first), sets: sets.join("; ") });
  return word("last-time", { sets: item.last.join("; ") });
}

const placeName = (app, place) => app.bundle.places.find(({ value }) => value === place)?.name ?? place;

const shown = (value) => value !== null && value !== undefined;

// A line of a set, its state beside it.
export function setLine(entry, place, change, { name = null, item } = {}) {
  const line = copy("set", {
    text: { told: (name ? `${name}: ` : "") + setTold(entry.data, item), note: entry.data.note },
    set: { change: { ariaLabel: word("change-set", { place: number(place) }) } },
    act: { change },
  });
  line.querySelector("[data-set=mark]").dataset.entry = entry.id;
  return line;
}

export function exercise(app, session, at, sheet = null) {
  const { done, items } = session;
  const { item, sets, skip, next } = done.items[at];
  const still = app.here();
  const again = (with_ = null) => {
    if (!still()) return;
    app.busy = Boolean(with_);
    app.show(exercise(app, app.session(session.id), at, with_), { focus: !with_ });
  };
  const onward = done.items.findIndex((each, i) => i > at && !each.done);
  const any = onward < 0 ? done.items.findIndex((each, i) => i !== at && !each.done) : onward;
  const complete = skip || next.stop || sets.length >= next.sets;
  const open = !sheet && !complete;
  const future = session.date > app.today;

  async function keep(data, replaces = null) {
    const entry = await app.add(session, "set", {
      exercise: item.exercise, item: item.item, number: sets.length + 1, missed: 0,
      ...data, ...(replaces ? { replaces: replaces.id, number: replaces.data.number } : {}),
    });
    const now = app.session(session.id).done.items[at];
    if (!replaces && session.date === app.today && item.rest_s) {
      app.rest.begin(session.id, at, item.rest_s, Date.parse(entry.at));
    }
    again();
    announce([word("kept", { place: number(sets.length + (replaces ? 0 : 1)) }), now.next.why].filter(Boolean).join(" "));
  }

  const planned = {
    reps: next.reps, load_kg: next.load_kg, box_m: next.box_m, drop_m: next.drop_m,
  };
  const asks = item.asks ?? [];
  const doNow = () => {
    const asked = ["reserve", "landing", "speed", "jump", "contact"].some((each) => asks.includes(each));
    if (asked) again("quick");
    else keep(planned);
  };

  const sheets = {
    quick: () => quickSheet(app, { item, planned, heading: what(planned, item), keep, back: () => again(), other: () => again("full") }),
    full: () => fullSheet(app, { item, start: planned, keep, back: () => again() }),
    skip: () => skipSheet({
      back: () => again(),
      keep: async (why) => {
        await app.add(session, "skip", { exercise: item.exercise, item: item.item, why });
        if (any < 0) again();
        else if (still()) app.go(path(session, "exercise", any));
      },
    }),
    hurts: () => hurtsSheet(app, {
      chosen: done.before?.data.pain ?? [],
      back: () => again(),
      keep: async (pain) => {
        const { sleep_hours = null, soreness = [] } = done.before?.data ?? {};
        await app.add(session, "before", { sleep_hours, soreness, pain });
        again();
      },
    }),
  };
  if (sheet?.change) {
    sheets.change = () => fullSheet(app, {
      item, start: sheet.change.data, old: sheet.change,
      keep: (data) => keep(data, sheet.change),
      remove: async () => { await app.add(session, "remove", { entry: sheet.change.id }); again(); },
      back: () => again(),
    });
  }
  const drawn = sheet ? sheets[sheet.change ? "change" : sheet]() : null;

  const restOf = app.rest.of?.startsWith(`${session.id}/`) && app.rest.until !== null;
  const stopped = next.pain
    ? word("stopped-pain", { level: number(next.pain.level), place: placeName(app, next.pain.place) })
    : next.stop ? next.why ?? word("stopped")
    : skip ? word("left-out", { why: skip.data.why })
    : complete ? word("item-done") : null;
  const place = sets.length + 1;
  const screen = copy("exercise", {
    text: {
      place: word("of", { place: number(at + 1), count: number(items.length) }),
      name: item.name, cue: item.cue, stopped,
      set: place > next.sets ? word("set-more", { place: number(place) })
        : word("set-of", { place: number(place), count: number(next.sets) }),
      load: shown(next.load_kg) ? told(next.load_kg, "mass")
        : item.minutes ? repsTold(next.reps, item)
        : shown(next.box_m) || shown(next.drop_m) ? null : word("body"),
      height: shown(next.drop_m) ? word("drop-big", { height: told(next.drop_m, "length") })
        : shown(next.box_m) ? word(item.hurdle ? "hurdle-big" : "box-big", { height: told(next.box_m, "length") }) : null,
      reps: item.minutes ? null : repsTold(next.reps, item),
      plates: platesTold(next),
      why: next.stop || sheet ? null : next.why ?? (at === 0 && !sets.length ? done.form?.why : null),
      last: sheet || complete ? null : lastTold(item),
      reason: sheet || complete ? null : item.why,
      rest: sheet || complete || item.minutes ? null : [
        item.rest_s ? word("rest-planned", { clock: clock(item.rest_s) }) : null,
        item.rest_between_reps_s ? word("rest-between", { seconds: number(item.rest_between_reps_s) }) : null,
      ].filter(Boolean).join(", "),
      done: word("done-button", { what: what(planned, item) }),
      "rest-word": null,
    },
    show: {
      resting: restOf && !sheet, stopped: complete && !sheet, see: next.pain, now: open,
      foot: !sheet && !future, onward: complete && any >= 0, finish: complete && any < 0,
      skippable: !skip && (!complete || (next.stop && !sets.length)), extra: complete && !next.stop && !skip, unskip: skip,
    },
    list: {
      cautions: (sheet && sheet !== "quick") || complete ? [] : (item.cautions ?? []).map((text) => copy("caution", { text: { text } })),
      asking: drawn ? [drawn] : [],
      sets: sheet ? [] : sets.map((entry, i) => setLine(entry, i + 1, () => again({ change: entry }), { item })),
    },
    set: {
      previous: at > 0 ? { href: `#${path(session, "exercise", at - 1)}` } : { hidden: true },
      following: at < items.length - 1 ? { href: `#${path(session, "exercise", at + 1)}` } : { hidden: true },
      all: { href: `#${path(session)}` },
      ending: { className: next.stop ? "eye stop" : "pocket-over" },
      onward: { href: `#${path(session, "exercise", any)}` },
      finish: { href: `#${path(session, "after")}` },
    },
    act: {
      done: doNow, other: () => again("full"), extra: () => again("full"), skip: () => again("skip"),
      hurts: () => again("hurts"),
      unskip: async () => { await app.add(session, "remove", { entry: skip.id }); again(); },
      longer: () => app.rest.longer(LONGER_S),
      ready: () => { app.rest.stop(); screen.querySelector("[data-do=done]:not([hidden])")?.focus(); },
    },
  });
  if (restOf) follow(app.rest, screen);
  if (drawn) queueMicrotask(() => { const heading = drawn.querySelector("h2"); heading.tabIndex = -1; heading.focus(); });
  return screen;
}

// The clock of the rest, as long as the screen is shown.
function follow(rest, screen) {
  const strip = screen.querySelector("[data-if=resting]");
  const time = screen.querySelector("[data-set=clock]");
  const tell = () => {
    if (!screen.isConnected && screen.dataset.shown) {
      rest.removeEventListener("tick", tell);
      return;
    }
    if (screen.isConnected) screen.dataset.shown = "yes";
    const { left } = rest;
    if (left === null) strip.hidden = true;
    else {
      time.textContent = left ? clock(left) : word("ready");
      strip.dataset.state = left ? "resting" : "ready";
    }
  };
  rest.addEventListener("tick", tell);
  tell();
}

// A set besides the plan: of a free session, or one that was put in or is corrected.
export function freeSet(app, session, id) {
  app.busy = true;
  const old = id ? session.done.others.find((entry) => entry.id === id) : null;
  const known = new Map((app.bundle.exercises ?? []).map(({ value, name }) => [value, name]));
  const back = () => app.go(path(session));
  return copy("besides", {
    list: {
      asking: [fullSheet(app, {
        item: { asks: ["missed", "reserve", "speed", "jump"], load_kg: 0, exercises: known },
        start: old?.data ?? { reps: 5 }, old, back,
        keep: async (data) => {
          const replaces = old ? { replaces: old.id } : {};
          await app.add(session, "set", { item: null, number: session.done.count + (old ? 0 : 1), missed: 0, ...data, ...replaces });
          back();
        },
        remove: old ? async () => { await app.add(session, "remove", { entry: old.id }); back(); } : null,
      })],
    },
  });
}
