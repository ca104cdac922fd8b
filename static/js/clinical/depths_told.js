/** @import { Fold } from "../types.js" */
/** @import { DepthRead, DepthSaid } from "./types-after.js" */
/** @import { StandingRow } from "./types.js" */
import { AT_END } from "./balloon.js";
import { depthRead, finalTold } from "./depth_moved.js";
import { momentMs, placesOf, rowsOf } from "./rows.js";

const GROUPS = ["advance.depth_reading", "advance.resistance", "advance.balloon", "checks.check", "handover.receiver_reads"];

/**
 * Return everything told of a wire's depth and balloon, in time. An answer's moment is that of
 * its entry; of two answers each was told.
 * @param {Fold} fold
 * @param {string} wire
 * @returns {DepthSaid[]}
 */
export function depthsTold(fold, wire) {
  const rows = rowsOf(fold, ...GROUPS.map((group) => `wires/${wire}/${group}`));
  const ends = (fold.values[AT_END] ?? []).flatMap((head) => head.entries.map((entry) => ({ entry, state: head.value })));
  const found = [
    ...rows.map(ofRow),
    ...finalTold(fold, wire).map(({ entry, depth }) => said(entered(fold, entry), depth)),
    ...ends.map(({ entry, state }) => said(entered(fold, entry), null, state)),
    ...rowsOf(fold, "handover.transfer").flatMap((row) => onTheWay(fold, wire, row)),
  ];
  return found.sort((a, b) => a.time_ms - b.time_ms || a.place - b.place);
}

/**
 * Return an entry's corrected time, and its place in the record.
 * @param {Fold} fold
 * @param {string} entry
 * @returns {{time_ms: number, place: number}}
 */
export function entered(fold, entry) {
  return { time_ms: fold.entries[entry].time_ms, place: placesOf(fold).get(entry) ?? 0 };
}

/** @param {{time_ms: number, place: number}} at @param {DepthRead | null} depth @param {any} [state] any: as kept @param {boolean} [has_moved] @returns {DepthSaid} */
function said({ time_ms, place }, depth, state = null, has_moved = false) {
  return { time_ms, place, depth, state, has_moved };
}

/** @param {StandingRow} row @returns {DepthSaid} */
function ofRow(row) {
  const { value } = row;
  const state = "balloon" in value ? value.balloon : value.state;
  return said(row, depthRead(value, [row.id]), state, value.moved === "yes");
}

/**
 * Return the depths before and after a transfer that may be this wire's. Where it is not said
 * which of several wires, they are held against each other alone.
 * @param {Fold} fold
 * @param {string} wire
 * @param {StandingRow} row
 * @returns {DepthSaid[]}
 */
function onTheWay(fold, wire, row) {
  const whose = whoseOf(fold, row);
  if (whose && whose !== wire) return [];
  const after = momentMs(row.value.arrived_at) ?? row.time_ms;
  const before = Math.min(momentMs(row.value.left_at) ?? after, after);
  /** @type {[string, number][]} */
  const told = [["depth_before", before], ["depth_after", after]];
  return told.flatMap(([name, time_ms]) => {
    const depth = depthRead({ depth: row.value[name] }, [row.id]);
    const at = { time_ms, place: row.place };
    return depth ? [said(at, { ...depth, read_at: whose ? depth.read_at : row.id })] : [];
  });
}

/** Return which wire a transfer tells of: the only one, the one named, or "". @param {Fold} fold @param {StandingRow} row */
function whoseOf(fold, row) {
  const wires = rowsOf(fold, "wires");
  const told = nameOf(row.value.wire);
  const named = wires.filter((one) => told && nameOf(one.value.name) === told);
  const only = wires.length === 1 ? wires : named;
  return only.length === 1 ? only[0].id : "";
}

/** @param {any} value any: as kept */
function nameOf(value) {
  return typeof value === "string" ? value.replace(/^ +| +$/g, "").toLowerCase() : "";
}
