import { roundedText } from '../rounding.ts';
import { workAgreedItems } from './agreed-items.ts';
import { workAssays } from './assays.ts';
import { workMinimumCharges, workPerTonneTotal, workUmpireCosts } from './charge-totals.ts';
import { workCharges } from './charges.ts';
import { workCredits, workPenalties } from './components.ts';
import { checkInput } from './check-input.ts';
import type { SettlementInput } from './input.ts';
import { workRefining } from './payable-value.ts';
import { workPayables } from './payables.ts';
import { workRoyalties } from './royalties.ts';
import { preparedTerms } from './prepared-terms.ts';
import { amountsIn, blocker, startRun, type SettlementRun } from './run.ts';
import type { Settlement, SettlementLine, SettlementSection } from './statement.ts';
import { workTaxes } from './taxes.ts';
import { workTotals } from './totals.ts';
import { workWeights } from './weights.ts';

const SECTION_ORDER: SettlementSection[] = [
  'weights',
  'assays',
  'prices',
  'payable',
  'charges',
  'penalties',
  'credits',
  'royalties',
  'taxes',
  'previous',
  'total',
];

/**
 * Works a parcel out under its contract: gross → tare → wet → moisture → dry →
 * franchise → settlement mass; exchange of assays; payable metal × price; charges;
 * penalties; credits; royalties; what was paid before; total. Every figure is rounded
 * by the contract's rule before it is used, so that each line can be worked again from
 * the printed page, and the amounts add up to the total exactly. What is missing is a
 * blocker, its line is left out, and the statement must not be issued.
 */
export function settle(input: SettlementInput): Settlement {
  const run = startRun(input);
  const { findings, roundingRules } = preparedTerms(input.terms);
  for (const finding of findings) run.findings.push({ ...finding });
  run.findings.push(...checkInput(input));
  // Figures that are no numbers cannot be worked with at all; the rest is worked as far as it goes.
  if (!run.findings.some((finding) => finding.code === 'not-a-number')) {
    workWeights(run);
    workAssays(run);
    workPayables(run);
    workRefining(run);
    workCharges(run);
    workAgreedItems(run);
    workUmpireCosts(run);
    workMinimumCharges(run);
    workPenalties(run);
    workCredits(run);
    workPerTonneTotal(run);
    workRoyalties(run);
    workTaxes(run);
    if (!hasBlocker(run)) workTotals(run);
  }
  if (hasBlocker(run)) {
    run.lines = run.lines.filter((line) => line.section !== 'total');
    delete run.sums.total;
    blocker(
      run,
      'total-not-issued',
      '',
      'The settlement is not complete: no total is given until what is named here has been put right.',
    );
  }
  const money = input.terms.rounding.money;
  return {
    currency: input.terms.currency,
    moneyDecimals: money.decimals,
    lines: inOrder(run.lines),
    total: roundedText(amountsIn(run, ...SECTION_ORDER), money),
    roundingRules: [...roundingRules],
    findings: run.findings,
  };
}

/** The lines section by section, those of one section as they were written. */
function inOrder(lines: readonly SettlementLine[]): SettlementLine[] {
  const bySection = new Map<SettlementSection, SettlementLine[]>(
    SECTION_ORDER.map((section) => [section, []]),
  );
  for (const line of lines) bySection.get(line.section)?.push(line);
  return [...bySection.values()].flat();
}

function hasBlocker(run: SettlementRun): boolean {
  return run.findings.some((finding) => finding.level === 'blocker');
}
