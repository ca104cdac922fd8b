/**
 * Shapes of what comes after the procedure; no code. As in `webapp/clinical/due.py` and
 * `drift.py`.
 *
 * @typedef {"" | "arrival" | "turned" | "imaging"} After
 *
 * @typedef {object} Due
 * @property {string} kind look_check, threshold, need_review, infection, dwell
 * @property {number} due_ms
 * @property {number} since_ms what it is counted from
 * @property {import("./types.js").Exact} hours how long after
 * @property {After} after what asks for a look apart from the shift
 *
 * @typedef {{hours: number | null, days: number | null, is_about: boolean}} Dwell whole hours,
 *   else days between calendar days
 *
 * @typedef {{ms: number, value: string}} Measured one threshold, mA
 *
 * @typedef {object} Drift
 * @property {"" | "below_floor" | "projected" | "risen"} step
 * @property {string} shown the margin projected, "1.9 ×", or ""
 *
 * @typedef {object} DepthRead
 * @property {import("./types.js").Exact} depth
 * @property {string} read_at
 * @property {boolean} is_exact by ruler or on a ring
 * @property {string} shown as kept
 * @property {string[]} ids
 *
 * @typedef {object} DepthSaid what was told of a wire's depth and balloon
 * @property {number} time_ms
 * @property {number} place in the record's order
 * @property {DepthRead | null} depth
 * @property {any} state any: the balloon's as kept
 * @property {boolean} has_moved somebody said that it moved
 *
 * @typedef {object} SensingSummary
 * @property {string | null} measured mV
 * @property {import("./types.js").SensitivityAsks} asks
 * @property {string | null} left_at mV
 * @property {boolean} is_asynchronous
 * @property {boolean} is_offered a sensing test may be offered
 * @property {import("./types.js").Remark[]} remarks heavier first
 * @property {string[]} test_ids
 * @property {string} left_id
 *
 * @typedef {object} Said one answer, with its time and place
 * @property {any} value any: as kept
 * @property {string[]} ids
 * @property {number} time_ms
 * @property {number} place
 */

export {};
