/** @import { AnaestheticSum } from "./types-drugs.js" */
/** @import { Found, Told } from "./types-found.js" */
/** @import { Remark } from "./types.js" */
import { DRUGS, PATH, anaestheticSum } from "./anaesthetic.js";
import { inOrder } from "./evidence.js";
import { found } from "./found.js";
import { remark } from "./remarks.js";
import { rowsOf } from "./rows.js";

/**
 * Return the remarks on lidocaine, then on agents without a limit.
 * @param {Told} told
 * @returns {Found[]}
 */
export function anaestheticRemarks(told) {
  const sum = anaestheticSum(told);
  const local = rowsOf(told.fold, PATH);
  const path = local.length ? PATH : DRUGS;
  const remarks = lidocaine(sum).map((one) => found(one, path, "", sum.ids));
  if (sum.others.length) {
    const mixed = sum.ids.length > 0 && sum.fraction !== null;
    const code = mixed ? "anaesthetic_mixed" : "anaesthetic_no_limit";
    const others = local.filter((row) => row.value.agent !== "lidocaine");
    const one = remark(code, "look_again", mixed ? { fraction: sum.fraction ?? "" } : {});
    remarks.push(found(one, PATH, "", inOrder(others)));
  }
  return remarks;
}

/** @param {AnaestheticSum} sum @returns {Remark[]} */
function lidocaine(sum) {
  if (!sum.ids.length) return [];
  const values = { given: sum.given_mg, limit: sum.limit_mg ?? "" };
  if (sum.limit_mg === null) return [remark("anaesthetic_needs_weight", "look_again", values)];
  if (sum.is_over) return [remark("anaesthetic_over", "look_now", values, sum.limits)];
  /** @type {[string, boolean][]} */
  const checks = [
    ["anaesthetic_at_least", sum.at_least],
    ["anaesthetic_cap_only", !sum.weight_known],
    ["anaesthetic_expect_less", sum.reduce.length > 0],
  ];
  const so = checks.filter(([, isSo]) => isSo);
  if (so.length) return so.map(([code]) => remark(code, "look_again", values, sum.limits));
  if (sum.left_ml === null) return [remark("anaesthetic_vein", "fits", values, sum.limits)];
  const left = { left: sum.left_ml, strength: sum.strength };
  return [remark("anaesthetic_within", "fits", { ...values, ...left }, sum.limits)];
}
