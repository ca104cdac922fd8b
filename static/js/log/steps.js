/**
 * @callback Step
 * @param {IDBDatabase} db
 * @returns {void}
 */

/**
 * Step n takes the database from version n to n + 1. Steps only add, and none is
 * edited once shipped: an older page must still find every store it knows, and the
 * `outbox` never changes shape.
 * @type {readonly Step[]}
 */
export const STEPS = [
  (db) => {
    db.createObjectStore("meta", { keyPath: "name" });
    const entries = db.createObjectStore("entries", { keyPath: ["log", "seq"] });
    entries.createIndex("id", "id", { unique: true });
    entries.createIndex("record", ["record", "log", "seq"]);
    db.createObjectStore("pulled", { autoIncrement: true }).createIndex("record", "record");
    db.createObjectStore("packs", { keyPath: ["record", "log", "from"] });
    db.createObjectStore("keys", { keyPath: "key" }).createIndex("record", ["record", "log"]);
    db.createObjectStore("wraps", { keyPath: "who" });
    db.createObjectStore("drafts", { keyPath: ["record", "path"] });
    db.createObjectStore("photos", { keyPath: "sealed" }).createIndex("waiting", "waiting");
    db.createObjectStore("outbox", { autoIncrement: true });
    db.createObjectStore("rulings", { keyPath: "id" });
  },
];
