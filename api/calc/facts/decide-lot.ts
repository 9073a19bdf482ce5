import { decide, type Decision } from '../economics/decide.ts';
import type { DecideInput, MetalPrice } from '../economics/options.ts';
import type { LotDraws, Metal } from '../evidence/lot-evidence.ts';
import type { Finding } from '../finding.ts';
import { gramsPerTroyOunce } from '../units.ts';
import type { Assumptions } from './assumptions.ts';
import type { Blend } from './blend.ts';
import { workLot, type LotEvidence } from './lot-evidence.ts';
import { lotOptions } from './lot-options.ts';
import type { DecisionFacts } from './records.ts';
import { latestPricePer } from './terms-estimate.ts';
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

/** Nothing can be said while something that everything hangs on is missing. */
export function isBlocked({ findings, decision }: Pick<LotDecision, 'findings' | 'decision'>): boolean {
  return decision.options.length === 0 || findings.some((finding) => finding.level === 'blocker');
}

/** A decision still to be worked: the lot's draws, the options, the prices, and what is to be said of them. */
export interface LotQuestion {
  facts: DecisionFacts;
  assumptions: Assumptions;
  input: DecideInput;
  evidence: LotEvidence;
  findings: Finding[];
}

/** What is to be decided about a mass of a lot as of a day, from the records and the owner's what-if. */
export function lotQuestion(
  facts: DecisionFacts,
  assumptions: Assumptions,
  dryMassKg: number,
  worked?: LotEvidence,
  subject?: string,
): LotQuestion {
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
  const found = lotOptions(facts, assumptions, dryMassKg);
  return {
    facts,
    assumptions,
    evidence,
    findings: [...findings, ...found.findings],
    input: {
      lotDryMassKg: dryMassKg,
      draws: shifted(evidence.inference.draws, assumptions.goldRecoveryShiftFrac),
      options: found.options,
      prices,
      currency: facts.currency,
      seed: assumptions.seed,
      ...(subject === undefined ? {} : { subject }),
      ...(facts.units === undefined ? {} : { units: facts.units }),
    },
  };
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
  return decideQuestion(lotQuestion(facts, assumptions, dryMassKg, worked));
}

/** What is to be decided about a blend: the same as of a lot, with what it takes to say of the blend. */
export function blendQuestion(blend: Blend, assumptions: Assumptions): LotQuestion {
  const { facts, dryMassKg, evidence, subject } = blend;
  const question = lotQuestion(facts, assumptions, dryMassKg, evidence, subject);
  return { ...question, findings: [...blend.findings, ...question.findings] };
}

/** A question worked out. */
export function decideQuestion({ input, evidence, findings }: LotQuestion): LotDecision {
  return { decision: decide(input), evidence, prices: input.prices, findings };
}
