// A session as a whole: its exercises, what was done, and where to go on.

import { copy, longDay, number, word } from "./page.js";
import { aboutOf, titleOf } from "./home.js";
import { itemTold } from "./told.js";
import { setLine } from "./exercise.js";
import { waiting } from "./session.js";

const path = (session, ...rest) => ["/session", session.id, ...rest].join("/");

function nameOf(app, exercise) {
  return app.bundle.exercises?.find(({ value }) => value === exercise)?.name ?? exercise;
}

function stateOfItem({ sets, skip, next }) {
  if (skip) return word("left-out", { why: skip.data.why });
  const count = sets.length ? word("sets-of", { count: number(sets.length), sets: number(next.sets) }) : null;
  if (!next.stop) return count;
  const why = word(next.pain ? "ended-pain" : count ? "ended" : "not-today");
  return count ? `${count}, ${why}` : why;
}

export function overview(app, session) {
  const { done, items, date } = session;
  const { athlete } = app.bundle;
  const { today } = app;
  const at = waiting(done);
  const noted = session.noted && !done.begun;
  const late = !noted && date < today && items.length > 0 && at !== null;
  const loadOf = done.after?.data.effort != null && done.after?.data.minutes != null
    ? word("summary-load", {
      effort: number(done.after.data.effort), minutes: number(done.after.data.minutes, 0),
      load: number(done.after.data.effort * done.after.data.minutes, 0),
    })
    : null;
  const onward = async () => {
    const still = app.here();
    if (!done.start) {
      await app.add(session, "start", {
        planned: session.free || !items.length ? null : date, free: !items.length, what: "",
      });
    }
    if (!still()) return;
    if (!done.before && date === today) app.go(path(session, "before"));
    else if (at !== null) app.go(path(session, "exercise", at));
    else app.go(path(session, "after"));
  };
  const over = at === null && done.after;
  return copy("overview", {
    text: {
      day: longDay(date), title: titleOf(session), about: aboutOf(session), summary: noted ? word("state-noted") : loadOf,
      note: done.after?.data.note,
      start: over || noted || date > today ? null
        : word(done.begun ? "continue" : date < today ? "log-late" : "start"),
    },
    show: {
      minor: athlete.minor && items.length, free: !items.length && date <= today, late,
      begun: done.begun, others: done.others.length && items.length,
    },
    list: {
      items: done.items.map((each, i) =>
        copy("item", {
          text: { name: each.item.name, what: itemTold(each.item), state: stateOfItem(each) },
          set: { go: { href: `#${path(session, "exercise", i)}` } },
        })),
      others: done.others.map((entry, i) =>
        setLine(entry, i + 1, () => app.go(path(session, "add", entry.id)), { name: nameOf(app, entry.data.exercise) })),
    },
    act: {
      start: onward,
      add: () => app.go(path(session, "add")),
      planned: () => app.go(path(session, "planned")),
      before: () => app.go(path(session, "before")),
      after: () => app.go(path(session, "after")),
    },
  });
}

// Afterwards: every set that is not written down yet is kept as planned.
export function planned(app, session) {
  const back = () => app.go(path(session));
  let pressed = false;
  return copy("planned", {
    act: {
      no: back,
      yes: async () => {
        if (pressed) return;
        pressed = true;
        const { done, date } = session;
        if (!done.start) await app.add(session, "start", { planned: date, free: false, what: "" });
        for (const { item, sets, next, skip } of done.items) {
          if (skip || next.stop) continue;
          for (let place = sets.length; place < next.sets; place += 1) {
            await app.add(session, "set", {
              exercise: item.exercise, item: item.item, number: place + 1, reps: next.reps, missed: 0,
              load_kg: next.load_kg, box_m: next.box_m, drop_m: next.drop_m,
            });
          }
        }
        app.go(path(session, "after"));
      },
    },
  });
}
