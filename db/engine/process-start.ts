import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';

/**
 * Tells a running process from a later one that was given the same number: a text that stays the same
 * while the process lives. Undefined when no process with this number runs.
 */
export function processStart(pid: number): string | undefined {
  return existsSync('/proc/self/stat') ? startFromProc(pid) : startFromPs(pid);
}

function startFromProc(pid: number): string | undefined {
  let stat: string;
  try {
    stat = readFileSync(`/proc/${pid}/stat`, 'latin1');
  } catch {
    return undefined; // no such process
  }
  // The program's name stands in brackets and may hold anything; after it come the state and the other fields.
  const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  const [state, ticksAfterBoot] = [fields[0], fields[19]];
  if (state === 'Z' || state === 'X') return undefined; // ended, waiting for its parent to notice
  return `${readFileSync('/proc/sys/kernel/random/boot_id', 'latin1').trim()} ${ticksAfterBoot}`;
}

function startFromPs(pid: number): string | undefined {
  try {
    const output = execFileSync('ps', ['-o', 'lstart=', '-p', String(pid)], {
      encoding: 'utf8',
      env: { ...process.env, LC_ALL: 'C', TZ: 'UTC' },
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    return output.trim() || undefined;
  } catch {
    return undefined; // ps ends with 1 when there is no such process
  }
}
