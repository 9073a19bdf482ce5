import { sumOf } from '../money.ts';
import { roundedText, roundingSentence } from '../rounding.ts';
import { checkTerms } from '../terms/check-terms.ts';
import { workAssays } from './assays.ts';
import { workMinimumCharges, workPerTonneTotal, workUmpireCosts } from './charge-totals.ts';
import { workCharges } from './charges.ts';
import { workCredits, workPenalties } from './components.ts';
import { checkInput } from './check-input.ts';
import type { SettlementInput } from './input.ts';
import { workRefining } from './payable-value.ts';
import { workPayables } from './payables.ts';
import { workRoyalties } from './royalties.ts';
import { blocker, startRun, type SettlementRun } from './run.ts';
import type { Settlement, SettlementSection } from './statement.ts';
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
  run.findings.push(...checkTerms(input.terms).map((f) => ({ ...f, path: `/terms${f.path}` })));
  run.findings.push(...checkInput(input));
  // Figures that are no numbers cannot be worked with at all; the rest is worked as far as it goes.
  if (!run.findings.some((finding) => finding.code === 'not-a-number')) {
    workWeights(run);
    workAssays(run);
    workPayables(run);
    workRefining(run);
    workCharges(run);
    workUmpireCosts(run);
    workMinimumCharges(run);
    workPenalties(run);
    workCredits(run);
    workPerTonneTotal(run);
    workRoyalties(run);
    if (!hasBlocker(run)) workTotals(run);
  }
  if (hasBlocker(run)) {
    run.lines = run.lines.filter((line) => line.section !== 'total');
    run.amounts = run.amounts.filter(({ section }) => section !== 'total');
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
    lines: SECTION_ORDER.flatMap((section) => run.lines.filter((line) => line.section === section)),
    total: roundedText(sumOf(run.amounts.map(({ amount }) => amount)), money),
    roundingRules: roundingRules(input),
    findings: run.findings,
  };
}

function hasBlocker(run: SettlementRun): boolean {
  return run.findings.some((finding) => finding.level === 'blocker');
}

/** The contract's rounding as sentences to print. */
function roundingRules({ terms }: SettlementInput): string[] {
  const { rounding, weights, assays, metals } = terms;
  return [
    `Masses in ${weights.unit} ${roundingSentence(rounding.mass)}.`,
    ...(weights.kind === 'dry' ? [`Moisture in percent ${roundingSentence(rounding.moisture)}.`] : []),
    ...assays.map((rule) => `Assay of ${rule.element} in ${rule.unit} ${roundingSentence(rule.rounding)}.`),
    `Payable grades ${roundingSentence(rounding.payableGrade)}.`,
    `Contained and payable metal ${roundingSentence(rounding.payableMetal)}.`,
    ...metals
      .filter((metal) => metal.rounding !== null)
      .map(
        (metal) =>
          `Contained and payable ${metal.metal} in ${metal.price.unit} ${roundingSentence(metal.rounding ?? rounding.payableMetal)}.`,
      ),
    `Prices ${roundingSentence(rounding.price)}.`,
    `Values per unit of mass ${roundingSentence(rounding.perTonneValue)}.`,
    `Money in ${terms.currency} ${roundingSentence(rounding.money)}.`,
  ];
}
