import { keyFrom, type FileKind } from './file-kind.ts';
import type { Recorded } from './judge-rows.ts';
import type { TestSmeltEntry } from './test-smelt-file.ts';
import type { TestSmeltRecord, Trial } from '../schemas/test-smelt.ts';

type Key = Pick<TestSmeltEntry['trial'], 'lotId' | 'name'>;

export function trialKey({ lotId, name }: Key): string {
  return keyFrom(lotId, name);
}

/** The trials that rows belong to, each once, with the treatment that any of its rows names. */
export function trialsOf(entries: readonly TestSmeltEntry[]): TestSmeltEntry['trial'][] {
  const trials = new Map<string, TestSmeltEntry['trial']>();
  for (const { trial } of entries) {
    const key = trialKey(trial);
    const before = trials.get(key);
    trials.set(key, before?.treatmentId == null ? trial : before);
  }
  return [...trials.values()];
}

/**
 * What is recorded of a row's test smelt; where that is new, of its trial, whose treatment an import does not
 * change.
 */
export function recordedTestSmelt(
  kind: FileKind<TestSmeltEntry>,
  { trials, smelts }: { trials: readonly Trial[]; smelts: readonly TestSmeltRecord[] },
): (entry: TestSmeltEntry) => Recorded | null {
  const trialOfKey = new Map(trials.map((trial) => [trialKey(trial), trial]));
  const smeltOfKey = new Map(smelts.map((smelt) => [keyFrom(smelt.trialId, smelt.sample), smelt]));
  return (entry) => {
    const trial = trialOfKey.get(trialKey(entry.trial));
    if (trial === undefined) return null;
    const smelt = smeltOfKey.get(keyFrom(trial.id, entry.smelt.sample));
    const values = kind.shown({ trial, smelt: smelt ?? entry.smelt });
    if (smelt !== undefined) return { title: kind.titleOf(entry), values, isThere: true };
    const title = `The trial ${trial.name} on lot ${values['lot']}`;
    return { title, values, isThere: false, compared: ['treatment'] };
  };
}
