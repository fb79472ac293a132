// Nothing of one athlete is shown to another: what there is to read goes when they sign out, or
// when somebody else has signed in. Entries that were not sent stay, unseen, for their athlete.

import { bundle } from "./store.js";

export const PERSONAL = "saltus-pocket-pages"; // the same name stands in worker.js

export async function forget() {
  await bundle.clear();
  if (window.caches) await caches.delete(PERSONAL);
}
