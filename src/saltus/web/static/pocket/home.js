// Today, the days round it, and this phone.

import { copy, longDay, number, shortDay, word } from "./page.js";
import { drop, small } from "./store.js";

export function stateOf({ done, date, noted }, today) {
  const count = number(done.count);
  if (noted && !done.begun) return word("state-noted");
  if (done.after) return done.count ? word("state-done", { count }) : word("state-over");
  return done.begun ? word("state-begun", { count }) : word(date < today ? "state-missing" : "state-open");
}

export function titleOf(session) {
  return session.done.start?.data.what || session.title || word("free-title");
}

export function aboutOf(session) {
  const parts = [];
  if (session.items.length) parts.push(word("exercises", { count: number(session.items.length) }));
  if (session.minutes) parts.push(word("about-minutes", { minutes: number(session.minutes, 0) }));
  return parts.join(", ");
}

const linkTo = (session) => `#/session/${session.id}`;

function card(session, today) {
  const { done } = session;
  return copy("card", {
    text: {
      title: titleOf(session), about: aboutOf(session), state: stateOf(session, today),
      go: word(done.after || (session.noted && !done.begun) ? "look" : done.begun ? "continue" : "start"),
    },
    set: { go: { href: linkTo(session) } },
  });
}

const line = (session, today) =>
  copy("day", {
    text: { day: shortDay(session.date), title: titleOf(session), state: stateOf(session, today) },
    set: { go: { href: linkTo(session) } },
  });

export function home(app) {
  const { athlete } = app.bundle;
  const { today } = app;
  const sessions = app.sessions().filter(({ items, done }) => items.length || done.begun);
  const on = (test) => sessions.filter(({ date }) => test(date)).sort((a, b) => (a.date < b.date ? -1 : 1));
  const now = on((date) => date === today);
  const coming = on((date) => date > today);
  const earlier = on((date) => date < today).reverse();
  const refused = app.own.filter((entry) => entry.refused);
  const screen = copy("home", {
    text: { day: longDay(today), storage: null, name: athlete.name },
    show: { none: !now.length, coming: coming.length, earlier: earlier.length, refused: refused.length },
    list: {
      today: now.map((each) => card(each, today)),
      coming: coming.map((each) => line(each, today)),
      earlier: earlier.map((each) => line(each, today)),
      refused: refused.map((entry) => refusedLine(app, entry)),
      stopped: (app.bundle.stopped ?? []).map((text) => copy("caution", { text: { text } })),
    },
    set: {
      vibrate: { checked: app.settings.vibrate, onchange: (event) => choose(app, { vibrate: event.target.checked }) },
      sound: { checked: app.settings.sound, onchange: (event) => choose(app, { sound: event.target.checked }) },
    },
    act: { free: () => app.go("/free"), "sign-out": () => app.signOut() },
  });
  navigator.storage?.persisted?.().then((safe) => {
    const told = screen.querySelector("[data-text=storage]");
    told.textContent = word(safe ? "storage-safe" : "storage-unsure");
    told.hidden = false;
  });
  return screen;
}

function refusedLine(app, entry) {
  const why = entry.refused === "unreadable" ? word("unreadable") : entry.refused;
  return copy("refused", {
    text: { what: `${shortDay(entry.date)} ${entry.data.exercise ?? entry.data.what ?? ""}`, why: word("refused-why", { why }) },
    act: {
      away: async () => {
        await drop(entry.id);
        app.own = app.own.filter(({ id }) => id !== entry.id);
        app.draw();
      },
    },
  });
}

async function choose(app, change) {
  app.settings = { ...app.settings, ...change };
  await small.keep("settings", app.settings);
}
