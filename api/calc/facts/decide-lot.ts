import { decide, type Decision } from '../economics/decide.ts';
import type { DecisionOption, MetalPrice } from '../economics/options.ts';
import type { LotDraws, Metal } from '../evidence/lot-evidence.ts';
import type { Finding } from '../finding.ts';
import { gramsPerTroyOunce } from '../units.ts';
import type { Assumptions } from './assumptions.ts';
import { inHouseOption } from './in-house-option.ts';
import { workLot, type LotEvidence } from './lot-evidence.ts';
import type { DecisionFacts, TermsFacts, TreatmentFacts } from './records.ts';
import { refusals, saleOption } from './sale-option.ts';
import { latestPricePer, termsEstimate } from './terms-estimate.ts';
import { annualVolatilityFrac } from './volatility.ts';

/** Where there are too few quotations to tell: gold about 15 % a year, silver about 30 %. From memory. */
const USUAL_VOLATILITY: Record<Metal, number> = { Au: 0.15, Ag: 0.3 };

export interface LotDecision {
  decision: Decision;
  evidence: LotEvidence;
  /** The prices that were used, per troy ounce, and how much they may move in a year. */
  prices: Record<Metal, MetalPrice>;
  findings: Finding[];
}

function metalPrice(
  metal: Metal,
  facts: DecisionFacts,
  changed: { price: number | null; volatilityFrac: number | null },
  findings: Finding[],
): MetalPrice {
  const name = metal === 'Au' ? 'gold' : 'silver';
  const quoted = latestPricePer(facts.latestQuotations, {
    metal,
    currency: facts.currency,
    grams: gramsPerTroyOunce,
  });
  if (changed.price === null && quoted === null)
    findings.push({
      code: 'no-quotation',
      level: 'blocker',
      path: `/prices/${metal}`,
      sentence: `There is no quotation of ${name} in ${facts.currency} on or before ${facts.on}: enter one, or type a price here.`,
    });
  const history = facts.priceHistory.filter((one) => one.metal === metal);
  const seen = annualVolatilityFrac(history);
  if (changed.volatilityFrac === null && seen === null)
    findings.push({
      code: 'volatility-assumed',
      level: 'note',
      path: `/prices/${metal}`,
      sentence: `There are too few quotations of ${name} to see how much it moves: ${USUAL_VOLATILITY[metal] * 100} % a year is taken.`,
    });
  return {
    spot: changed.price ?? quoted ?? 0,
    annualVolatilityFrac: changed.volatilityFrac ?? seen ?? USUAL_VOLATILITY[metal],
  };
}

/** Recovery moved by the owner's what-if, kept within 0 and 1. */
function shifted(draws: LotDraws, goldShiftFrac: number): LotDraws {
  if (goldShiftFrac === 0) return draws;
  const recoveryFrac = Object.fromEntries(
    Object.entries(draws.recoveryFrac).map(([id, recovery]) => [
      id,
      { ...recovery, Au: recovery.Au.map((value) => Math.min(1, Math.max(0, value + goldShiftFrac))) },
    ]),
  );
  return { ...draws, recoveryFrac };
}

function leftOut(name: string, faults: string[]): Finding {
  return {
    code: 'option-not-usable',
    level: 'warning',
    path: '',
    sentence: `${name} is left out: ${[...new Set(faults)].join('; ')}.`,
  };
}

function optionsFor(
  facts: DecisionFacts,
  assumptions: Assumptions,
  dryMassKg: number,
  findings: Finding[],
): DecisionOption[] {
  const options: DecisionOption[] = [];
  const treatments = facts.treatments.filter((treatment) => !treatment.retired);
  const addInHouse = (treatment: TreatmentFacts, terms: TermsFacts): void => {
    const estimate = termsEstimate(terms, facts);
    const option =
      'faults' in estimate ? estimate : inHouseOption(treatment, terms, facts, assumptions, estimate);
    if ('faults' in option)
      findings.push(leftOut(`${treatment.name} with ${terms.counterpartyName}`, option.faults));
    else options.push(option);
  };
  const addSale = (terms: TermsFacts): void => {
    const estimate = termsEstimate(terms, facts);
    const reasons = 'faults' in estimate ? estimate.faults : refusals(terms, facts.lot, dryMassKg);
    if ('faults' in estimate || reasons.length > 0) {
      findings.push(leftOut(`The sale to ${terms.counterpartyName}`, reasons));
      return;
    }
    const { option, takenAsAbsent } = saleOption(terms, facts, assumptions, estimate);
    options.push(option);
    if (takenAsAbsent.length > 0)
      findings.push({
        code: 'element-not-assayed',
        level: 'warning',
        path: '',
        sentence: `${terms.counterpartyName} pays for or penalizes ${takenAsAbsent.join(', ')}, which neither an assay nor the minerals of this lot tell: taken as absent.`,
      });
  };
  for (const terms of facts.terms) {
    if (terms.body.direction !== 'we-sell') continue;
    if (terms.body.material === 'concentrate') addSale(terms);
    if (terms.body.material === 'dore') for (const treatment of treatments) addInHouse(treatment, terms);
  }
  if (options.length === 0)
    findings.push({
      code: 'nothing-to-compare',
      level: 'blocker',
      path: '',
      sentence:
        'There is nothing to compare yet: it takes a treatment with a refiner’s terms for doré, or a buyer’s terms for concentrate, in force on the day.',
    });
  return options;
}

/**
 * The decision about a mass of a lot as of a day: every treatment with every refiner and every sale, on the
 * same draws of grade and recovery, from the records and the owner's what-if. Same facts, same answer.
 */
export function decideLot(
  facts: DecisionFacts,
  assumptions: Assumptions,
  dryMassKg: number,
  worked?: LotEvidence,
): LotDecision {
  const evidence = worked ?? workLot(facts, assumptions);
  const findings: Finding[] = [];
  const prices = {
    Au: metalPrice(
      'Au',
      facts,
      { price: assumptions.goldPricePerOzt, volatilityFrac: assumptions.annualVolatilityGoldFrac },
      findings,
    ),
    Ag: metalPrice(
      'Ag',
      facts,
      { price: assumptions.silverPricePerOzt, volatilityFrac: assumptions.annualVolatilitySilverFrac },
      findings,
    ),
  };
  const options = optionsFor(facts, assumptions, dryMassKg, findings);
  const decision = decide({
    lotDryMassKg: dryMassKg,
    draws: shifted(evidence.inference.draws, assumptions.goldRecoveryShiftFrac),
    options,
    prices,
    currency: facts.currency,
    seed: assumptions.seed,
  });
  return { decision, evidence, prices, findings };
}
