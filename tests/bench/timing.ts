export interface Time {
  wallMs: number;
  cpuMs: number;
}

/** Elapsed time since it was made, and processor time of all the program's threads together. */
export function stopwatch(): () => Time {
  const cpu = process.cpuUsage();
  const start = performance.now();
  return () => {
    const wallMs = performance.now() - start;
    const { user, system } = process.cpuUsage(cpu);
    return { wallMs, cpuMs: (user + system) / 1000 };
  };
}

export function timed<Result>(work: () => Result): [Result, Time] {
  const read = stopwatch();
  const result = work();
  return [result, read()];
}

export async function timedAsync<Result>(work: () => Promise<Result>): Promise<[Result, Time]> {
  const read = stopwatch();
  const result = await work();
  return [result, read()];
}

/** The most memory that this process has held, with its runtime. */
export const peakMb = (): number => process.resourceUsage().maxRSS / 1024;
