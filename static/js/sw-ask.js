const SCOPE = "/tablet/";
/** A PIN is worked out slowly on purpose. */
export const ANSWER_WITHIN_MS = 20_000;
const TAKEN_WITHIN_MS = 5000;

/** @typedef {"vault" | "codes"} Part what the worker keeps in memory */

/**
 * Ask the worker of this tablet, which may be of an older version.
 * @param {Part} type
 * @param {object} what
 * @returns {Promise<object | "none" | "silent">} none: there is no worker; silent: it does not answer
 */
export async function askWorker(type, what) {
  const registration = await navigator.serviceWorker?.getRegistration(SCOPE);
  const worker = registration?.active;
  if (!worker) return "none";
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    const late = setTimeout(() => resolve("silent"), ANSWER_WITHIN_MS);
    port1.onmessage = ({ data }) => {
      clearTimeout(late);
      resolve(data);
    };
    worker.postMessage({ type, ...what }, [port2]);
  });
}

/**
 * Hand what the worker holds to the one that is about to take its place: it goes from the
 * one to the other, and through no page.
 * @param {ServiceWorkerRegistration | undefined} registration
 * @returns {Promise<void>} also where there was nothing to hand over, or nobody took it
 */
export async function handOver(registration) {
  const { active, waiting } = registration ?? {};
  if (active && waiting) await Promise.all([handed("codes", active, waiting), handed("vault", active, waiting)]);
}

/** @param {Part} type @param {ServiceWorker} from @param {ServiceWorker} to @returns {Promise<void>} */
function handed(type, from, to) {
  const [way, told] = [new MessageChannel(), new MessageChannel()];
  const taken = new Promise((/** @type {(value?: unknown) => void} */ resolve) => {
    setTimeout(resolve, TAKEN_WITHIN_MS);
    told.port1.onmessage = () => resolve();
  });
  to.postMessage({ type, ask: "take" }, [told.port2, way.port2]);
  from.postMessage({ type, ask: "give" }, [way.port1]);
  return /** @type {Promise<void>} */ (taken);
}
