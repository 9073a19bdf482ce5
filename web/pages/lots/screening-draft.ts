import { workScreening } from '../../../api/calc/facts/screening-from-record.ts';
import type { ScreeningFacts } from '../../../api/calc/facts/screening-from-record.ts';
import type { Formatter } from '../../lib/format.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { storedDecimal } from '../../lib/quantities.ts';
import { todayHere } from '../../lib/today.ts';

export const emptyFine = { gradeGpt: '', standardUncertaintyGpt: '' };
export const emptyScreening = (balanceId: string) => ({
  laboratory: '',
  certificate: '',
  assayedOn: todayHere(),
  element: 'Au' as 'Au' | 'Ag',
  screenMm: '',
  coarseMassG: '',
  coarseMetalMg: '',
  coarseMetalStandardUncertaintyMg: '',
  fineMassG: '',
  fineAssays: [emptyFine],
  balanceId,
});
export type ScreeningDraft = ReturnType<typeof emptyScreening>;

const read = (typed: string, owner: OwnerChoices): number | null => {
  const parsed = parseDecimal(typed, owner);
  return parsed.ok && parsed.decimal !== null ? Number(parsed.decimal) : null;
};
const readGpt = (typed: string, owner: OwnerChoices): number | null => {
  const parsed = parseDecimal(typed, owner);
  return parsed.ok && parsed.decimal !== null
    ? Number(storedDecimal('gradeGpt', parsed.decimal, owner))
    : null;
};

/** The two parts as they are typed; a fine assay that cannot be read yet is left out. */
export function partsOf(draft: ScreeningDraft, owner: OwnerChoices): Omit<ScreeningFacts, 'balance'> {
  return {
    screenMm: read(draft.screenMm, owner),
    coarseMassG: read(draft.coarseMassG, owner) ?? 0,
    coarseMetalMg: read(draft.coarseMetalMg, owner) ?? 0,
    coarseMetalStandardUncertaintyMg: read(draft.coarseMetalStandardUncertaintyMg, owner),
    fineMassG: read(draft.fineMassG, owner) ?? 0,
    fineAssays: draft.fineAssays.flatMap((one) => {
      const gradeGpt = readGpt(one.gradeGpt, owner);
      return gradeGpt === null
        ? []
        : [{ gradeGpt, standardUncertaintyGpt: readGpt(one.standardUncertaintyGpt, owner) }];
    }),
  };
}

/** How a screened assay was worked, in a sentence. */
export function screeningText(screening: ScreeningFacts, format: Formatter): string {
  const { coarseShareFrac } = workScreening(screening);
  const at = screening.screenMm === null ? '' : ` at ${screening.screenMm} mm`;
  const fine = screening.fineAssays.map(({ gradeGpt }) => format.quantity('gradeGpt', gradeGpt)).join(', ');
  const share =
    coarseShareFrac === null
      ? ''
      : ` ${format.percent(coarseShareFrac.value, 0)} of it stayed on the screen.`;
  return `Screened${at}: ${screening.coarseMassG} g on the screen held ${screening.coarseMetalMg} mg, ${screening.fineMassG} g passed and ran ${fine}.${share}`;
}
