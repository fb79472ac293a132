// The page of an athlete: what is on this phone, drawn; what is entered, kept and sent.

import * as store from "./store.js";
import { Queue } from "./queue.js";
import { Rest, tone } from "./rest.js";
import { announce, copy, number, put, word } from "./page.js";
import { PERSONAL, forget } from "./leaving.js";
import { useUnits } from "./units.js";
import { merge, read } from "./session.js";
import { agree } from "./agree.js";
import { home } from "./home.js";
import { overview, planned } from "./overview.js";
import { before } from "./before.js";
import { exercise, freeSet } from "./exercise.js";
import { after } from "./after.js";
import { free } from "./free.js";

const page = document.body.dataset;
const FETCH_GIVES_UP_MS = 90_000;
const AGAIN_MS = 5_000;

const cookie = (name) =>
  document.cookie.split("; ").find((each) => each.startsWith(`${name}=`))?.slice(name.length + 1) ?? "";

export const app = {
  bundle: null,
  own: [],
  settings: { vibrate: true, sound: false },
  rest: new Rest(),
  queue: null,
  busy: false, // something is half entered: do not draw over it

  // The day where the phone is: the bundle may be days old.
  get today() {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()]
      .map((part) => String(part).padStart(2, "0")).join("-");
  },

  get athlete() { return this.bundle?.athlete.id ?? null; },

  // Sessions of the bundle and those that began on this phone, each with its entries.
  sessions() {
    const known = new Map();
    for (const each of this.bundle.sessions) known.set(each.id, { ...each, entries: each.entries ?? [] });
    for (const entry of this.own) {
      if (!known.has(entry.session) && entry.kind !== "agree") {
        known.set(entry.session, { id: entry.session, date: entry.date, items: [], entries: [], free: true });
      }
    }
    return [...known.values()].map((session) => {
      const entries = merge(session.entries, this.own.filter((entry) => entry.session === session.id));
      return { ...session, items: session.items ?? [], entries, done: read({ ...session, items: session.items ?? [] }, entries) };
    });
  },

  session(id) { return this.sessions().find((each) => each.id === id) ?? null; },

  agreed() {
    const here = new Set(this.own.filter(({ kind }) => kind === "agree").map(({ data }) => data.caution));
    return this.bundle.cautions.every(({ id, agreed }) => agreed || here.has(id));
  },

  // Keeps an entry on the phone, first of all; then it is sent when it can be.
  async add(session, kind, data) {
    const now = Date.now();
    const newest = Math.max(0, ...this.own.map(({ at }) => Date.parse(at)));
    // Two entries of one moment, or a clock put back a little, keep their order.
    const at = newest >= now && newest - now < 60_000 ? newest + 1 : now;
    const entry = {
      id: store.newId(), athlete: this.athlete, session: session.id, date: session.date, kind,
      at: new Date(at).toISOString(), data, sent: false, refused: null,
    };
    await store.addEntry(entry);
    this.own.push(entry);
    others?.postMessage("entries");
    showState();
    this.queue.added();
    return entry;
  },

  go(path) {
    if (window.location.hash === `#${path}`) this.draw();
    else window.location.hash = path;
  },

  // Whether the screen is still the one of now: saving takes a moment, and whoever went elsewhere
  // in it is not taken back.
  here() {
    const { hash } = window.location;
    return () => window.location.hash === hash;
  },

  draw(options) { draw(options); },

  // A screen that draws itself anew, in place.
  show(fresh, options) { put(fresh, options); showState(); },
};

const others = window.BroadcastChannel ? new BroadcastChannel("saltus-pocket") : null;

// ---- Drawing

function screen() {
  if (!app.bundle) return copy("nothing", { act: { again: () => refresh() }, set: { "sign-in": { href: page.signIn } } });
  if (!app.agreed()) return agree(app);
  const [, kind, id, step, place] = decodeURI(window.location.hash.slice(1)).split("/");
  if (kind === "free") return free(app);
  const session = kind === "session" ? app.session(id) : null;
  if (!session) return home(app);
  if (step === "before") return before(app, session);
  if (step === "after") return after(app, session);
  if (step === "planned") return planned(app, session);
  if (step === "add") return freeSet(app, session, place ?? null);
  if (step === "exercise" && session.items[Number(place)]) return exercise(app, session, Number(place));
  return overview(app, session);
}

function draw(options) {
  app.busy = false;
  put(screen(), options);
  document.body.dataset.drawn = "yes";
  showState();
}

function waiting() {
  return app.own.filter((entry) => !entry.sent && !entry.refused);
}

// The state on top, and at each entry that is shown.
export function showState() {
  const count = waiting().length;
  const top = document.getElementById("state");
  top.hidden = !app.bundle;
  top.textContent = count ? word("here-count", { count: number(count) }) : word("all-sent");
  top.dataset.state = count ? "here" : "sent";
  const states = new Map(app.own.map((entry) => [entry.id, entry]));
  for (const mark of document.querySelectorAll("[data-entry]")) {
    const entry = states.get(mark.dataset.entry);
    const state = !entry || entry.sent ? "sent" : entry.refused ? "refused" : "here";
    mark.dataset.state = state;
    mark.textContent = word(state);
  }
  notice();
}

function notice() {
  const place = document.getElementById("notice");
  const say = [];
  if (app.queue?.otherAccount) say.push([word("other-account"), page.signIn]);
  else if (app.queue?.signedOut) say.push([word("signed-out"), page.signIn]);
  if (app.own.some(({ refused }) => refused)) say.push([word("some-refused"), null]);
  if (!window.isSecureContext) say.push([word("not-secure"), null]);
  const key = JSON.stringify(say);
  if (place.dataset.key === key) return;
  place.dataset.key = key;
  place.replaceChildren(...say.map(([text, href]) => copy("notice", { text: { text }, show: { go: href }, set: { go: { href: href ?? "#" } } })));
  place.hidden = !say.length;
}

// ---- What comes from the server

async function reload() {
  app.own = app.athlete ? await store.entriesOf(app.athlete) : [];
}

async function use(bundle) {
  app.bundle = bundle;
  if (bundle) useUnits(bundle.units);
  app.queue.athlete = app.athlete;
  await reload();
}

async function leave() {
  await forget();
  await use(null);
}

let fetching = null;
let askAgain = null;

// With nothing here at all, the page goes on asking.
function missing() {
  if (app.bundle) return;
  draw();
  askAgain = setTimeout(refresh, AGAIN_MS);
}

export function refresh() {
  fetching ??= fetchBundle().finally(() => { fetching = null; });
  return fetching;
}

async function fetchBundle() {
  let answer;
  clearTimeout(askAgain);
  try {
    answer = await fetch(page.bundle, {
      credentials: "same-origin", redirect: "error", cache: "no-cache",
      signal: AbortSignal.timeout(FETCH_GIVES_UP_MS),
    });
  } catch {
    missing();
    return; // no signal: what is here serves
  }
  if (answer.status === 401) {
    app.queue.signedOut = true;
    if (app.bundle) showState();
    else draw();
    return;
  }
  if (answer.status === 403 || answer.status === 404) {
    await leave();
    draw();
    return;
  }
  if (!answer.ok) {
    missing();
    return;
  }
  const fresh = await answer.json();
  if (app.bundle && fresh.athlete.id !== app.athlete) {
    await leave();
    window.location.hash = "/";
  }
  const first = !app.bundle;
  const same = !first && JSON.stringify(fresh) === JSON.stringify(app.bundle);
  await store.bundle.keep(fresh);
  app.queue.signedOut = app.queue.otherAccount = false;
  await use(fresh);
  await store.letGo(app.athlete, fresh.sessions.map(({ date }) => date).sort()[0] ?? fresh.today);
  await reload();
  if (first || (!app.busy && !same)) draw({ focus: first });
  else showState();
  app.queue.send();
  keepPages();
}

// Own results and plan are kept to be read without a signal.
async function keepPages() {
  if (!window.caches) return;
  const kept = await caches.open(PERSONAL);
  for (const path of page.pages.split(" ").filter(Boolean)) {
    try {
      const answer = await fetch(path, { credentials: "same-origin" });
      if (answer.ok && !answer.redirected) await kept.put(path, answer);
    } catch {
      return;
    }
  }
}

async function signOut() {
  const count = waiting().length;
  if (count && !window.confirm(word("leave-unsent", { count: number(count) }))) return;
  let gone = false;
  try {
    const answer = await fetch(page.signOut, {
      method: "POST", credentials: "same-origin", headers: { "X-CSRFToken": cookie(page.csrfCookie) },
    });
    gone = answer.ok;
  } catch { /* without a signal the phone forgets all the same; the sign-in ends with the next */ }
  await leave();
  others?.postMessage("forgotten");
  if (gone) window.location.assign(page.signIn);
  else app.go("/");
}

// ---- Beginning

async function begin() {
  app.queue = new Queue({ address: page.entries, csrf: () => cookie(page.csrfCookie), renew: refresh });
  app.refresh = refresh;
  app.signOut = signOut;
  app.queue.addEventListener("change", async () => { await reload(); showState(); });
  app.queue.addEventListener("kept", ({ detail }) => {
    others?.postMessage("entries");
    // Pain opens and closes exercises: what the server makes of it is asked for.
    if (detail.includes("before")) refresh();
  });
  app.rest.addEventListener("over", () => {
    announce(word("rest-over"));
    if (app.settings.vibrate) navigator.vibrate?.([180, 90, 180]);
    if (app.settings.sound) tone();
  });
  others?.addEventListener("message", async ({ data }) => {
    if (data === "forgotten") await use(null);
    else await reload();
    if (data === "forgotten" || !app.busy) draw({ focus: false });
    else showState();
  });
  window.addEventListener("hashchange", () => draw());
  document.getElementById("state").addEventListener("click", () => { app.queue.send(); refresh(); });
  for (const event of ["online", "pageshow"]) {
    window.addEventListener(event, (told) => { if (event === "online" || told.persisted) refresh(); });
  }
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") refresh();
  });
  put(copy("wait"));
  try {
    app.settings = { ...app.settings, ...(await store.small.read("settings")) };
    await app.rest.restore();
    await use((await store.bundle.read()) ?? null);
  } catch {
    put(copy("fault", { text: { text: word("cannot-keep") } }));
    return;
  }
  if (app.bundle) draw();
  await refresh();
  // Asked once there is something to keep.
  if (app.bundle && navigator.storage?.persist) await navigator.storage.persist();
  if (navigator.serviceWorker) {
    const worker = await navigator.serviceWorker.register(page.worker, { scope: page.scope, updateViaCache: "none" });
    worker.update().catch(() => {});
  }
}

begin();
