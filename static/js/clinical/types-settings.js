/**
 * Shapes of settings and their tests; no code. As in `webapp/clinical/mode.py`,
 * `open_test.py` and `first_settings.py`.
 *
 * @typedef {object} Mode
 * @property {string[]} letters all five positions, "" for a fourth or fifth not said
 * @property {string} code
 * @property {boolean} is_asynchronous
 * @property {boolean} wants_atrial_wire
 *
 * @typedef {object} OpenTest
 * @property {number} since_ms
 * @property {string} setting "0.1 mA", or "" where none was said
 * @property {number | null} seconds
 * @property {boolean} is_late
 * @property {string[]} ids
 *
 * @typedef {object} FirstSettings
 * @property {boolean} is_emergency
 * @property {string} rate_low /min
 * @property {string} rate_high /min
 * @property {string | null} output mA, null for the dial's maximum
 * @property {string} mode
 * @property {string | null} sensitivity mV, null where asynchronous
 */

export {};
