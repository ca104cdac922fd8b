/** @import { Fold, Opened } from "./types.js" */

/**
 * Shapes of folding; no code.
 *
 * @typedef {{sets: Opened[], adds: Opened[], strikes: Opened[]}} OfPath the entries of one path, in order
 *
 * @typedef {object} Folding A fold, and what is needed to fold one more entry onto it.
 * @property {Fold} fold
 * @property {Map<string, Opened>} unique by id, without erased ones
 * @property {Map<string, Opened>} erasures id of an erased entry to what tells of it
 * @property {Opened[]} shells what is left of erased ones
 * @property {Map<string, number>} times id to Unix milliseconds
 * @property {Map<string, OfPath>} paths
 * @property {Set<string>} gone ids that erased entries had seen
 * @property {Map<string, {seq: number, ms: number}>} ends each log's last place, and its time
 */

export {};
