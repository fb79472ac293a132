// What this phone keeps: entries until they are sent and some time after, the bundle, small things.
// An entry names the athlete it is of: nobody else on this phone sees it or sends it.

const NAME = "saltus-pocket";
let opened = null;

function open() {
  opened ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("entries", { keyPath: "id" });
      asked.result.createObjectStore("bundle");
      asked.result.createObjectStore("small");
    };
    asked.onsuccess = () => {
      // Another tab with a newer page may need to change the stores.
      asked.result.onversionchange = () => { asked.result.close(); opened = null; };
      resolve(asked.result);
    };
    asked.onerror = () => { opened = null; reject(asked.error); };
  });
  return opened;
}

// Runs `work` on a store and gives its result once the transaction is on the disk.
async function within(store, mode, work) {
  const database = await open();
  return new Promise((resolve, reject) => {
    const options = mode === "readwrite" ? { durability: "strict" } : {};
    const transaction = database.transaction(store, mode, options);
    const request = work(transaction.objectStore(store));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onabort = () => reject(transaction.error);
  });
}

export const bundle = {
  read: () => within("bundle", "readonly", (store) => store.get("now")),
  keep: (value) => within("bundle", "readwrite", (store) => store.put(value, "now")),
  clear: () => within("bundle", "readwrite", (store) => store.clear()),
};

export const small = {
  read: (name) => within("small", "readonly", (store) => store.get(name)),
  keep: (name, value) => within("small", "readwrite", (store) => store.put(value, name)),
};

const inOrder = (a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : 1);

// The entries of one athlete, in the order made.
export async function entriesOf(athlete) {
  const all = await within("entries", "readonly", (store) => store.getAll());
  return all.filter((entry) => entry.athlete === athlete).sort(inOrder);
}

export const addEntry = (entry) => within("entries", "readwrite", (store) => store.add(entry));

// Marks what the server answered. An entry that is gone meanwhile stays gone.
export const mark = (ids, change) =>
  within("entries", "readwrite", (store) => {
    for (const id of ids) {
      const asked = store.get(id);
      asked.onsuccess = () => asked.result && store.put({ ...asked.result, ...change });
    }
  });

export const drop = (id) => within("entries", "readwrite", (store) => store.delete(id));

// Lets go of entries that the server has and that are older than anything still shown.
export const letGo = (athlete, before) =>
  within("entries", "readwrite", (store) => {
    const walk = store.openCursor();
    walk.onsuccess = () => {
      const at = walk.result;
      if (!at) return;
      const { value } = at;
      if (value.athlete === athlete && value.sent && value.date < before) at.delete();
      at.continue();
    };
  });

// A random UUID (RFC 9562, version 4), also where the address is not a secure one.
export function newId() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

// The name of this phone, made at first use.
export async function device() {
  let id = await small.read("device");
  if (!id) {
    id = newId();
    await small.keep("device", id);
  }
  return id;
}
