// What a session has come to, told from its entries alone: the same on every phone.

import { follow, formOf } from "./answers.js";

// Entries known to the server and entries of this phone, each once, in the order made.
export function merge(known, own) {
  const all = new Map();
  for (const entry of known) all.set(entry.id, { ...entry, sent: true });
  for (const entry of own) {
    const there = all.get(entry.id);
    if (!there || !entry.sent) all.set(entry.id, there ? { ...entry, sent: true } : entry);
  }
  return [...all.values()].sort((a, b) =>
    a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : 1);
}

// Entries that count: neither taken back nor corrected.
function standing(entries) {
  const gone = new Set();
  for (const { kind, data } of entries) {
    if (kind === "remove") gone.add(data.entry);
    if (kind === "set" && data.replaces) gone.add(data.replaces);
  }
  return entries.filter((entry) => !gone.has(entry.id) && entry.kind !== "remove");
}

// A corrected set keeps the place of the one that it corrects.
function inPlace(sets, entries) {
  const at = new Map(entries.map((entry) => [entry.id, entry]));
  const first = (entry, seen = new Set([entry.id])) => {
    const before = entry.data.replaces && at.get(entry.data.replaces);
    if (!before || seen.has(before.id)) return entry; // two may claim to correct each other
    return first(before, seen.add(before.id));
  };
  const order = new Map(entries.map((entry, i) => [entry.id, i]));
  return [...sets].sort((a, b) => order.get(first(a).id) - order.get(first(b).id));
}

const last = (entries, kind) => entries.findLast((entry) => entry.kind === kind) ?? null;

// `session` is the bundle's, or {items: []} of a free one.
export function read(session, entries) {
  const counted = standing(entries);
  const before = last(counted, "before");
  const pains = before?.data.pain ?? [];
  const sets = inPlace(counted.filter(({ kind }) => kind === "set"), entries);
  const skips = counted.filter(({ kind }) => kind === "skip");
  const form = formOf(session.form, sets);
  const worse = form && form.state !== "usual" ? form.state : null;
  const items = session.items.map((item) => {
    const own = sets.filter(({ data }) => data.item === item.item);
    const skip = skips.find(({ data }) => data.item === item.item) ?? null;
    const next = follow(item, own, { pains, form: worse });
    return { item, sets: own, skip, next, done: Boolean(skip) || next.stop || own.length >= next.sets };
  });
  const planned = new Set(session.items.map(({ item }) => item));
  return {
    start: last(counted, "start"),
    before,
    pains,
    form,
    items,
    others: sets.filter(({ data }) => !planned.has(data.item)),
    count: sets.length,
    after: last(counted, "after"),
    begun: counted.some(({ kind }) => kind !== "agree"),
  };
}

// The first exercise that waits, from `at` on and then from the front; null when none does.
export function waiting(state, at = 0) {
  const found = state.items.findIndex(({ done }, i) => i >= at && !done);
  const any = found < 0 ? state.items.findIndex(({ done }) => !done) : found;
  return any < 0 ? null : any;
}

// Minutes from the beginning to the last set (or now), by the clock; null where that says nothing.
export function minutes(state, entries, now = Date.now()) {
  const begun = state.start && Date.parse(state.start.at);
  if (!begun) return null;
  const sets = entries.filter(({ kind }) => kind === "set" || kind === "skip");
  const end = sets.length ? Date.parse(sets.at(-1).at) : now;
  // Right after the last set the clock of now is meant; the day after it is not.
  const told = now - end < 30 * 60_000 ? now : end;
  const passed = Math.round((told - begun) / 60_000);
  return passed >= 5 && passed <= 300 ? passed : null;
}
