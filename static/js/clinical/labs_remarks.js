/** @import { Found, Told } from "./types-found.js" */
/** @import { Measure } from "./types-drugs.js" */
/** @import { Remark } from "./types.js" */
import { compare, isLess, ratio } from "./exact.js";
import { found } from "./found.js";
import { HARD_OF, verdict, written } from "./plausible.js";
import { remark } from "./remarks.js";
import { endsOf, isObject, rowsOf } from "./rows.js";

const LAB = "patient.laboratory";
const IN_LAB = ["potassium", "magnesium", "inr", "platelets", "ph"];
const IN_CHECK = ["temperature", "potassium"];
const OF_PATIENT = ["weight", "height", "temperature"];
const AT_REMOVAL = ["inr", "platelets"];
/** The catalogue's soft range, mmol/L. */
const SOFT_POTASSIUM = [ratio(7n, 2n), ratio(11n, 2n)];
/** @type {{[unit: string]: string}} which unit is asked about, by the unit told; "" where none was */
const ASKED = { "mg/dL": "mmol_l", "mmol/L": "mg_dl", Cel: "degf", "[degF]": "cel", "": "unit" };
/** @type {{[unit: string]: string}} */
const SHOWN = { Cel: "°C", "[degF]": "°F", "10*9/L": "×10⁹/L" };

/**
 * Return what is asked about, what cannot be, and potassium that changes capture.
 * @param {Told} told
 * @returns {Found[]}
 */
export function labsRemarks(told) {
  return [...inRows(told), ...inFields(told)].flatMap((one) => {
    const said = remarkOn(one);
    if (!said) return [];
    const isPutRight = said.code.startsWith("potassium_is_") && !one.is_last;
    return [found(said, one.path, one.wire, one.ids, !isPutRight)];
  });
}

/** Return the values of laboratory rows and pacing checks, in time. @param {Told} told @returns {Measure[]} */
function inRows({ fold, wires }) {
  const checks = wires.map((wire) => `wires/${wire}/checks.check`);
  const rows = rowsOf(fold, LAB, ...checks);
  const all = rows.flatMap((row) =>
    (row.path === LAB ? IN_LAB : IN_CHECK)
      .filter((name) => name in row.value)
      .map((name) => {
        const wire = row.path === LAB ? "" : wires[checks.indexOf(row.path)];
        return { name, value: row.value[name], path: row.path, wire, ids: [row.id], is_last: true };
      }),
  );
  const last = new Map(all.map((one) => [one.name, one]));
  return all.map((one) => ({ ...one, is_last: last.get(one.name) === one }));
}

/** Return the answers of single fields, each of several answers by itself. @param {Told} told @returns {Measure[]} */
function inFields({ fold, wires }) {
  const fields = [
    ...OF_PATIENT.map((name) => ({ name, wire: "", path: `patient.${name}` })),
    ...wires.flatMap((wire) => AT_REMOVAL.map((name) => ({ name, wire, path: `wires/${wire}/removal.${name}` }))),
  ];
  return fields.flatMap((field) =>
    (fold.values[field.path] ?? []).map(({ value, entries }) => {
      const ids = fold.order.filter((id) => entries.includes(id));
      return { ...field, value, ids, is_last: true };
    }),
  );
}

/** @param {Measure} one @returns {Remark | null} */
function remarkOn({ name, value }) {
  const judged = verdict(name, value);
  if (judged === "") return name === "potassium" ? potassium(value) : null;
  const { unit } = value;
  const typed = written(value);
  if (judged === "asked") return remark(`${name}_${ASKED[unit]}`, "look_again", { typed });
  const isBare = unit === "" && !("" in HARD_OF[name]);
  return remark(`impossible_${name}`, "look_again", { typed, unit: isBare ? "without unit" : (SHOWN[unit] ?? unit) });
}

/**
 * Return potassium outside the soft range for certain; in mmol/L only.
 * @param {any} value any: a quantity as kept
 * @returns {Remark | null}
 */
function potassium(value) {
  const [low, high] = endsOf(value, "mmol/L");
  const isBeyond = isObject(value) && (value.cmp === "<" || value.cmp === ">");
  const [under, over] = SOFT_POTASSIUM;
  const isHigh = low && (isLess(over, low) || (isBeyond && compare(low, over) === 0));
  const isLow = high && (isLess(high, under) || (isBeyond && compare(high, under) === 0));
  if (!isHigh && !isLow) return null;
  return remark(isHigh ? "potassium_is_high" : "potassium_is_low", "look_again", { typed: written(value) });
}
