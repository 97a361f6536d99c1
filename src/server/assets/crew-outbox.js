// Trials on their way: kept on the phone until the server has answered for them. The page and the
// worker both use this file; each trial has an id of its own from the first tap on, and the server
// writes an id down once, however often it comes.
(() => {
  "use strict";

  const DAYS_KEPT = 3;
  const PATIENCE_MS = 20_000;

  let opened = null;
  function database() {
    opened ??= new Promise((resolve, reject) => {
      const asked = indexedDB.open("fairseam", 1);
      asked.onupgradeneeded = () => {
        asked.result.createObjectStore("trials", { keyPath: "sent_id" });
        asked.result.createObjectStore("drafts", { keyPath: "site" });
      };
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => {
        opened = null;
        reject(asked.error);
      };
    });
    return opened;
  }

  // Resolves when the phone has really kept it, not before.
  async function within(store, mode, work) {
    const transaction = (await database()).transaction(store, mode);
    const asked = work(transaction.objectStore(store));
    return new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve(asked?.result);
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error);
    });
  }

  const drafts = {
    load: (site) => within("drafts", "readonly", (store) => store.get(site)),
    save: (draft) => within("drafts", "readwrite", (store) => store.put(draft)),
    drop: (site) => within("drafts", "readwrite", (store) => store.delete(site)),
  };

  // The draft becomes a trial that waits, in one step: never both, never neither.
  async function queue(entry, site) {
    const transaction = (await database()).transaction(["trials", "drafts"], "readwrite");
    const trials = transaction.objectStore("trials");
    // A second tap finds the first one's entry and leaves it alone.
    const before = trials.get(entry.sent_id);
    before.onsuccess = () => {
      if (before.result === undefined) trials.put({ ...entry, state: "waiting" });
    };
    transaction.objectStore("drafts").delete(site);
    return new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error);
    });
  }

  const all = async () => {
    const found = await within("trials", "readonly", (store) => store.getAll());
    return found.sort((one, other) => one.made_at.localeCompare(other.made_at));
  };
  const get = (id) => within("trials", "readonly", (store) => store.get(id));
  const put = (entry) => within("trials", "readwrite", (store) => store.put(entry));
  const drop = (id) => within("trials", "readwrite", (store) => store.delete(id));

  // What has come of sending one: `sent`, `refused`, or why it still waits.
  async function send(entry) {
    let answer;
    try {
      answer = await fetch(`/crew/${encodeURIComponent(entry.site)}/trials`, {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify({ ...entry.trial, sent_id: entry.sent_id }),
        credentials: "same-origin",
        redirect: "error",
        signal: AbortSignal.timeout(PATIENCE_MS),
      });
    } catch {
      return { waits: "no-signal" };
    }
    const said = await answer.json().catch(() => null);
    if (answer.ok && said !== null) return { state: "sent", answer: said };
    if (answer.status === 401 || answer.status === 403) return { waits: "no-key" };
    // Refused for what it says: sending it again as it is would change nothing.
    if ([400, 409, 413, 422].includes(answer.status)) {
      return { state: "refused", fault: said?.error ?? `HTTP ${answer.status}` };
    }
    return { waits: "server" };
  }

  // One after the other in the order in which they were made, by one page or the worker at a time.
  async function sendAll() {
    const work = async () => {
      let waits = null;
      for (const entry of await all()) {
        if (entry.state !== "waiting") continue;
        const came = await send(entry);
        if (came.waits) {
          waits = came.waits;
          break;
        }
        await put({ ...entry, ...came, settled_at: new Date().toISOString() });
      }
      await forgetOld();
      return waits;
    };
    if (!globalThis.navigator?.locks) return work();
    return navigator.locks.request("fairseam-send", work);
  }

  // What is in the book need not stay on the phone; what is not is never forgotten.
  async function forgetOld() {
    const before = new Date(Date.now() - DAYS_KEPT * 86_400_000).toISOString();
    for (const entry of await all()) {
      if (entry.state === "sent" && entry.settled_at < before) await drop(entry.sent_id);
    }
  }

  // A random UUID (RFC 9562, version 4).
  function newId() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
  }

  globalThis.fairseam = {
    ...globalThis.fairseam,
    outbox: { drafts, queue, all, get, put, drop, sendAll, newId },
  };
})();
