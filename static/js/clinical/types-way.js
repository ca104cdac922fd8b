/**
 * Shapes of what is read on the way in; no code. As in `webapp/clinical/bands.py`,
 * `way.py`, `tips.py`, `balloon.py` and `crossing.py`.
 *
 * @typedef {object} Band
 * @property {string} chamber before_ra, ra, rv or rv_apex
 * @property {number} low_cm
 * @property {number} high_cm in the band too, but before the atrium, where the next begins
 *
 * @typedef {object} Look one depth reading
 * @property {import("./types.js").StandingRow} row
 * @property {import("./types.js").Exact | null} depth cm, null where it is no one number
 * @property {string} read_at the hub unless said
 * @property {string} result
 * @property {string} chamber "" where the result tells none
 * @property {number} turn which pass, from 0
 *
 * @typedef {object} Tip one depth told
 * @property {string} id
 * @property {string} path
 * @property {import("./types.js").Exact} depth cm
 * @property {When} when
 * @property {number} turn which pass, from 0
 *
 * @typedef {object} BalloonTold a row that tells the balloon's state, a depth, or both
 * @property {string} id
 * @property {string} path
 * @property {string} state "" not said
 * @property {import("./types.js").Exact | null} depth cm
 * @property {string} read_at the hub unless said
 * @property {When} when
 *
 * @typedef {object} Pulled the wire went shallower with the balloon last marked up
 * @property {BalloonTold} at
 * @property {import("./types.js").Exact} before cm
 * @property {string} marked_by
 *
 * @typedef {object} Crossing of the tricuspid valve
 * @property {boolean} is_meant a wire is to cross, as far as is said
 * @property {number | null} at_ms when the first did
 * @property {boolean} is_ahead none has, and the procedure goes on
 *
 * @typedef {[number, number]} When time and place in the record
 */

export {};
