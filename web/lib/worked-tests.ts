import type { WorkedSmelt, WorkedTrial } from '../../api/calc/facts/lot-evidence.ts';
import type { Measured } from '../../api/calc/measured.ts';
import type { Formatter } from './format.ts';

/** Gold and silver of a test as a table shows them; an unparted bead gives only both together. */
export function gradeTexts(
  result: {
    goldGpt: Measured | null;
    silverGpt: Measured | null;
    goldPlusSilverGpt: Measured | null;
  },
  format: Formatter,
  none = 'not worked out',
): { gold: string; silver: string } {
  const { goldGpt, silverGpt, goldPlusSilverGpt } = result;
  const together =
    goldGpt === null && goldPlusSilverGpt !== null
      ? `with silver ${format.measuredQuantity('gradeGpt', goldPlusSilverGpt)}`
      : null;
  const text = (grade: Measured | null): string =>
    grade === null ? none : format.measuredQuantity('gradeGpt', grade);
  return { gold: together ?? text(goldGpt), silver: together === null ? text(silverGpt) : 'not parted' };
}

/** A finer ± than this, in percent, says more of the balance than of the smelt: it is not written out. */
const finestPlusMinusPercent = 0.1;

/** A fraction that was measured, in percent with its ±. */
export function percentMeasured(frac: Measured | null, format: Formatter, none = 'not worked out'): string {
  if (frac === null) return none;
  const percent = { value: 100 * frac.value, u: 100 * frac.u };
  return 2 * percent.u < finestPlusMinusPercent
    ? `${format.number(percent.value, 1)} %`
    : format.measured(percent, '%');
}

/** The same of several tests: their mean and the span from lowest to highest, or the single one with its ±. */
export function percentOfTests(
  smelts: readonly WorkedSmelt[],
  of: (smelt: WorkedSmelt) => Measured | null,
  format: Formatter,
): string {
  const found = smelts.map(of).filter((one): one is Measured => one !== null);
  if (found.length < 2) return percentMeasured(found[0] ?? null, format);
  const values = found.map(({ value }) => 100 * value);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return `${format.number(mean, 1)} % (${format.number(low, 1)} to ${format.number(high, 1)})`;
}

/** The tests that count. */
export const counted = (trial: WorkedTrial): WorkedSmelt[] =>
  trial.smelts.filter((smelt) => smelt.setAsideReason === null);

/** How many findings of a test want a look, in words; '' for none. */
export function warningsText(smelt: WorkedSmelt): string {
  const warnings = smelt.result.findings.filter(({ level }) => level === 'warning').length;
  return warnings === 0 ? '' : `${warnings} ${warnings === 1 ? 'warning' : 'warnings'}`;
}
