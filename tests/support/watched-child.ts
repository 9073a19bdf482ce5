import type { ChildProcess } from 'node:child_process';

export interface WatchedChild {
  process: ChildProcess;
  /** What it has written to stdout and stderr so far. */
  output: () => string;
  /** Resolves with the output when it matches; rejects when the process ends without. */
  written: (pattern: RegExp) => Promise<string>;
  /** Resolves with the exit code or the signal that ended it. */
  ended: Promise<number | NodeJS.Signals>;
}

/** Follows what a process says and how it ends. */
export function watchedChild(child: ChildProcess): WatchedChild {
  let output = '';
  const ended = new Promise<number | NodeJS.Signals>((resolve) => {
    child.on('close', (code, signal) => resolve(code ?? signal ?? 0));
  });
  const keep = (chunk: Buffer): void => void (output += chunk.toString());
  child.stdout?.on('data', keep);
  child.stderr?.on('data', keep);
  const written: WatchedChild['written'] = (pattern) =>
    new Promise((resolve, reject) => {
      const look = (): void => {
        if (pattern.test(output)) resolve(output);
      };
      child.stdout?.on('data', look);
      child.stderr?.on('data', look);
      void ended.then((code) => reject(new Error(`The process ended with ${code} and wrote:\n${output}`)));
      look();
    });
  return { process: child, output: () => output, written, ended };
}
