/** @import { Base, Keys, Reader, Ruling } from "../types.js" */
/** @import { Wire } from "../types-sync.js" */
/** @import { Channel } from "./channel.js" */
import { takeIn } from "./incoming.js";
import { NEVER_SYNCED, metaRow, putMeta, readMeta } from "./meta.js";
import { gather } from "./outgoing.js";
import { openPhotoQueue } from "./photo-queue.js";
import { photosRow } from "./photos.js";
import { takeAway } from "./taken-away.js";
import { result } from "./transaction.js";

/**
 * Give sync its side of the log; no screen uses it.
 * @param {{base: Base, keys: Keys, reader: Reader, lock: string, now: () => number, channel: Channel}} shelf
 * @returns {Wire}
 */
export function openWire(shelf) {
  const { base, keys, channel } = shelf;
  return {
    gather: (wish) => gather(base, keys, { ...wish, now: shelf.now() }),
    takeIn: async (sent, reply, times) => {
      const { records, more } = await takeIn(shelf, sent, reply, times);
      for (const record of records) channel.tell({ what: "record", record });
      // Whatever hinders it, the next contact tries again: what was told is kept already.
      const away = await takeAway(shelf, reply, [...records, ...sent.rows.map(({ record }) => record)]).catch(() => ({ gone: [], again: false }));
      for (const record of away.gone) channel.tell({ what: "record", record, isGone: true });
      channel.tell({ what: "status" });
      return { more: more || away.again };
    },
    fail: async (reach, last_error) => {
      await base.transact(["meta"], "readwrite", async (tx) => {
        putMeta(tx, "sync", { ...((await metaRow(tx, "sync")) ?? NEVER_SYNCED), reach, last_error });
      });
      channel.tell({ what: "status" });
    },
    refuse: async (id, because) => {
      /** @type {Ruling} */
      const ruling = { id, answer: "refused", counts: null, because, position: null };
      await base.transact(["rulings"], "readwrite", (tx) => void tx.objectStore("rulings").put(ruling));
      channel.tell({ what: "status" });
    },
    enrol: async (enrolment, people, settings) => {
      await base.transact(["meta", "rulings"], "readwrite", async (tx) => {
        putMeta(tx, "enrolment", enrolment);
        putMeta(tx, "people", { list: people });
        if (settings) putMeta(tx, "settings", settings);
        // Refused under a former name of this tablet is not refused for ever. What else was
        // ruled still holds: an entry whose place another has is not sent under that place.
        /** @type {Ruling[]} */
        const rulings = await result(tx.objectStore("rulings").getAll());
        for (const { id, answer } of rulings) if (answer === "refused") tx.objectStore("rulings").delete(id);
        putMeta(tx, "photos", { ...(await photosRow(tx)), refused: {}, most: null });
      });
      channel.tell({ what: "people" });
      channel.tell({ what: "status" });
    },
    photos: openPhotoQueue(shelf),
    token: async () => (await readMeta(base, "enrolment"))?.token ?? null,
  };
}
