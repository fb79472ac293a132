// Sends what is kept: in order, one request at a time, again and again until it is confirmed.
// An entry keeps its id, so that sending it twice stores it once.

import { device, entriesOf, mark } from "./store.js";

const AT_ONCE = 10;
const GIVE_UP_MS = 20_000;
const SHORTEST_PAUSE_MS = 2_000;
const LONGEST_PAUSE_MS = 120_000;
const LOCK = "saltus-pocket-sending";

export class Queue extends EventTarget {
  // `address` takes the entries; `csrf` gives the token of the moment, `renew` asks for a new one.
  constructor({ address, csrf, renew }) {
    super();
    this.address = address;
    this.csrf = csrf;
    this.renew = renew;
    this.renewed = false;
    this.athlete = null;
    this.signedOut = false;
    this.otherAccount = false;
    this.pause = SHORTEST_PAUSE_MS;
    this.timer = null;
    this.running = null;
    window.addEventListener("online", () => this.send());
    window.addEventListener("pageshow", () => this.send());
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.send();
    });
  }

  tell() {
    this.dispatchEvent(new Event("change"));
  }

  // Sends whatever waits; several calls at once are one.
  send() {
    clearTimeout(this.timer);
    this.running ??= this.locked().finally(() => {
      this.running = null;
      if (this.again) {
        this.again = false;
        this.send();
      }
    });
    return this.running;
  }

  // A new entry: also one that comes while the last request is under way.
  added() {
    this.again = this.running !== null;
    return this.send();
  }

  async locked() {
    if (!this.athlete || this.otherAccount) return;
    if (!navigator.locks) {
      await this.all();
      return;
    }
    // Two tabs take turns. One that was put to sleep in its turn is not waited for: what it sends
    // and we send too is stored once.
    const signal = AbortSignal.timeout(1.5 * GIVE_UP_MS);
    let begun = false;
    try {
      await navigator.locks.request(LOCK, { signal }, () => { begun = true; return this.all(); });
    } catch (error) {
      if (begun) throw error;
      await this.all();
    }
  }

  async all() {
    const athlete = this.athlete;
    let size = AT_ONCE;
    while (athlete === this.athlete) {
      const waiting = (await entriesOf(athlete)).filter((entry) => !entry.sent && !entry.refused);
      if (!waiting.length) {
        this.pause = SHORTEST_PAUSE_MS;
        return;
      }
      const some = waiting.slice(0, size);
      const answer = await this.post(athlete, some);
      if (answer === "later") {
        this.timer = setTimeout(() => this.send(), this.pause * (0.75 + Math.random() / 2));
        this.pause = Math.min(2 * this.pause, LONGEST_PAUSE_MS);
        return;
      }
      if (answer === "stop") return;
      if (answer === "unreadable") {
        // One entry that the server cannot read must not hold up the others.
        if (size > 1) { size = 1; continue; }
        await mark([some[0].id], { refused: "unreadable" });
      } else {
        const { kept, refused } = answer;
        await mark(kept, { sent: true });
        for (const { id, why } of refused) await mark([id], { refused: why || "unreadable" });
        if (!kept.length && !refused.length) return; // nothing moves: ask again with the next
        this.pause = SHORTEST_PAUSE_MS;
        this.signedOut = false;
        this.dispatchEvent(new CustomEvent("kept", { detail: some.map(({ kind }) => kind) }));
      }
      this.tell();
    }
  }

  async post(athlete, entries) {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), GIVE_UP_MS);
    try {
      const answer = await fetch(this.address, {
        method: "POST",
        credentials: "same-origin",
        headers: { "Content-Type": "application/json", "X-CSRFToken": this.csrf() },
        body: JSON.stringify({
          athlete,
          device: await device(),
          entries: entries.map(({ id, session, date, kind, at, data }) => ({ id, session, date, kind, at, data })),
        }),
        redirect: "error",
        signal: stop.signal,
      });
      if (answer.status === 403 && !this.renewed) {
        this.renewed = true; // the token may have been lost: ask for one, once
        await this.renew();
        return "later";
      }
      if (answer.status === 401 || answer.status === 403) {
        this.signedOut = true;
        this.tell();
        return "stop";
      }
      if (answer.status === 409 || answer.status === 404) {
        this.otherAccount = true;
        this.tell();
        return "stop";
      }
      if (answer.status === 400 || answer.status === 413 || answer.status === 422) return "unreadable";
      if (!answer.ok) return "later";
      const { kept = [], refused = [] } = await answer.json();
      this.renewed = false;
      return { kept, refused };
    } catch {
      return "later"; // no signal, or the answer was lost: the same entries go again
    } finally {
      clearTimeout(timer);
    }
  }
}
