/**
 * Tell whether a case was said to be finished, and not opened again since.
 * @param {import("../types-form.js").CaseRead} now
 */
export function isFinished(now) {
  const said = now.rows("moments").filter((row) => ["finished", "opened_again"].includes(String(row.value.name)));
  return said.at(-1)?.value.name === "finished";
}
