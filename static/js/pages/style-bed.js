/** @import { Catalogue, Counts, Status } from "../types.js" */
/** @import { Bedside } from "../types-form.js" */
/** @import { Told } from "./style-case.js" */
import { readCase } from "../form/case.js";
import { indexFields } from "../form/fields.js";
import { browserZone, exactMoment } from "../log/clock.js";
import { fold } from "../log/fold.js";
import { notesOf, wordsOf } from "../log/strip.js";
import { asEntries } from "./style-case.js";

/** @type {import("../types.js").Complaint} */
const COMPLAINT = { id: "style", record: "style", path: "patient.height", value: { as: "340", n: "340", unit: "cm" }, op: "set", ms: Date.now(), because: "The tablet was revoked before this arrived." };
/** @type {Counts} */
const COUNTS = {
  total: 31, unsent: 31, onServer: 0, setAside: [], refused: [], conflicts: [], erased: [], photosHere: 0, photosRefused: [],
  shut: 0, damaged: 0, lastSync: null, reach: "no", lastError: null, skew_ms: 0, head: null, wentBack: false, lost: 0,
  storage: { persisted: true, usage: 1, quota: 1e12 }, older: false, enrolled: true,
};
/** @type {{[state: string]: Partial<Counts>}} */
const STATES = {
  no_network: {},
  part_sent: { unsent: 4, onServer: 27, reach: "yes" },
  all_sent: { unsent: 0, onServer: 31, reach: "yes" },
  refused: { refused: [COMPLAINT] },
  set_aside: { setAside: [COMPLAINT] },
  storage_low: { storage: { persisted: true, usage: 9e8, quota: 1e9 } },
  clock_off: { skew_ms: 5 * 60_000 },
  not_enrolled: { enrolled: false },
};

/**
 * Return where the entries of a made-up tablet are.
 * @param {string} state
 * @returns {Status}
 */
export function statusIn(state) {
  const counts = { ...COUNTS, ...STATES[state] };
  return { ...counts, words: wordsOf(counts), notes: notesOf(counts) };
}

/**
 * Return what forms and panels work with, of a made-up case. It keeps and sends nothing.
 * @param {Catalogue} catalogue
 * @param {(at: (min: number) => import("../types.js").Json) => Told[]} tell
 * @returns {Bedside}
 */
export function bedOf(catalogue, tell) {
  const [zone, now_ms] = [browserZone(), Date.now()];
  const index = indexFields(catalogue);
  const told = tell((min) => exactMoment(now_ms - min * 60_000, zone));
  const folded = fold(asEntries(told, now_ms, zone));
  const nothing = async () => {};
  const store = {
    zone: () => zone, status: async () => statusIn("refused"), onChange: () => nothing, fold: async () => folded,
    photo: async () => null, draft: nothing, dropDraft: nothing, drafts: async () => ({}), sealDraft: async () => nothing, codeOf: () => null, shut: () => 0,
  };
  const now = readCase(folded, index);
  return {
    // any: of the store only what a page that keeps nothing asks for
    store: /** @type {any} */ (store),
    index, now, policy: catalogue.policy, form: catalogue.policy, record: "style", wire: now.wires.at(-1)?.id ?? null, isStale: false,
    people: ["E. Tarn-Example", "K. Ouse-Example"].map((name) => ({ id: name, name, role: "operator", credential: "" })),
    standing: { at: { person: null, name: "K. Ouse-Example", role: "nurse" }, author: null, called_by: null, source: "seen" },
    keep: async () => null, during: (work) => work, pathFor: async (path) => path, refresh: () => {}, drawSoon: () => {}, tell: () => {}, clock: Date.now,
  };
}
