/** How long others may wait for their turn while something is worked out, in milliseconds. */
const TURN_MS = 25;

/** Lets other requests in between two pieces of work. */
export const breath = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/** Does work that comes in small steps, and lets other requests in whenever it has gone on for a while. */
export async function workedInSteps<Result>(work: Generator<unknown, Result>): Promise<Result> {
  let began = performance.now();
  let step = work.next();
  while (step.done !== true) {
    if (performance.now() - began > TURN_MS) {
      await breath();
      began = performance.now();
    }
    step = work.next();
  }
  return step.value;
}
