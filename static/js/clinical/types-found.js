/**
 * Shapes of remarks in their places; no code. As in `webapp/clinical/found.py` and `told.py`.
 *
 * @typedef {object} Found
 * @property {import("./types.js").Remark} remark
 * @property {string} path the record's path of the field or group it stands at
 * @property {string} wire entry id of the wire it is about, "" for the case
 * @property {string[]} evidence ids of the entries it rests on, in the record's order
 * @property {boolean} stands false: was so then, put right since
 *
 * @typedef {object} Told
 * @property {import("../types.js").Fold} fold
 * @property {import("./types.js").Policy} policy
 * @property {number | null} now_ms null where a record is read, not lived
 * @property {import("./types.js").AgeClass} age
 * @property {import("./types.js").Limits} limits the single limits that apply, by key
 * @property {string[]} wires entry ids of the wires that stand, in time
 *
 * @typedef {object} Captured One statement that a wire captures.
 * @property {string} path where it stands
 * @property {string} wire
 * @property {number} time_ms
 * @property {string[]} ids what it rests on
 *
 * @typedef {object} Heard One answer about pads, elsewhere than in their own rows.
 * @property {boolean} is_on
 * @property {number} time_ms
 * @property {string[]} ids the entries that tell it
 */

export {};
