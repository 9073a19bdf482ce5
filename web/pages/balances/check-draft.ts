import type { z } from 'zod';
import type { newBalanceCheck } from '../../../api/schemas/balance.ts';
import type { BalanceCheckFacts } from '../../../api/calc/facts/records.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';

/** A check of a balance as it is typed; what is typed for the other kind stays in the draft. */
export interface CheckDraft {
  kind: BalanceCheckFacts['kind'];
  checkedOn: string;
  /** Of a repeat weighing: readings with a blank between. */
  repeated: string;
  /** Of check weights. */
  readings: { nominalMassG: string; readingG: string }[];
  remarks: string;
}

export const emptyCheck = (checkedOn: string): CheckDraft => ({
  kind: 'check-weights',
  checkedOn,
  repeated: '',
  readings: [
    { nominalMassG: '', readingG: '' },
    { nominalMassG: '', readingG: '' },
    { nominalMassG: '', readingG: '' },
  ],
  remarks: '',
});

type Writing = { decimalComma: boolean };

const read = (typed: string, owner: Writing): number | null => {
  const parsed = parseDecimal(typed, owner);
  return parsed.ok && parsed.decimal !== null ? Number(parsed.decimal) : null;
};

/** The readings of a repeat weighing as far as they can be read, and the first that cannot. */
export function repeatedReadings(
  typed: string,
  owner: Writing,
): { readingsG: number[]; unreadable: string | null } {
  const texts = typed.split(/[\s;]+/).filter((text) => text !== '');
  const readingsG = texts.flatMap((text) => read(text, owner) ?? []);
  return { readingsG, unreadable: texts.find((text) => read(text, owner) === null) ?? null };
}

/** The check as far as it is typed, for judging it before it is saved. */
export function checkSoFar(draft: CheckDraft, owner: Writing): BalanceCheckFacts {
  const { kind, checkedOn } = draft;
  return {
    id: '',
    kind,
    checkedOn,
    readings:
      kind === 'repeat-weighing'
        ? repeatedReadings(draft.repeated, owner).readingsG.map((readingG) => ({
            nominalMassG: null,
            readingG,
          }))
        : draft.readings.flatMap((one) => {
            const [nominalMassG, readingG] = [read(one.nominalMassG, owner), read(one.readingG, owner)];
            return nominalMassG === null || nominalMassG <= 0 || readingG === null
              ? []
              : [{ nominalMassG, readingG }];
          }),
  };
}

/** What is sent; only for a draft whose fields have been accepted. */
export function checkFromDraft(draft: CheckDraft, owner: Writing): z.input<typeof newBalanceCheck> {
  const { checkedOn, remarks } = draft;
  return draft.kind === 'repeat-weighing'
    ? {
        kind: 'repeat-weighing',
        checkedOn,
        remarks,
        readings: repeatedReadings(draft.repeated, owner).readingsG.map((readingG) => ({ readingG })),
      }
    : {
        kind: 'check-weights',
        checkedOn,
        remarks,
        readings: draft.readings.map((one) => ({
          nominalMassG: read(one.nominalMassG, owner) ?? 0,
          readingG: read(one.readingG, owner) ?? 0,
        })),
      };
}
