/** @import { Store } from "../types.js" */
import { el, fill, key, the } from "../form/dom.js";
import { say } from "../form/say.js";
import { once } from "./tablet-once.js";

/**
 * Show something as it prints, over everything: for a printer, or for somebody who copies
 * it by hand. Drawn again as the log changes; asks nothing of the server.
 * @param {{store: Pick<Store, "onChange">, refresh: () => void}} bed
 * @param {string} title
 * @param {() => Promise<Node | null>} content null: it stays as it was drawn
 */
export async function showOverPaper(bed, title, content) {
  if (document.querySelector(".paper")) return;
  const back = document.activeElement;
  const sheet = el("div", { class: "paper-sheet" });
  const draw = once(async () => {
    const made = await content();
    if (made) fill(sheet, made);
  });
  const print = async () => {
    await draw();
    window.print();
  };
  const shut = key(say("paper.close"), close, { "data-act": "close-paper" });
  const keys = el(
    "div",
    { class: "paper-keys" },
    key(say("paper.print"), () => void print(), { "data-weight": "first", "data-act": "print" }),
    shut,
    el("p", { class: "quiet" }, say("paper.hint")),
  );
  const paper = el("section", { class: "paper", role: "dialog", "aria-modal": "true", "aria-label": title, tabindex: "-1" }, keys, sheet);
  const numbers = pageNumbers();
  const stop = bed.store.onChange(() => void draw());

  /** @param {KeyboardEvent} event */
  function onKey(event) {
    if (event.key === "Escape") close();
  }

  function close() {
    stop();
    document.removeEventListener("keydown", onKey);
    window.removeEventListener("hashchange", close);
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== numbers);
    delete document.documentElement.dataset.paper;
    paper.remove();
    bed.refresh();
    if (back instanceof HTMLElement && back.isConnected) back.focus({ preventScroll: true });
  }

  await draw();
  document.adoptedStyleSheets.push(numbers);
  document.documentElement.dataset.paper = "";
  document.body.append(paper);
  // Printing takes the focus from a key that is not printed.
  document.addEventListener("keydown", onKey);
  window.addEventListener("hashchange", close);
  the("[data-act='print']", paper).focus({ preventScroll: true });
}

/**
 * Make the rule that numbers the pages, where the browser can: "page 2 of 5". The count
 * is known to the printing engine alone.
 * @returns {CSSStyleSheet}
 */
function pageNumbers() {
  const sheet = new CSSStyleSheet();
  const words = say("paper.page_of", { page: "\u0000page\u0000", pages: "\u0000pages\u0000" }).split("\u0000");
  const content = words.map((word) => (word === "page" || word === "pages" ? `counter(${word})` : JSON.stringify(word))).join(" ");
  sheet.replaceSync(`@page { @bottom-right { content: ${content}; font: 9pt sans-serif; } }`);
  return sheet;
}
