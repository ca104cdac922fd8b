const NUMBER = "([0-9]{1,4}(?:[.,][0-9]{1,4})?)";
const UNIT = "(?: ?(?:mA|mV|V))?";
const SEGMENT = ` *${NUMBER}${UNIT} *(?:to|-|–) *${NUMBER}${UNIT} *(?:by|step|in steps of) *${NUMBER}${UNIT} *(?:[,;\\n]|$)`;
/** A limit of ours: no printed table is longer. */
const LONGEST = 400;

/**
 * Return the step table a person wrote, "0.1 to 5 by 0.1, 5 to 20 by 0.5", or null when any
 * of it was not read: half a table would be worse than none. Comma and point both
 * separate decimals.
 * @param {unknown} text
 * @returns {{from: string, to: string, step: string}[] | null}
 */
export function segments(text) {
  if (typeof text !== "string" || /^[ \n]*$/.test(text) || [...text].length > LONGEST) return null;
  const segment = new RegExp(SEGMENT, "y");
  const found = [];
  while (segment.lastIndex < text.length) {
    const match = segment.exec(text);
    if (!match) return null;
    const [from, to, step] = match.slice(1, 4).map((number) => number.replace(",", "."));
    found.push({ from, to, step });
  }
  return found;
}
