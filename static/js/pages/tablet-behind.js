import { whenIdle } from "../log/idle.js";

/**
 * Draw what lies behind the live keys: a tap is answered before it.
 * @returns {{draw: (work: () => void, isSeen: boolean) => void, settle: () => void}} settle: draw it now, where somebody needs it
 */
export function drawnBehind() {
  /** @type {(() => void) | null} null: it is drawn */
  let due = null;
  const settle = () => {
    const work = due;
    due = null;
    work?.();
  };
  return {
    settle,
    draw(work, isSeen) {
      due = work;
      if (isSeen) settle();
      // What was asked for since takes its place.
      else whenIdle(() => due === work && settle());
    },
  };
}
