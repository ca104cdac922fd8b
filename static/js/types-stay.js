/**
 * Shapes of how long a record stays on a tablet; no code. Moments are Unix milliseconds by
 * the server's clock.
 *
 * @typedef {object} SiteHours What the server tells every tablet to keep to.
 * @property {number} keep_readable_h
 * @property {number} keep_bytes_d
 * @property {number} running_case_h
 *
 * @typedef {object} Stay
 * @property {number} touched_ms last written in, given to or open here, as the server told at a contact
 * @property {number | null} sealed_ms since then it cannot be read here
 * @property {number | null} removed_ms since then nothing of it is here
 *
 * @typedef {object} TakenAway A case that cannot be read on this tablet, or not whole.
 * @property {string} record
 * @property {number} begun_ms by this tablet's clock then
 * @property {boolean} isOnServer all of it
 * @property {boolean} isByCode begun without unlocking, and the key is gone; else its time here was over
 * @property {boolean} isAsked somebody asked the server for it
 */

export {};
